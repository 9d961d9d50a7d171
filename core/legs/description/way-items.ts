/** What of a leg is worth a sentence, and what matters most when there is too much. */
import type { BlindStretch } from "../../map/blind-along.ts";
import type { Kind } from "../../map/kinds.ts";
import type { LegLandform } from "../../terrain/landforms/landforms-along.ts";
import type { Crossing, LegFigures } from "../figures.ts";
import { AT_END_M } from "../leg-words.ts";
import { type Trend, trendsOf } from "./trends.ts";

/** Something to be told, from `atM` to `toM`; `trend` is how the ground runs on from there, where that changes. */
export type WayItem = { readonly atM: number; readonly toM: number; readonly weight: number } & (
  | { readonly is: "line"; readonly crossing: Crossing; readonly trend: Turn | null }
  /** Water or closed ground the straight leg lies in. */
  | { readonly is: "inside"; readonly crossing: Crossing; readonly trend: null }
  | { readonly is: "form"; readonly form: LegLandform; readonly trend: Turn | null }
  | { readonly is: "along"; readonly form: LegLandform; readonly trend: null }
  | { readonly is: "blind"; readonly stretch: BlindStretch; readonly trend: null }
  | { readonly is: "slope"; readonly trend: Turn }
);

/** A change in how the ground runs: from `before` to `after`, which may follow a crest or a trough. */
export interface Turn {
  readonly before: Trend | null;
  readonly after: Trend;
  readonly along: LegLandform | null;
}

/** How much each kind tells a walker where he is. Common practice, no source for the figures. */
const WEIGHTS: Partial<Record<Kind, number>> = {
  road: 90,
  rail: 95,
  river: 95,
  shore: 90,
  stream: 80,
  wall: 80,
  path: 76,
  woodEdge: 74,
  fence: 70,
  powerLine: 74,
  cliff: 100,
  wetland: 65,
  boundary: 20,
  restricted: 90,
  ridge: 62,
  valley: 62,
  spur: 55,
  draw: 55,
};
const FORM_WEIGHTS: Partial<Record<Kind, number>> = { hill: 85, saddle: 78, depression: 66, cliff: 100 };
const MUST = 100;
/** The last line before the target is what it is found from. */
const LAST_BONUS = 40;
const LAST_WITHIN_M = 250;
/** A change of slope so near something else is told with it, metres. No source. */
const WITH_M = 35;
/** A ridge line so near a summit or saddle is the crest it lies on, metres. No source. */
const SAME_PLACE_M = 60;
const UNSEEN: ReadonlySet<Kind> = new Set<Kind>(["contour", "rise", "drop", "steep"]);
/** The shape of the ground, with no line to be seen. */
export const GROUND: ReadonlySet<Kind> = new Set<Kind>(["ridge", "valley", "spur", "draw"]);
const CREST: ReadonlySet<Kind> = new Set<Kind>(["ridge", "spur"]);
const WATERS: ReadonlySet<Kind> = new Set<Kind>(["stream", "river"]);
const HIDDEN = /under the ground|in a tunnel/;

/** So near a crest, trough or saddle a place is on it, metres. No source. */
const ON_CREST_M = 20;

/** Whether an end of a leg lies on a crest or in a trough that is followed, on a top, in a saddle: it is said with the end. */
export function liesAt(
  { kind, way, fromM, toM, atM }: LegLandform,
  placeM: number,
  lengthM: number,
): boolean {
  if (kind === "cliff") return false;
  if (way === "along" || kind === "hill" || kind === "depression")
    return placeM === 0 ? fromM <= AT_END_M : toM >= lengthM - AT_END_M;
  return Math.abs(atM - placeM) <= ON_CREST_M;
}

/** The first piece of ground, and everything after it that may be told, in order. */
export function wayItems(leg: LegFigures): {
  readonly start: Turn | null;
  readonly items: readonly WayItem[];
} {
  const trends = trendsOf(leg.profile);
  const alongs = leg.landforms.filter(({ way }) => way === "along");
  const turns = trends.map((after, i): Turn => {
    const before = trends[i - 1];
    return { before: before?.toM === after.fromM ? before : null, after, along: alongOf(after, alongs) };
  });
  const start = turns[0]?.after.fromM === 0 ? turns[0] : null;
  const items = [...lineItems(leg), ...formItems(leg), ...blindItems(leg)];
  for (const turn of turns) if (turn !== start) addTurn(items, turn);
  const told = new Set([start, ...turns].map((turn) => turn?.along));
  for (const form of alongs)
    if (!told.has(form))
      items.push({ is: "along", form, atM: form.fromM, toM: form.toM, weight: 45, trend: null });
  return { start, items: items.sort((a, b) => a.atM - b.atM) };
}

/** The crest or trough a piece of ground mostly follows. */
function alongOf({ fromM, toM }: Trend, alongs: readonly LegLandform[]): LegLandform | null {
  const shared = (form: LegLandform): number => Math.min(toM, form.toM) - Math.max(fromM, form.fromM);
  const best = alongs.toSorted((a, b) => shared(b) - shared(a))[0];
  return best && shared(best) >= 0.6 * (toM - fromM) ? best : null;
}

