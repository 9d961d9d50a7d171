/**
 * Heights along a leg from contours alone. Where the leg crosses a contour its height is known. From one contour to
 * the next of another level the ground slopes evenly. Between two crossings of one level it bulges, up or down as the
 * order of the levels tells, by less than an interval; before the first and after the last crossing it is held by the
 * contours near by. Nothing is said where the contours leave open on which side of a contour the ground lies.
 */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import { crossingsOf, type LineCrossing } from "../map/crossings.ts";
import type { LineFeature, MapFeatures } from "../map/features.ts";
import type { Kind } from "../map/kinds.ts";
import { type Bbox, bboxOf, growBbox } from "../units/position.ts";
import {
  type Band,
  bandFrom,
  heightInBand,
  lookAround,
  type SpotInFrame,
  type Surroundings,
} from "./contour-band.ts";
import { type Estimate, errorsAt, type Reading } from "./contour-error.ts";
import { FramedContours } from "./framed-contours.ts";
import { monotoneCurve } from "./monotone-curve.ts";
import { blindStretches, type Profile } from "./profile.ts";
import { seeingStretches } from "./seeing-stretches.ts";

/** How far beside a leg contours are read, metres: on gentle ground the next one may be that far. */
export const CONTOUR_SEARCH_M = 1000;
/** How far they are looked for, as far as they have been read: farther only when what is nearer does not tell. */
const REACHES_M = [120, 500, 2000];

const CONTOURS: ReadonlySet<Kind> = new Set<Kind>(["contour"]);
const HEIGHTS: ReadonlySet<Kind> = new Set<Kind>(["spotHeight", "peak"]);
const METRES_PER_FOOT = 0.3048;
/** Drawn this close, a curve looks smooth; also the most samples a profile has. */
const STEP_M = 10;
const MOST_STEPS = 4096;
/** A bulge or an end is looked at this often: heights beside the leg change over some hundred metres. */
const LOOK_EVERY_M = 150;
const MOST_LOOKS = 6;

/** The profile of a leg; all blind when there are no contours to tell. */
export function contourProfile(map: MapFeatures, frame: LegFrame): Profile {
  const found = surroundings(map, frame);
  const steps = Math.max(1, Math.min(MOST_STEPS, Math.ceil(frame.lengthM / STEP_M)));
  const grid = Array.from({ length: frame.lengthM > 0 ? steps + 1 : 1 }, (_, i) =>
    i === steps ? frame.lengthM : (frame.lengthM * i) / steps,
  );
  const knots: Reading[] = [];
  if (found) {
    const crossings = crossingsOf(frame, found.lines);
    for (const { fromM, toM } of seeingStretches(map, frame))
      knots.push(...heightsBetween(crossings, fromM, toM, grid, found));
  }
  const known = new Map(knots.map((k) => [k.atM, k]));
  const distanceM = Float64Array.from(new Set([...grid, ...known.keys()])).sort();
  const elevationM = distanceM.map((d) => known.get(d)?.heightM ?? Number.NaN);
  return {
    from: known.size > 0 ? "contours" : null,
    distanceM,
    elevationM,
    errorM: known.size > 0 && found ? found.intervalM / 2 : null,
    errorsM: known.size > 0 ? distanceM.map((d) => known.get(d)?.errorM ?? Number.NaN) : null,
    blind: blindStretches(distanceM, elevationM),
  };
}

interface Found {
  /** Contours that may cross the leg. */
  readonly lines: readonly LineFeature[];
  readonly intervalM: number;
  /** What lies near, what lies farther … each laid out when first asked for. */
  readonly around: readonly (() => Surroundings)[];
}

function surroundings(map: MapFeatures, frame: LegFrame): Found | null {
  const leg = bboxOf([frame.from, frame.to]) as Bbox;
  if (!map.isPrepared(leg)) return null;
  const contoursIn = (box: Bbox): LineFeature[] =>
    map.lines(box, CONTOURS).filter((line) => Number.isFinite(line.elevationM));
  const readM = [0, CONTOUR_SEARCH_M, ...REACHES_M].filter((reach) => map.isPrepared(growBbox(leg, reach)));
  const farthestM = Math.max(...readM);
  const { interval } = map.info;
  const intervalM = interval
    ? interval.value * (interval.unit === "ft" ? METRES_PER_FOOT : 1)
    : smallestStep(contoursIn(growBbox(leg, farthestM)).map((c) => c.elevationM));
  if (!(intervalM < Infinity)) return null;
  const reaches = new Set([...REACHES_M, farthestM].filter((reach) => reach <= farthestM));
  return {
    lines: contoursIn(growBbox(leg, Math.min(farthestM, 1))),
    intervalM,
    around: Array.from(reaches, (reachM) => {
      let laidOut: Surroundings | undefined;
      const box = growBbox(leg, reachM);
      return () =>
        (laidOut ??= {
          contours: new FramedContours(frame, contoursIn(box), reachM),
          spots: spotsIn(map, box, frame),
          intervalM,
          reachM,
        });
    }),
  };
}

function spotsIn(map: MapFeatures, box: Bbox, frame: LegFrame): SpotInFrame[] {
  return map.points(box, HEIGHTS).flatMap(({ lonLat, elevationM }) => {
    const [s, t] = frame.toFrame(lonLat);
    return Number.isFinite(elevationM) ? [{ s, t, levelM: elevationM }] : [];
  });
}

