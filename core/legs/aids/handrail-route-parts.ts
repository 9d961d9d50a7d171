/** The parts of a handrail route: straight ones with what stops one at their end, and stretches along lines. */
import { inverse } from "../../geodesy/geodesic.ts";
import { legFrame, type LegFrame } from "../../geodesy/leg-frame.ts";
import type { Kind } from "../../map/kinds.ts";
import { climbOf } from "../../terrain/climb.ts";
import { DEG, type TrueBearing } from "../../units/angle.ts";
import type { LonLat } from "../../units/position.ts";
import type { LegSettings } from "../leg-settings.ts";
import { stopsSurely } from "../line-kinds.ts";
import { backstopOf } from "./backstop.ts";
import { driftFan } from "./drift-cone.ts";
import { apartM, castRay, isNear, nearestPlace, type St } from "./framed-geometry.ts";
import { type FramedLine, frameLines } from "./framed-line.ts";
import { edgePoints } from "./handrail-route-graph.ts";
import type { Step } from "./handrail-route-search.ts";
import { chainFrom } from "./line-chain.ts";

/** Nearer than this one walks on the line, as for handrails. */
const ON_M = 10;

type StopSettings = Pick<LegSettings, "driftDeg" | "backstopReachM">;

/** What stops one at the end of a straight part. */
export interface RouteStop {
  readonly kind: Kind;
  readonly name: string | null;
  readonly stoppedShare: number;
  /** Beyond the end of the part. */
  readonly beyondM: number;
}

export interface RoutePart {
  readonly how: "straight" | "follow";
  /** What is followed; null for a straight part. */
  readonly kind: Kind | null;
  readonly name: string | null;
  readonly distanceM: number;
  /** Of a straight part; null else, and where it has no length. */
  readonly bearingTrueDeg: TrueBearing | null;
  /** Of a straight part: the line joined, or what lies beyond the target; null when nothing does. */
  readonly stop: RouteStop | null;
  /** Longitude, latitude … from its beginning to its end. */
  readonly coords: Float64Array;
}

/** A stretch of a route in the leg's frame; `line` is null where it is straight. */
export interface Part {
  readonly line: FramedLine | null;
  readonly distanceM: number;
  readonly st: readonly number[];
}

/** Steps along one thing on the ground put together; straight ones of a few steps added to what they lead to. */
export function partsOf(steps: readonly Step[]): Part[] {
  const parts: { line: FramedLine | null; st: number[] }[] = [];
  let begun: readonly number[] = [];
  for (const { from, to, edge } of steps) {
    const line = edge?.line ?? null;
    const st = edge ? edgePoints(edge, to) : [to.s, to.t];
    const last = parts.at(-1);
    // A few steps from a line one is on it.
    const few = line === null && apartM(from, to) < ON_M;
    const same = last && last.line?.line.kind === line?.line.kind && last.line?.line.name === line?.line.name;
    if (few && !last) begun = [from.s, from.t];
    else if (last && (few || same)) last.st.push(...st);
    else {
      parts.push({ line, st: [...begun, from.s, from.t, ...st] });
      begun = [];
    }
  }
  // Measured along what is drawn: at a junction one goes from line to line over the junction itself.
  return parts.map((part) => ({ ...part, distanceM: measured(part.st) }));
}

function measured(st: readonly number[]): number {
  let sum = 0;
  for (let i = 2; i < st.length; i += 2)
    sum += Math.hypot(
      (st[i] as number) - (st[i - 2] as number),
      (st[i + 1] as number) - (st[i - 1] as number),
    );
  return sum;
}

