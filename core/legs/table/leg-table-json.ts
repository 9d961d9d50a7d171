/**
 * The leg table for programs. A contract: fields may be added, never renamed. Lengths m, times s, angles °, shares 0–1;
 * an absent figure is null, with the reason in that leg's `notes`.
 */
import { formatMgrs } from "../../geodesy/mgrs.ts";
import type { MapInfo } from "../../map/metadata.ts";
import type { LonLat } from "../../units/position.ts";
import type {
  AimOffFigure,
  Backstop,
  DaylightFigure,
  DeclinationFigure,
  Handrail,
  LegFigures,
  Totals,
} from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";
import type { EscapeFigure, LegAdvice } from "../advice/advice.ts";
import type { RoutePart } from "../aids/handrail-route.ts";
import type { Hazard } from "../aids/hazards.ts";
import type { Instruction } from "../instruction.ts";
import type { Odds } from "../odds/simulate.ts";
import { instructionIn, type LegTable } from "./leg-table.ts";
import { elevationAt } from "../profile-height.ts";

export interface LegTableJson {
  readonly walk: {
    readonly title: string;
    readonly date: string;
    readonly points: readonly {
      readonly label: string;
      readonly lonLat: LonLat;
      readonly elevationM: number | null;
      readonly mgrs: string;
      /** What the point lies on; not worked out in this version. */
      readonly kind: null;
    }[];
  };
  readonly map: {
    readonly title: string;
    readonly source: string | null;
    readonly intervalM: number | null;
    readonly elevationFrom: "terrain" | "contours" | null;
    readonly invented: boolean;
    readonly attribution: string | null;
    readonly date: string | null;
  } | null;
  readonly declination: DeclinationFigure;
  readonly legs: readonly LegJson[];
  /** One bearing out from anywhere on the walk; null when none serves or it was not asked for. */
  readonly escape: Omit<EscapeFigure, "stretches"> | null;
  readonly totals: Totals;
  /** Local date and time with the offset from UTC, as every time here; null when not decided. */
  readonly start: string | null;
  readonly daylight: DaylightFigure | null;
  readonly turnBackBy: string | null;
  readonly timeZone: string;
  /** What the figures depend on besides the map. */
  readonly settings: LegSettings;
  /** About the walk as a whole. */
  readonly notes: readonly string[];
}

export type LegJson = Omit<
  LegFigures,
  "profile" | "handrails" | "backstop" | "secondBackstop" | "hazards" | "aimOff"
> & {
  /** Which heights this leg's figures rest on. */
  readonly elevationFrom: "terrain" | "contours" | null;
  readonly handrails: readonly Omit<Handrail, "stretches">[];
  readonly backstop: Omit<Backstop, "stretches"> | null;
  readonly secondBackstop: Omit<Backstop, "stretches"> | null;
  readonly hazards: readonly Omit<Hazard, "stretches">[];
  readonly aimOff: Omit<AimOffFigure, "stretches"> | null;
  readonly instruction: string;
  readonly instructionFrom: Instruction["from"];
  readonly instructionMayBeStale: boolean;
} & AdviceJson;

/** What was worked out by simulated walkers and with a wider view; all null when it was not asked for. */
export interface AdviceJson {
  readonly odds: Odds | null;
  readonly better: readonly { readonly change: string; readonly odds: Odds; readonly words: string }[] | null;
  readonly escape: Omit<EscapeFigure, "stretches"> | null;
  readonly alongLines: {
    readonly distanceM: number;
    readonly climbM: number | null;
    readonly descentM: number | null;
    readonly timeS: number | null;
    readonly unaidedM: number;
    readonly odds: Odds | null;
    readonly parts: readonly Omit<RoutePart, "coords">[];
    readonly why: string;
  } | null;
}

const round = (value: number, decimals: number): number => {
  const factor = 10 ** decimals;
  return Math.round(value * factor) / factor + 0;
};

/** Digits kept, by the unit a name ends in: well within what the figures are held to, without noise digits. */
const DECIMALS: readonly (readonly [ending: string, decimals: number])[] = [
  ["Deg", 6],
  ["M", 4],
  ["S", 2],
  ["Years", 2],
  ["Share", 4],
  ["coverage", 4],
];

/** A record with every figure rounded by the unit in its name and the named members left out; positions stay as they are. */
function rounded<T extends object, K extends keyof T = never>(record: T, ...leftOut: K[]): Omit<T, K> {
  const entries = Object.entries(record)
    .filter(([name]) => !leftOut.some((key) => key === name))
    .map(([name, value]: [string, unknown]) => {
      const rule = DECIMALS.find(([ending]) => name.endsWith(ending));
      if (typeof value !== "number" || !rule) return [name, value];
      // Rounding may bring a bearing up to 360, which is 0.
      return [name, /bearing/i.test(name) ? round(value, rule[1]) % 360 : round(value, rule[1])];
    });
  return Object.fromEntries(entries) as Omit<T, K>;
}