/** The interval of a map that does not say it: the smallest difference between two levels. */
function smallestStep(levels: readonly number[]): number {
  const sorted = Float64Array.from(new Set(levels)).sort();
  let smallest = Infinity;
  for (let i = 1; i < sorted.length; i++)
    smallest = Math.min(smallest, (sorted[i] as number) - (sorted[i - 1] as number));
  return smallest;
}

/** Heights on one stretch that the map can see, at the grid's distances and at every crossing; NaN where left open. */
function heightsBetween(
  all: readonly LineCrossing[],
  fromM: number,
  toM: number,
  grid: readonly number[],
  found: Found,
): Reading[] {
  const crossings = all.filter((c) => c.atM >= fromM && c.atM <= toM);
  const rising = directions(crossings.map((c) => c.line.elevationM));
  const knots = new Map<number, Estimate>();
  const open: { readonly fromM: number; readonly toM: number }[] = [];
  for (const c of crossings) knots.set(c.atM, { heightM: c.line.elevationM, errorM: 0 });
  for (let i = 0; i <= crossings.length; i++) {
    const before = crossings[i - 1];
    const after = crossings[i];
    if (before && after && before.line.elevationM !== after.line.elevationM) continue;
    const [a, b] = [before?.atM ?? fromM, after?.atM ?? toM];
    const places = looks(a, b, !before, !after);
    // No contour is crossed between the places: what one of them finds holds for all.
    const band =
      bandBeside(before, after, rising[i - 1], rising[i], found.intervalM) ?? firstBand(places, found);
    if (!band) open.push({ fromM: a, toM: b });
    else for (const d of places) if (!knots.has(d)) knots.set(d, heightAt(d, band, found));
  }
  if (knots.size === 0) return [];
  const ordered = Array.from(knots, ([atM, estimate]) => ({ atM, ...estimate })).sort(
    (p, q) => p.atM - q.atM,
  );
  const inOpen = (d: number): boolean => open.some((o) => d >= o.fromM && d <= o.toM);
  const wanted = new Set([...grid.filter((d) => d >= fromM && d <= toM && !inOpen(d)), ...knots.keys()]);
  const at = [...wanted].sort((p, q) => p - q);
  const curve = monotoneCurve(ordered, at);
  const errors = errorsAt(ordered, at);
  const readings = at.map((atM, i) => ({
    atM,
    heightM: curve[i] as number,
    errorM: errors[i] as number,
  }));
  const none = { heightM: Number.NaN, errorM: Number.NaN };
  return [...readings, ...open.map((o) => ({ atM: (o.fromM + o.toM) / 2, ...none }))];
}

/**
 * Whether the leg goes up (1) or down (−1) through each of its crossings; 0 where the levels do not tell.
 * A contour is always crossed from one side to the other, so that between two crossings of one level up follows down.
 */
export function directions(levels: readonly number[]): (-1 | 0 | 1)[] {
  const rising: (-1 | 0 | 1)[] = levels.map((level, i) => {
    const next = levels[i + 1];
    const last = levels[i - 1];
    if (next !== undefined && next !== level) return next > level ? 1 : -1;
    return last !== undefined && last !== level ? (level > last ? 1 : -1) : 0;
  });
  for (let i = 1; i < levels.length; i++)
    if (rising[i] === 0 && levels[i] === levels[i - 1]) rising[i] = flip(rising[i - 1]);
  for (let i = levels.length - 2; i >= 0; i--)
    if (rising[i] === 0 && levels[i] === levels[i + 1]) rising[i] = flip(rising[i + 1]);
  return rising;
}

const flip = (d: -1 | 0 | 1 | undefined): -1 | 0 | 1 => (d === 1 ? -1 : d === -1 ? 1 : 0);

/** The band between two crossings of one level, or before the first or after the last; null when not told by the leg. */
function bandBeside(
  before: LineCrossing | undefined,
  after: LineCrossing | undefined,
  risingBefore: -1 | 0 | 1 | undefined,
  risingAfter: -1 | 0 | 1 | undefined,
  intervalM: number,
): Band | null {
  const [crossing, above] = before ? [before, risingBefore] : [after, flip(risingAfter)];
  if (!crossing || !above) return null;
  const level = crossing.line.elevationM;
  return above > 0 ? { lowM: level, highM: level + intervalM } : { lowM: level - intervalM, highM: level };
}

/** Where a stretch is looked at: evenly inside, and at an end that is no crossing. */
function looks(fromM: number, toM: number, start: boolean, end: boolean): number[] {
  const inside = Math.max(1, Math.min(MOST_LOOKS, Math.round((toM - fromM) / LOOK_EVERY_M)));
  const at = Array.from({ length: inside }, (_, i) => fromM + ((toM - fromM) * (i + 1)) / (inside + 1));
  if (start) at.unshift(fromM);
  if (end) at.push(toM);
  return [...new Set(at)];
}

/** The band of the first place that can tell, looking near by first. */
function firstBand(places: readonly number[], { around }: Found): Band | null {
  for (const here of around)
    for (const d of places) {
      const band = bandFrom(d, lookAround(d, here()), here());
      if (band) return band;
    }
  return null;
}

function heightAt(atM: number, band: Band, { around }: Found): Estimate {
  const middleM = (band.highM - band.lowM) / 2;
  let height: Estimate = { heightM: band.lowM + middleM, errorM: middleM };
  for (const here of around) {
    const rays = lookAround(atM, here());
    height = heightInBand(atM, band, rays, here());
    const levels = new Set(rays.map((hits) => hits[0]?.levelM));
    // Both sides seen, or walled in by one: looking farther shows nothing new.
    if ((levels.has(band.lowM) && levels.has(band.highM)) || !levels.has(undefined)) break;
  }
  return height;
}
