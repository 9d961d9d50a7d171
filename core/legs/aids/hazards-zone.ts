/**
 * The ground a leg's hazards are looked for on: the drift cone, from the start to some way beyond the target, with
 * room at the start for where one really stands. In the leg's frame it is a trapezium symmetrical about the leg.
 */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import { DEG } from "../../units/angle.ts";
import { type FramedArea, isInArea, outlineOfArea } from "./framed-area.ts";
import type { FramedLine } from "./framed-line.ts";

/** |t| ≤ halfM + spread · s for 0 ≤ s ≤ toS. */
export interface Zone {
  readonly toS: number;
  /** Half its width at the start, metres. */
  readonly halfM: number;
  /** How much wider to each side per metre along the leg. */
  readonly spread: number;
}

/** About what a point drawn by hand on a map of 1:25 000 can mean. */
export const START_ROOM_M = 10;

/**
 * @param driftDeg half-angle of the drift cone
 * @param beyondM how far beyond the target it goes on
 */
export function zoneOf({ lengthM }: LegFrame, driftDeg: number, beyondM: number): Zone {
  return {
    toS: lengthM + Math.max(0, beyondM),
    halfM: START_ROOM_M,
    spread: Math.tan(Math.min(60, Math.max(0, driftDeg)) * DEG),
  };
}

/** Half the width of the zone at a distance along the leg. */
export const halfWidthAt = ({ halfM, spread }: Zone, s: number): number => halfM + spread * s;

/** Its area between two distances along the leg, square metres. */
export const zoneAreaM2 = ({ halfM, spread }: Zone, fromS: number, toS: number): number =>
  2 * (toS - fromS) * (halfM + (spread * (fromS + toS)) / 2);

/** Its corners, s, t, going round. */
export function zoneCorners(zone: Zone): readonly (readonly [s: number, t: number])[] {
  const far = halfWidthAt(zone, zone.toS);
  return [
    [0, -zone.halfM],
    [zone.toS, -far],
    [zone.toS, far],
    [0, zone.halfM],
  ];
}

/** What lies in the zone of one line or area. */
export interface Overlay {
  readonly fromM: number;
  readonly toM: number;
  /** Nearest distance from the line of the leg, produced beyond the target; 0 when it meets it. */
  readonly offsetM: number;
  readonly side: "on" | "left" | "right";
  /** How often it meets the leg between start and target. */
  readonly crossings: number;
  /** s, t … of each run of it in the zone, for drawing. */
  readonly runs: readonly Float64Array[];
}

/** Gathers extremes of s and the place nearest to the leg. */
class Extent {
  fromM = Infinity;
  toM = -Infinity;
  nearestT = Infinity;

  add(s: number, t: number): void {
    if (s < this.fromM) this.fromM = s;
    if (s > this.toM) this.toM = s;
    if (Math.abs(t) < Math.abs(this.nearestT)) this.nearestT = t;
  }

  /** Below a millimetre a thing is on the line: that is rounding. */
  overlay(crossings: number, runs: readonly Float64Array[]): Overlay {
    const offsetM = Math.abs(this.nearestT) < 0.001 ? 0 : Math.abs(this.nearestT);
    return {
      fromM: this.fromM,
      toM: this.toM,
      offsetM,
      side: offsetM === 0 ? "on" : this.nearestT < 0 ? "left" : "right",
      crossings,
      runs,
    };
  }
}