/** The contract's object; `JSON.stringify` of it is the output. */
export function legTableJson(table: LegTable): LegTableJson {
  const { title, date, points, figures, map, settings } = table;
  const { legs, totals, declination } = figures;
  return {
    walk: {
      title,
      date,
      points: points.map(({ label, lonLat }, i) => ({
        label,
        lonLat,
        elevationM: pointElevation(legs, i),
        mgrs: formatMgrs(lonLat),
        kind: null,
      })),
    },
    map: map && mapJson(map, legs),
    declination: {
      ...rounded(declination),
      deg: declination.deg === null ? null : round(declination.deg, 6),
    },
    legs: legs.map((leg) => legJson(leg, table)),
    escape: table.advice?.escape ? rounded(table.advice.escape, "stretches") : null,
    totals: rounded(totals),
    start: figures.start,
    daylight: figures.daylight && rounded(figures.daylight),
    turnBackBy: figures.turnBackBy,
    timeZone: figures.timeZone,
    settings,
    notes: [
      ...figures.notes,
      // People who set no time look for no arrival; a program is told why there is none.
      ...(figures.start === null ? ["The walk has no time of setting out, so there are no arrivals."] : []),
    ],
  };
}

/** The output as text, ending in a line end. */
export const legTableJsonText = (table: LegTable): string =>
  `${JSON.stringify(legTableJson(table), null, 2)}\n`;

function mapJson(
  { title, source, interval, invented, attribution, date }: MapInfo,
  legs: readonly LegFigures[],
): LegTableJson["map"] {
  const from = (wanted: "terrain" | "contours"): boolean =>
    legs.some(({ profile }) => profile.from === wanted);
  return {
    title,
    source,
    intervalM: interval ? round(interval.value * (interval.unit === "ft" ? 0.3048 : 1), 4) : null,
    elevationFrom: from("terrain") ? "terrain" : from("contours") ? "contours" : null,
    invented,
    attribution,
    date,
  };
}

function legJson(leg: LegFigures, table: LegTable): LegJson {
  const { text, from, mayBeStale } = instructionIn(table, leg);
  const advice = table.advice?.legs[leg.n - 1];
  return {
    ...rounded(leg, "profile", "handrails", "backstop", "secondBackstop", "hazards", "aimOff"),
    elevationFrom: leg.profile.from,
    crossings: leg.crossings.map((crossing) => rounded(crossing)),
    landforms: leg.landforms.map((landform) => rounded(landform)),
    sight: rounded(leg.sight),
    blind: leg.blind.map((stretch) => rounded(stretch)),
    onTheWay: leg.onTheWay.map((step) => rounded(step)),
    handrails: leg.handrails.map((handrail) => rounded(handrail, "stretches")),
    backstop: leg.backstop && rounded(leg.backstop, "stretches"),
    secondBackstop: leg.secondBackstop && rounded(leg.secondBackstop, "stretches"),
    attackPoints: leg.attackPoints.map((point) => rounded(point)),
    aimOff: leg.aimOff && rounded(leg.aimOff, "stretches"),
    hazards: leg.hazards.map((hazard) => rounded(hazard, "stretches")),
    steering: rounded(leg.steering),
    tickMarks: leg.tickMarks.map((mark) => rounded(mark)),
    instruction: text,
    instructionFrom: from,
    instructionMayBeStale: mayBeStale,
    ...adviceJson(advice),
    notes: [
      ...leg.notes,
      ...(advice ? advice.notes : ["Odds, what would help and the way out were not asked for."]),
      ...leg.hazardNotes,
      // Said once for all legs on paper; a program looks beside each absent figure.
      ...(leg.landformsReason === null ? [] : [leg.landformsReason]),
      ...(leg.sight.reason === null ? [] : [leg.sight.reason]),
    ],
  };
}

function adviceJson(advice: LegAdvice | undefined): AdviceJson {
  if (!advice) return { odds: null, better: null, escape: null, alongLines: null };
  const { odds, better, escape, route } = advice;
  return {
    odds,
    better: better.map(({ change, odds: after, words }) => ({ change, odds: after, words })),
    escape: escape && rounded(escape, "stretches"),
    alongLines: route && {
      ...rounded(route, "parts"),
      parts: route.parts.map((part) => rounded(part, "coords")),
    },
  };
}

/** Height of the n-th point: the start of the leg that leaves it, else the end of the one that comes to it. */
function pointElevation(legs: readonly LegFigures[], n: number): number | null {
  const leaving = legs[n];
  const height = leaving ? elevationAt(leaving.profile, 0) : null;
  const coming = legs[n - 1];
  const other = height ?? (coming ? elevationAt(coming.profile, coming.distanceM) : null);
  return other === null ? null : round(other, 2);
}
