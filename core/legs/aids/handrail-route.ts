/**
 * A handrail route: a longer way along lines instead of the straight leg, when far less of it is without anything to
 * follow. Straight to a line, along lines that meet, off at the best place, and straight to the target.
 * Source of the practice: US Army FM 3-21.8, navigation aids (handrails); when it pays is common practice, no source.
 */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { LengthUnit } from "../../units/format.ts";
import { type Bbox, bboxOf, type LonLat } from "../../units/position.ts";
import type { Handrail } from "../line-aids.ts";
import type { LegSettings } from "../leg-settings.ts";
import { lengthInNote } from "../leg-words.ts";
import { followedSurely, kindAndName } from "../line-kinds.ts";
import { apartM, type St } from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";
import { barsIn, routeGraph } from "./handrail-route-graph.ts";
import { heightsAlong, type Part, partsOf, routePart, type RoutePart } from "./handrail-route-parts.ts";
import { cheapestWay } from "./handrail-route-search.ts";
import type { Window } from "./line-meetings.ts";

export type { RoutePart, RouteStop } from "./handrail-route-parts.ts";

export interface HandrailRoute {
  readonly parts: readonly RoutePart[];
  readonly distanceM: number;
  /** Null when heights are not known all the way. */
  readonly climbM: number | null;
  readonly descentM: number | null;
  /** Metres without a line to follow: in all, and in one stretch. */
  readonly unaidedM: number;
  readonly longestUnaidedM: number;
  /** The same on the straight leg, with its handrails. */
  readonly straightUnaidedM: number;
  readonly why: string;
}

export interface RouteFinding {
  readonly route: HandrailRoute | null;
  /** Why there is none, a sentence; null when there is one. */
  readonly reason: string | null;
}

export interface RouteInput {
  readonly frame: LegFrame;
  /** Every line within `routeBox`. */
  readonly lines: readonly FramedLine[];
  readonly handrails?: readonly Handrail[];
  readonly heightAt?: ((lonLat: LonLat) => number) | null;
}

export type RouteSettings = Pick<LegSettings, "driftDeg" | "backstopReachM"> & {
  readonly lengthUnit?: LengthUnit;
  /** At most so many times the straight leg; 2 when not said. */
  readonly mostTimes?: number;
  /** Reversals of the ground smaller than this are not climbed, metres; 1 when null or not said. */
  readonly climbThresholdM?: number | null;
};

/** Without a line for at most this share of what the straight leg has; else it is no safer. */
const MUCH_LESS = 0.5;
/** A straight leg with less than this without a line needs no other way, share and metres. */
const ENOUGH_SHARE = 0.25;
const ENOUGH_M = 150;
/** Handrails less sure than this are not counted on. */
const SURE = 0.7;
/** Each metre farther has to save as much without a line, or nearly. No source. */
const WORTH = 1.2;
/** What a stretch without a line costs, tried in turn until the way is short enough. */
const TRIES = [1, 0.5, 0.25];

function windowOf(lengthM: number): Window {
  const aside = Math.min(0.6 * lengthM, 1000);
  const beyond = Math.min(0.3 * lengthM, 400);
  return { minS: -beyond, maxS: lengthM + beyond, minT: -aside, maxT: aside };
}

/** The box whose lines have to be given. */
export function routeBox(frame: LegFrame): Bbox {
  const { minS, maxS, minT, maxT } = windowOf(frame.lengthM);
  const corners = [minS, maxS].flatMap((s) => [minT, maxT].map((t) => frame.toLonLat(s, t)));
  return bboxOf(corners) as Bbox;
}