/** The runs of a polyline inside the zone; each is one overlay. Source: Liang and Barsky, ACM TOG 3 (1984) 1–22. */
function overlayRuns(st: Float64Array, count: number, zone: Zone, lengthM: number): Overlay[] {
  const { toS, halfM, spread } = zone;
  const found: Overlay[] = [];
  let extent = new Extent();
  let crossings = 0;
  let run: number[] = [];
  const finish = (): void => {
    if (run.length >= 4) found.push(extent.overlay(crossings, [Float64Array.from(run)]));
    [extent, crossings, run] = [new Extent(), 0, []];
  };
  for (let i = 0; i < 2 * count - 2; i += 2) {
    const s0 = st[i] as number;
    const t0 = st[i + 1] as number;
    const s1 = st[i + 2] as number;
    const t1 = st[i + 3] as number;
    let low = 0;
    let high = 1;
    for (let side = 0; side < 4 && low <= high; side++) {
      const a = side === 0 ? s0 : side === 1 ? toS - s0 : halfM + spread * s0 + (side === 2 ? -t0 : t0);
      const b = side === 0 ? s1 : side === 1 ? toS - s1 : halfM + spread * s1 + (side === 2 ? -t1 : t1);
      if (a < 0 && b < 0) low = 2;
      else if (a < 0) low = Math.max(low, a / (a - b));
      else if (b < 0) high = Math.min(high, a / (a - b));
    }
    if (low >= high) {
      finish();
      continue;
    }
    const [as, at] = [s0 + low * (s1 - s0), t0 + low * (t1 - t0)];
    const [bs, bt] = [s0 + high * (s1 - s0), t0 + high * (t1 - t0)];
    if (low > 0) finish();
    if (run.length === 0) {
      run.push(as, at);
      extent.add(as, at);
    }
    run.push(bs, bt);
    extent.add(bs, bt);
    if (at < 0 !== bt < 0) {
      const s = as + (at / (at - bt)) * (bs - as);
      extent.add(s, 0);
      if (s <= lengthM) crossings++;
    }
    if (high < 1) finish();
  }
  finish();
  return found;
}

/** Runs of a line in the zone, one after the other along the line. */
export function overlayLine(
  { st, count, minS, maxS, minT, maxT }: FramedLine,
  zone: Zone,
  lengthM: number,
): Overlay[] {
  const far = halfWidthAt(zone, zone.toS);
  if (maxS < 0 || minS > zone.toS || maxT < -far || minT > far) return [];
  return overlayRuns(st, count, zone, lengthM);
}

/**
 * What of an area lies in the zone; null for nothing. Extremes of the overlay lie at the area's corners inside the zone,
 * where edges of both meet, and at corners of the zone inside the area; so nothing is cut out in between.
 */
export function overlayArea(area: FramedArea, zone: Zone, lengthM: number): Overlay | null {
  const far = halfWidthAt(zone, zone.toS);
  if (area.maxS < 0 || area.minS > zone.toS || area.maxT < -far || area.minT > far) return null;
  const parts = outlineOfArea(area).flatMap((ring) => overlayRuns(ring, ring.length >> 1, zone, lengthM));
  const corners = new Extent();
  let any = false;
  for (const [s, t] of zoneCorners(zone))
    if (isInArea(area, s, t)) {
      corners.add(s, t);
      any = true;
    }
  if (isInArea(area, 0, 0)) {
    corners.add(0, 0);
    any = true;
  }
  if (!any && parts.length === 0) return null;
  const all = any ? [...parts, corners.overlay(0, [])] : parts;
  return mergeOverlays(all);
}

/** Several overlays as one. */
export function mergeOverlays(parts: readonly Overlay[]): Overlay {
  const nearest = parts.reduce((a, b) => (b.offsetM < a.offsetM ? b : a));
  return {
    fromM: Math.min(...parts.map(({ fromM }) => fromM)),
    toM: Math.max(...parts.map(({ toM }) => toM)),
    offsetM: nearest.offsetM,
    side: nearest.side,
    crossings: parts.reduce((sum, { crossings }) => sum + crossings, 0),
    runs: parts.flatMap(({ runs }) => runs),
  };
}

/** Runs that follow one another within a gap along the leg are told as one. */
export function joinRuns(parts: readonly Overlay[], gapM: number): Overlay[] {
  const joined: Overlay[] = [];
  for (const part of parts.toSorted((a, b) => a.fromM - b.fromM)) {
    const last = joined.at(-1);
    if (last && part.fromM - last.toM <= gapM) joined[joined.length - 1] = mergeOverlays([last, part]);
    else joined.push(part);
  }
  return joined;
}
