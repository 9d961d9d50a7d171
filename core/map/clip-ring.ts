/** An area's ring cut to the window of one tile. Source: Sutherland and Hodgman, CACM 17 (1974) 32–42. */
import { isInside, type Vertex, type Window } from "./clip-line.ts";

/**
 * @param ring first position repeated at the end
 * @returns x, y, x, y … with the first position repeated at the end; empty when nothing of it lies within. A ring that
 * leaves the window and comes back is joined along the window's edge, as any area cut by this method.
 */
export function clipRing(ring: readonly Vertex[], w: Window): number[] {
  let points: number[] = [];
  let inside = true;
  for (const { x, y } of ring) {
    points.push(x, y);
    inside &&= isInside(w, x, y);
  }
  if (!inside) for (let edge = 0; edge < 4 && points.length > 0; edge++) points = clipToEdge(points, edge, w);
  return points.length >= 8 && hasArea(points) ? points : [];
}

function clipToEdge(points: readonly number[], edge: number, w: Window): number[] {
  const axis = edge < 2 ? 0 : 1;
  const limit = [w.x0, w.x1, w.y0, w.y1][edge] as number;
  const sign = edge % 2 === 0 ? 1 : -1;
  const out: number[] = [];
  for (let i = 2; i < points.length; i += 2) {
    const [ax, ay, bx, by] = points.slice(i - 2, i + 2) as [number, number, number, number];
    const da = sign * ((axis ? ay : ax) - limit);
    const db = sign * ((axis ? by : bx) - limit);
    if (da >= 0 !== db >= 0) {
      const t = da / (da - db);
      out.push(axis ? ax + t * (bx - ax) : limit, axis ? limit : ay + t * (by - ay));
    }
    if (db >= 0) out.push(bx, by);
  }
  if (out.length > 0) out.push(out[0] as number, out[1] as number);
  return out;
}

function hasArea(points: readonly number[]): boolean {
  let twice = 0;
  for (let i = 2; i < points.length; i += 2)
    twice +=
      (points[i - 2] as number) * (points[i + 1] as number) -
      (points[i] as number) * (points[i - 1] as number);
  return twice !== 0;
}