/** The safer way along lines, if there is one. */
export function handrailRouteOf(
  { frame, lines, handrails = [], heightAt = null }: RouteInput,
  settings: RouteSettings,
): RouteFinding {
  const { lengthM } = frame;
  const { mostTimes = 2, lengthUnit: unit = "metric" } = settings;
  const none = (reason: string): RouteFinding => ({ route: null, reason });
  if (frame.bearing === null) return none("The leg has no length.");
  const straightUnaidedM = lengthM - coveredM(handrails);
  if (straightUnaidedM < ENOUGH_M || straightUnaidedM < ENOUGH_SHARE * lengthM)
    return none(
      `The straight leg is safe enough: only ${lengthInNote(straightUnaidedM, unit)} of it are without a line to follow.`,
    );
  const [start, target]: [St, St] = [
    { s: 0, t: 0 },
    { s: lengthM, t: 0 },
  ];
  const mostM = mostTimes * lengthM;
  const window = windowOf(lengthM);
  const bars = barsIn(lines, window);
  const vertices = routeGraph(
    lines,
    bars,
    window,
    Math.max(25, lengthM / 40),
    [start, target],
    (at) => apartM(at, start) + apartM(at, target) <= mostM,
  );
  if (vertices.length === 0) return none("Near the leg the map shows no line to follow.");
  const height = heightAt && ((at: St) => heightAt(frame.toLonLat(at.s, at.t)));
  let longer = false;
  for (const unaided of TRIES) {
    const steps = cheapestWay({ start, target, vertices, bars, heightAt: height, unaided });
    if (!steps) return none("No line near the leg can be reached and followed towards the target.");
    const parts = partsOf(steps);
    const distanceM = parts.reduce((sum, { distanceM: m }) => sum + m, 0);
    const bare = parts.filter(({ line }) => line === null).map(({ distanceM: m }) => m);
    const unaidedM = bare.reduce((sum, m) => sum + m, 0);
    if (distanceM > mostM || distanceM - lengthM > WORTH * (straightUnaidedM - unaidedM)) {
      longer ||= unaidedM <= MUCH_LESS * straightUnaidedM;
      continue;
    }
    if (unaidedM > MUCH_LESS * straightUnaidedM) break;
    return {
      reason: null,
      route: {
        parts: parts.map((part) => routePart(part, frame, lines, settings)),
        distanceM,
        ...heightsAlong(parts, height, settings.climbThresholdM ?? 1),
        unaidedM,
        longestUnaidedM: Math.max(0, ...bare),
        straightUnaidedM,
        why: whyRoute(
          parts,
          { distanceM, unaidedM, longestM: Math.max(0, ...bare), straightUnaidedM, lengthM },
          unit,
        ),
      },
    };
  }
  return none(
    longer
      ? "Along lines the way is so much longer that it is not worth it."
      : `No way along lines leaves much less than the ${lengthInNote(straightUnaidedM, unit)} that the straight leg has without one.`,
  );
}

/** Metres of the leg beside handrails that are followed surely. */
function coveredM(handrails: readonly Handrail[]): number {
  let [covered, reached] = [0, 0];
  for (const { fromM, toM } of handrails
    .filter(({ kind }) => followedSurely(kind) >= SURE)
    .sort((a, b) => a.fromM - b.fromM)) {
    covered += Math.max(0, toM - Math.max(fromM, reached));
    reached = Math.max(reached, toM);
  }
  return covered;
}

function whyRoute(
  parts: readonly Part[],
  m: {
    readonly distanceM: number;
    readonly unaidedM: number;
    readonly longestM: number;
    readonly straightUnaidedM: number;
    readonly lengthM: number;
  },
  unit: LengthUnit,
): string {
  const followed = [
    ...new Set(parts.flatMap(({ line }) => (line ? [kindAndName(line.line.kind, line.line.name)] : []))),
  ];
  const list =
    followed.length > 1 ? `${followed.slice(0, -1).join(", ")} and ${followed.at(-1)}` : (followed[0] ?? "");
  const more = Math.round((m.distanceM / m.lengthM - 1) * 100);
  const bare =
    m.unaidedM < 1
      ? "there is a line to follow all the way"
      : `only ${lengthInNote(m.unaidedM, unit)} are without a line to follow, the longest stretch ${lengthInNote(m.longestM, unit)}`;
  return `Along the ${list} ${bare}; straight it is ${lengthInNote(m.straightUnaidedM, unit)}. It is ${lengthInNote(m.distanceM, unit)}, ${more} % farther.`;
}