function lineItems({ crossings, landforms, distanceM }: LegFigures): WayItem[] {
  const seen = crossings.filter(
    ({ kind, atM, detail }) =>
      !UNSEEN.has(kind) &&
      atM >= AT_END_M &&
      atM <= distanceM - AT_END_M &&
      // The crest or trough an end lies on is said with it.
      !(GROUND.has(kind) && (atM <= ON_CREST_M || atM >= distanceM - ON_CREST_M)) &&
      !(detail !== null && HIDDEN.test(detail)) &&
      // Who walks along a crest or a trough crosses its line unnoticed.
      !(
        GROUND.has(kind) &&
        landforms.some(
          (l) => l.way === "along" && CREST.has(kind) === CREST.has(l.kind) && atM >= l.fromM && atM <= l.toM,
        )
      ) &&
      !(
        CREST.has(kind) &&
        landforms.some(
          (l) =>
            (l.kind === "saddle" || l.kind === "hill") &&
            atM >= Math.min(l.fromM, l.atM - SAME_PLACE_M) &&
            atM <= Math.max(l.toM, l.atM + SAME_PLACE_M),
        )
      ),
  );
  const last = seen.findLast(({ kind }) => (WEIGHTS[kind] ?? 0) >= 70);
  return seen.flatMap((crossing): WayItem[] => {
    const { kind, atM, enters } = crossing;
    if (enters !== null && (kind === "shore" || kind === "restricted")) {
      if (!enters) return [];
      const out = crossings.find(
        (c) => c.kind === kind && c.name === crossing.name && c.enters === false && c.atM > atM,
      );
      return [{ is: "inside", crossing, atM, toM: out?.atM ?? distanceM, weight: MUST, trend: null }];
    }
    const bonus = crossing === last && distanceM - atM <= LAST_WITHIN_M ? LAST_BONUS : 0;
    const named = crossing.name === null ? 0 : 4;
    return [
      { is: "line", crossing, atM, toM: atM, weight: (WEIGHTS[kind] ?? 30) + bonus + named, trend: null },
    ];
  });
}

function formItems({ landforms, crossings, distanceM }: LegFigures): WayItem[] {
  return landforms.flatMap((form): WayItem[] => {
    const weight = FORM_WEIGHTS[form.kind];
    if (form.way !== "across" || weight === undefined) return [];
    const cliff = form.kind === "cliff";
    if (cliff && crossings.some((c) => c.kind === "cliff" && Math.abs(c.atM - form.atM) <= SAME_PLACE_M))
      return [];
    // Water that runs through drains it: what the terrain shows is a narrow place too fine for it.
    if (
      form.kind === "depression" &&
      crossings.some((c) => WATERS.has(c.kind) && c.atM >= form.fromM && c.atM <= form.toM)
    )
      return [];
    if (liesAt(form, 0, distanceM) || liesAt(form, distanceM, distanceM)) return [];
    return [{ is: "form", form, atM: form.atM, toM: cliff ? form.toM : form.atM, weight, trend: null }];
  });
}

const blindItems = ({ blind }: LegFigures): WayItem[] =>
  blind.map((stretch) => ({
    is: "blind",
    stretch,
    atM: stretch.fromM,
    toM: stretch.toM,
    weight: MUST,
    trend: null,
  }));

/** A change of slope goes with the line or landform it lies at, else it stands for itself. */
function addTurn(items: WayItem[], turn: Turn): void {
  const { fromM, slopeDeg } = turn.after;
  const changeDeg = Math.abs(slopeDeg - (turn.before?.slopeDeg ?? slopeDeg));
  let best = -1;
  items.forEach((item, i) => {
    if ((item.is !== "line" && item.is !== "form") || item.trend) return;
    const off = Math.abs(item.atM - fromM);
    if (off <= WITH_M && (best < 0 || off < Math.abs((items[best] as WayItem).atM - fromM))) best = i;
  });
  const item = items[best];
  if (item && (item.is === "line" || item.is === "form"))
    items[best] = { ...item, trend: turn, weight: item.weight + 15 };
  else
    items.push({
      is: "slope",
      trend: turn,
      atM: fromM,
      toM: turn.after.toM,
      weight: 40 + Math.min(35, 2 * changeDeg),
    });
}

/** Items between start and end: so many, and one more for every so many metres. No source. */
const FEWEST = 3;
const PER_M = 120;
const MOST = 9;
/** Of two so near one another, metres, the lesser is told only when there is room. */
const NEAR_M = 40;

/** The items that matter most, in order: few enough to be remembered, spread over the leg, dangers always. */
export function chosenItems(items: readonly WayItem[], lengthM: number): WayItem[] {
  const room = Math.min(MOST, FEWEST + Math.floor(lengthM / PER_M));
  const taken: WayItem[] = [];
  const left = [...items];
  while (left.length > 0 && taken.length < MOST) {
    const worth = (item: WayItem): number =>
      item.weight - 25 * taken.filter((t) => Math.abs(t.atM - item.atM) < NEAR_M).length;
    const best = left.reduce((a, b) => (worth(b) > worth(a) ? b : a));
    if (taken.length >= room && best.weight < MUST) break;
    taken.push(best);
    left.splice(left.indexOf(best), 1);
  }
  return taken.sort((a, b) => a.atM - b.atM);
}
