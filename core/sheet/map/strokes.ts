/** Marks along lines and hatching of areas: what tells kinds apart without colour. */
import type { Ink, PageItem, Shape, ShapeItem, Stroke } from "../page/page.ts";

export const openShape = (parts: readonly Float64Array[]): Shape => ({ parts, closed: false });

/** Nothing for no parts. */
export function strokes(parts: readonly Float64Array[], stroke: Stroke): PageItem[] {
  return parts.length > 0 ? [{ kind: "shape", shape: openShape(parts), stroke }] : [];
}

export const fill = (rings: readonly Float64Array[], ink: Ink, weldMm = 0): ShapeItem => ({
  kind: "shape",
  shape: { parts: rings, closed: true },
  fill: ink,
  ...(weldMm > 0 && { stroke: { ink, widthMm: weldMm, join: "round" } }),
});

export interface Mark {
  readonly x: number;
  readonly y: number;
  /** Unit vector along the line. */
  readonly dx: number;
  readonly dy: number;
}

/** Places at even distances along lines, the first half a distance in. */
export function marksAlong(parts: readonly Float64Array[], apartMm: number): Mark[] {
  const marks: Mark[] = [];
  for (const line of parts) {
    let next = apartMm / 2;
    for (let i = 2; i < line.length; i += 2) {
      const [ax, ay] = [line[i - 2] as number, line[i - 1] as number];
      const [ex, ey] = [(line[i] as number) - ax, (line[i + 1] as number) - ay];
      const length = Math.hypot(ex, ey);
      if (length === 0) continue;
      for (; next <= length; next += apartMm)
        marks.push({
          x: ax + (ex * next) / length,
          y: ay + (ey * next) / length,
          dx: ex / length,
          dy: ey / length,
        });
      next -= length;
    }
  }
  return marks;
}

/** A short line across each mark, from so far to the left of the line to so far to its right. */
export const across = (marks: readonly Mark[], leftMm: number, rightMm: number): Float64Array[] =>
  marks.map(({ x, y, dx, dy }) =>
    Float64Array.of(x + dy * leftMm, y - dx * leftMm, x - dy * rightMm, y + dx * rightMm),
  );

/** A short line along each mark. */
export const along = (marks: readonly Mark[], halfMm: number): Float64Array[] =>
  marks.map(({ x, y, dx, dy }) =>
    Float64Array.of(x - dx * halfMm, y - dy * halfMm, x + dx * halfMm, y + dy * halfMm),
  );

/** A slanting cross on each mark. */
export const crosses = (marks: readonly Mark[], halfMm: number): Float64Array[] =>
  marks.flatMap(({ x, y, dx, dy }) =>
    [1, -1].map((s) => {
      const [ex, ey] = [(dx - s * dy) * halfMm, (dy + s * dx) * halfMm];
      return Float64Array.of(x - ex, y - ey, x + ex, y + ey);
    }),
  );

export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Where a line y = `y` lies inside rings (even-odd), from left to right. */
export function spansAt(rings: readonly Float64Array[], y: number): Span[] {
  const xs: number[] = [];
  for (const ring of rings) addCrossings(ring, y, xs);
  xs.sort((a, b) => a - b);
  const spans: Span[] = [];
  for (let i = 0; i + 1 < xs.length; i += 2) spans.push({ from: xs[i] as number, to: xs[i + 1] as number });
  return spans;
}

function addCrossings(ring: Float64Array, y: number, xs: number[]): void {
  let [ax, ay] = [ring.at(-2) as number, ring.at(-1) as number];
  for (let i = 0; i < ring.length; i += 2) {
    const [bx, by] = [ring[i] as number, ring[i + 1] as number];
    if (ay > y !== by > y) xs.push(ax + ((y - ay) / (by - ay)) * (bx - ax));
    [ax, ay] = [bx, by];
  }
}

/** All spans on the lines y = k · apart, by k. */
function scan(rings: readonly Float64Array[], apart: number): Map<number, number[]> {
  const rows = new Map<number, number[]>();
  for (const ring of rings) {
    let [ax, ay] = [ring.at(-2) as number, ring.at(-1) as number];
    for (let i = 0; i < ring.length; i += 2) {
      const [bx, by] = [ring[i] as number, ring[i + 1] as number];
      const [low, high] = ay < by ? [ay, by] : [by, ay];
      for (let k = Math.ceil(low / apart); k * apart < high; k++) {
        const row = rows.get(k) ?? [];
        if (row.length === 0) rows.set(k, row);
        row.push(ax + ((k * apart - ay) / (by - ay)) * (bx - ax));
      }
      [ax, ay] = [bx, by];
    }
  }
  for (const row of rows.values()) row.sort((a, b) => a - b);
  return rows;
}

/**
 * Parallel lines through an area, on one raster for the whole page, so that pieces of an area join without a seam.
 * @param dash lengths of dash and gap, every second row shifted by half
 */
export function hatch(
  rings: readonly Float64Array[],
  apartMm: number,
  turnDeg: number,
  dash: readonly [dashMm: number, gapMm: number] | null = null,
): Float64Array[] {
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const turned = rings.map((ring) => {
    const out = new Float64Array(ring.length);
    for (let i = 0; i < ring.length; i += 2) {
      out[i] = (ring[i] as number) * cos + (ring[i + 1] as number) * sin;
      out[i + 1] = (ring[i + 1] as number) * cos - (ring[i] as number) * sin;
    }
    return out;
  });
  const parts: Float64Array[] = [];
  const add = (from: number, to: number, y: number): void => {
    parts.push(
      Float64Array.of(from * cos - y * sin, from * sin + y * cos, to * cos - y * sin, to * sin + y * cos),
    );
  };
  for (const [k, xs] of scan(turned, apartMm))
    for (let i = 0; i + 1 < xs.length; i += 2) {
      const [from, to] = [xs[i] as number, xs[i + 1] as number];
      if (!dash) add(from, to, k * apartMm);
      else {
        const period = dash[0] + dash[1];
        const shift = k % 2 === 0 ? 0 : period / 2;
        for (let n = Math.floor((from - shift) / period); n * period + shift < to; n++) {
          const start = Math.max(from, n * period + shift);
          const end = Math.min(to, n * period + shift + dash[0]);
          if (end > start) add(start, end, k * apartMm);
        }
      }
    }
  return parts;
}
