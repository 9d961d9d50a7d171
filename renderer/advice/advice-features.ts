/** Aids and advice of the shown leg as shapes for the map. Pure: the same leg gives the same shapes. */
import type { EscapeFigure, LegAdvice, RouteAdvice } from "../../core/legs/advice/advice.ts";
import type { Hazard } from "../../core/legs/aids/hazards.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import type { Outcome } from "../../core/legs/odds/cloud.ts";
import { legFrame } from "../../core/geodesy/leg-frame.ts";
import { DEG } from "../../core/units/angle.ts";
import type { LonLat } from "../../core/units/position.ts";

/** Longitude, latitude … */
export type Flat = ArrayLike<number>;

export interface HazardShape {
  /** Its place among the leg's hazards. */
  readonly at: number;
  readonly isArea: boolean;
  readonly lines: readonly Flat[];
}

/** Steep ground and areas come as closed outlines; what is open is a line. */
export function hazardShapes(hazards: readonly Hazard[]): readonly HazardShape[] {
  return hazards.flatMap(({ stretches }, at) => {
    const [areas, lines] = [stretches.filter(isClosed), stretches.filter((one) => !isClosed(one))];
    return [
      ...(areas.length > 0 ? [{ at, isArea: true, lines: areas }] : []),
      ...(lines.length > 0 ? [{ at, isArea: false, lines }] : []),
    ];
  });
}

function isClosed(flat: Flat): boolean {
  const n = flat.length;
  return n >= 8 && flat[0] === flat[n - 2] && flat[1] === flat[n - 1];
}

/** Ends of simulated walkers by what became of them. */
export function cloudPlaces({
  cloud,
}: Pick<LegAdvice, "cloud">): Readonly<Record<Outcome, readonly LonLat[]>> {
  const places: Record<Outcome, LonLat[]> = { found: [], stopped: [], missed: [] };
  for (const { lonLat, outcome } of cloud) places[outcome].push(lonLat);
  return places;
}

/** From where ways out are drawn: shares of the leg. */
const RAYS_FROM = [0, 0.5, 1];

/** Ways out from the start, the middle and the end of a leg, each to the line it meets; one that meets none is left out. */
export function escapeRays(
  { fromLonLat, toLonLat }: Pick<LegFigures, "fromLonLat" | "toLonLat">,
  { bearingTrueDeg, stretches }: Pick<EscapeFigure, "bearingTrueDeg" | "stretches">,
): readonly (readonly [LonLat, LonLat])[] {
  const frame = legFrame(fromLonLat, toLonLat);
  if (frame.bearing === null) return [];
  const angle = (bearingTrueDeg - frame.bearing) * DEG;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const lines = stretches.map((flat) => {
    const st = new Float64Array(flat.length);
    frame.project(flat, 0, flat.length >> 1, st);
    return st;
  });
  return RAYS_FROM.flatMap((share): (readonly [LonLat, LonLat])[] => {
    const s = share * frame.lengthM;
    const awayM = Math.min(...lines.map((st) => firstMet(st, s, cos, sin)));
    if (awayM === Infinity) return [];
    return [[frame.toLonLat(s, 0), frame.toLonLat(s + awayM * cos, awayM * sin)]];
  });
}

/** Rays from the very ends of a leg touch the very ends of a stretch: rounding must not let them pass, metres. */
const TOUCH_M = 0.5;

/** How far a ray from (s, 0) goes to a line; Infinity when it passes it. */
function firstMet(st: Float64Array, s: number, cos: number, sin: number): number {
  let first = Infinity;
  for (let i = 0; i + 3 < st.length; i += 2) {
    const [s0, t0, s1, t1] = [st[i], st[i + 1], st[i + 2], st[i + 3]] as unknown as [
      number,
      number,
      number,
      number,
    ];
    // How far aside of the ray both ends are, and how far along it.
    const [a, b] = [cos * t0 - sin * (s0 - s), cos * t1 - sin * (s1 - s)];
    const [u, v] = [cos * (s0 - s) + sin * t0, cos * (s1 - s) + sin * t1];
    let at: number;
    if (a * b <= 0 && a !== b) at = u + ((v - u) * a) / (a - b);
    else if (Math.min(Math.abs(a), Math.abs(b)) <= TOUCH_M) at = Math.abs(a) < Math.abs(b) ? u : v;
    else continue;
    if (at >= -TOUCH_M && at < first) first = Math.max(0, at);
  }
  return first;
}

export const routeLines = ({ parts }: Pick<RouteAdvice, "parts">): readonly Flat[] =>
  parts.map(({ coords }) => coords);

/** Whether a place lies in an outline, by even and odd. */
export function isIn(lines: readonly Flat[], [lon, lat]: LonLat): boolean {
  let inside = false;
  for (const flat of lines)
    for (let i = 0; i + 3 < flat.length; i += 2) {
      const [x0, y0, x1, y1] = [flat[i], flat[i + 1], flat[i + 2], flat[i + 3]] as unknown as [
        number,
        number,
        number,
        number,
      ];
      if (y0 > lat !== y1 > lat && lon < x0 + ((x1 - x0) * (lat - y0)) / (y1 - y0)) inside = !inside;
    }
  return inside;
}

/** Nearest distance from a place to lines, metres; on a plane about the place, good for what is near. */
export function awayM(lines: readonly Flat[], [lon, lat]: LonLat): number {
  const [kx, ky] = [111_320 * Math.cos(lat * DEG), 111_320];
  let best = Infinity;
  for (const flat of lines)
    for (let i = 0; i + 3 < flat.length; i += 2) {
      const [x0, y0] = [((flat[i] as number) - lon) * kx, ((flat[i + 1] as number) - lat) * ky];
      const [dx, dy] = [((flat[i + 2] as number) - lon) * kx - x0, ((flat[i + 3] as number) - lat) * ky - y0];
      const square = dx * dx + dy * dy;
      const f = square > 0 ? Math.min(1, Math.max(0, -(x0 * dx + y0 * dy) / square)) : 0;
      best = Math.min(best, Math.hypot(x0 + f * dx, y0 + f * dy));
    }
  return best;
}
