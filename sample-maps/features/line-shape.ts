/** Lines in the plane: length, simplifying, smoothing, measuring along. */
import type { Place } from "../terrain/recipe.ts";

export type Line = readonly Place[];

export const apart = (a: Place, b: Place): number => {
  const east = b[0] - a[0];
  const north = b[1] - a[1];
  return Math.sqrt(east * east + north * north);
};

export function lengthOf(line: Line): number {
  let sum = 0;
  for (let i = 1; i < line.length; i++) sum += apart(line[i - 1] as Place, line[i] as Place);
  return sum;
}

/** The place some way along a line, metres from its start. */
export function placeAlong(line: Line, alongM: number): Place {
  let left = alongM;
  for (let i = 1; i < line.length; i++) {
    const a = line[i - 1] as Place;
    const b = line[i] as Place;
    const step = apart(a, b);
    if (left <= step && step > 0)
      return [a[0] + ((b[0] - a[0]) * left) / step, a[1] + ((b[1] - a[1]) * left) / step];
    left -= step;
  }
  return line[line.length - 1] as Place;
}

/** Nearest place of a line to a place, and how far it is. */
export function nearestOn(line: Line, place: Place): { place: Place; distanceM: number; alongM: number } {
  let best = { place: line[0] as Place, distanceM: Infinity, alongM: 0 };
  let along = 0;
  for (let i = 1; i < line.length; i++) {
    const a = line[i - 1] as Place;
    const b = line[i] as Place;
    const dx = b[0] - a[0];
    const dy = b[1] - a[1];
    const length2 = dx * dx + dy * dy;
    const t =
      length2 > 0 ? Math.min(1, Math.max(0, ((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / length2)) : 0;
    const at: Place = [a[0] + t * dx, a[1] + t * dy];
    const distanceM = apart(at, place);
    if (distanceM < best.distanceM) best = { place: at, distanceM, alongM: along + t * Math.sqrt(length2) };
    along += Math.sqrt(length2);
  }
  return best;
}

/** Fewer places, none further than `toleranceM` from the line through the rest (Douglas and Peucker, 1973). Ends stay. */
export function simplified(line: Line, toleranceM: number): Place[] {
  const keep = new Uint8Array(line.length);
  keep[0] = keep[line.length - 1] = 1;
  const stack: [number, number][] = [[0, line.length - 1]];
  while (stack.length > 0) {
    const [from, to] = stack.pop() as [number, number];
    let worst = toleranceM;
    let at = -1;
    for (let i = from + 1; i < to; i++) {
      const off = nearestOn([line[from] as Place, line[to] as Place], line[i] as Place).distanceM;
      if (off > worst) [worst, at] = [off, i];
    }
    if (at < 0) continue;
    keep[at] = 1;
    stack.push([from, at], [at, to]);
  }
  return line.filter((_place, i) => keep[i] === 1);
}

/** A ring made simpler: halved first, because a ring's two ends are one place. */
export function simplifiedRing(ring: Line, toleranceM: number): Place[] {
  const half = Math.floor(ring.length / 2);
  return [
    ...simplified(ring.slice(0, half + 1), toleranceM),
    ...simplified(ring.slice(half), toleranceM).slice(1),
  ];
}

/** Every inner place drawn towards its neighbours' mean; ends stay. */
export function eased(line: Line, passes: number): Place[] {
  let from = [...line];
  for (let pass = 0; pass < passes; pass++)
    from = from.map((place, i): Place => {
      const before = from[i - 1];
      const after = from[i + 1];
      if (!before || !after) return place;
      return [(before[0] + 2 * place[0] + after[0]) / 4, (before[1] + 2 * place[1] + after[1]) / 4];
    });
  return from;
}

/** Corners cut (Chaikin, 1974); ends stay. */
export function rounded(line: Line, passes: number): Place[] {
  let from = [...line];
  for (let pass = 0; pass < passes && from.length > 2; pass++) {
    const to: Place[] = [from[0] as Place];
    for (let i = 1; i < from.length; i++) {
      const a = from[i - 1] as Place;
      const b = from[i] as Place;
      if (i > 1) to.push([0.75 * a[0] + 0.25 * b[0], 0.75 * a[1] + 0.25 * b[1]]);
      if (i < from.length - 1) to.push([0.25 * a[0] + 0.75 * b[0], 0.25 * a[1] + 0.75 * b[1]]);
    }
    to.push(from[from.length - 1] as Place);
    from = to;
  }
  return from;
}