export function routePart(
  { line, distanceM, st }: Part,
  frame: LegFrame,
  lines: readonly FramedLine[],
  settings: StopSettings,
): RoutePart {
  const coords = new Float64Array(st.length);
  for (let i = 0; i < st.length; i += 2) coords.set(frame.toLonLat(st[i] as number, st[i + 1] as number), i);
  if (line) {
    const { kind, name } = line.line;
    return { how: "follow", kind, name, distanceM, bearingTrueDeg: null, stop: null, coords };
  }
  const n = st.length;
  const [from, to]: [St, St] = [
    { s: st[0] as number, t: st[1] as number },
    { s: st[n - 2] as number, t: st[n - 1] as number },
  ];
  const ends: [LonLat, LonLat] = [
    [coords[0] as number, coords[1] as number],
    [coords[n - 2] as number, coords[n - 1] as number],
  ];
  const last = apartM(to, { s: frame.lengthM, t: 0 }) < 0.01;
  return {
    how: "straight",
    kind: null,
    name: null,
    distanceM,
    bearingTrueDeg: distanceM > 0 ? inverse(...ends).bearing : null,
    stop: last
      ? stopBehind(ends, to, distanceM, lines, settings)
      : stopAt(from, to, distanceM, lines, settings),
    coords,
  };
}

/** How many come to the line that a straight part is to reach. */
function stopAt(
  from: St,
  to: St,
  distanceM: number,
  lines: readonly FramedLine[],
  { driftDeg, backstopReachM }: StopSettings,
): RouteStop | null {
  const line = lines
    .filter((l) => stopsSurely(l.line.kind) > 0 && isNear(l, to, 2))
    .map((l) => ({ l, ...nearestPlace(l, to) }))
    .filter(({ offM }) => offM <= 2)
    .sort((a, b) => stopsSurely(b.l.line.kind) - stopsSurely(a.l.line.kind))[0];
  if (!line) return null;
  const ways = [true, false].map((on) => chainFrom(line.l, line.place, on, lines, distanceM).way);
  const heading = Math.atan2(to.t - from.t, to.s - from.s);
  let stoppedShare = 0;
  for (const ray of driftFan(driftDeg)) {
    const angle = heading + ray.angleDeg * DEG;
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    if (ways.some((way) => castRay(way, from, cos, sin, distanceM / 2, distanceM + backstopReachM)))
      stoppedShare += ray.share;
  }
  const { kind, name } = line.l.line;
  return stoppedShare > 0 ? { kind, name, stoppedShare: Math.min(1, stoppedShare), beyondM: 0 } : null;
}

/** What lies beyond the target for one who comes from the last line. */
function stopBehind(
  [from, to]: readonly [LonLat, LonLat],
  at: St,
  distanceM: number,
  lines: readonly FramedLine[],
  settings: StopSettings,
): RouteStop | null {
  const near = lines.filter((l) => isNear(l, at, distanceM + settings.backstopReachM));
  const frame = legFrame(from, to);
  const { backstop } = backstopOf(
    frame,
    frameLines(
      frame,
      near.map(({ line }) => line),
    ),
    settings,
  );
  if (!backstop) return null;
  const { kind, name, stoppedShare, beyondM } = backstop;
  return { kind, name, stoppedShare, beyondM };
}

/** Heights every 20 m or less along the way. */
export function heightsAlong(
  parts: readonly Part[],
  heightAt: ((at: St) => number) | null,
  thresholdM: number,
): { readonly climbM: number | null; readonly descentM: number | null } {
  if (!heightAt) return { climbM: null, descentM: null };
  const heights: number[] = [];
  for (const { st } of parts)
    for (let i = 2; i < st.length; i += 2) {
      const [a, b]: [St, St] = [
        { s: st[i - 2] as number, t: st[i - 1] as number },
        { s: st[i] as number, t: st[i + 1] as number },
      ];
      const n = Math.max(1, Math.ceil(apartM(a, b) / 20));
      for (let k = heights.length === 0 ? 0 : 1; k <= n; k++)
        heights.push(heightAt({ s: a.s + ((b.s - a.s) * k) / n, t: a.t + ((b.t - a.t) * k) / n }));
    }
  const climb = climbOf({ elevationM: Float64Array.from(heights) }, thresholdM);
  return { climbM: climb?.climbM ?? null, descentM: climb?.descentM ?? null };
}
