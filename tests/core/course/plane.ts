/** Plane geometry for checks of courses and drills, in metres: shares nothing with the program. */
import { metresBetween, type Xy } from "./raw-map.ts";

/** Metres east and north of a place: within a few centimetres over a course. */
export const planeAt = ([lon0, lat0]: Xy): ((at: Xy) => Xy) => {
  const east = metresBetween([lon0 - 0.005, lat0], [lon0 + 0.005, lat0]) * 100;
  const north = metresBetween([lon0, lat0 - 0.005], [lon0, lat0 + 0.005]) * 100;
  return ([lon, lat]) => [(lon - lon0) * east, (lat - lat0) * north];
};

/** Where segment ab crosses cd, as a share of ab; null when it does not. */
export function crossing([ax, ay]: Xy, [bx, by]: Xy, [cx, cy]: Xy, [dx, dy]: Xy): number | null {
  const [ux, uy, vx, vy] = [bx - ax, by - ay, dx - cx, dy - cy];
  const det = ux * vy - uy * vx;
  if (det === 0) return null;
  const t = ((cx - ax) * vy - (cy - ay) * vx) / det;
  const s = ((cx - ax) * uy - (cy - ay) * ux) / det;
  return t >= 0 && t <= 1 && s >= 0 && s <= 1 ? t : null;
}

export function distanceTo([px, py]: Xy, [ax, ay]: Xy, [bx, by]: Xy): number {
  const [ux, uy] = [bx - ax, by - ay];
  const length2 = ux * ux + uy * uy;
  const t = length2 === 0 ? 0 : Math.max(0, Math.min(1, ((px - ax) * ux + (py - ay) * uy) / length2));
  return Math.hypot(px - ax - t * ux, py - ay - t * uy);
}
