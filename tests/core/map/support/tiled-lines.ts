/**
 * Lines of lon/lat cut into tiles with a buffer, as plainly as can be.
 * "whole": a tile takes every segment that comes near it, uncut. "cut": each segment is cut at the tile's buffer and
 * the cut end rounded to whole units, as most tile makers do, so that neighbours see it a little differently.
 */
import type { RawFeature, XY } from "./vector-tile-bytes.ts";

const EXTENT = 4096;

export function worldUnits([lon, lat]: XY, z: number): XY {
  const n = EXTENT * 2 ** z;
  const s = Math.sin((lat * Math.PI) / 180);
  return [
    Math.round((lon / 360 + 0.5) * n),
    Math.round((0.5 - Math.log((1 + s) / (1 - s)) / (4 * Math.PI)) * n),
  ];
}

export const worldLonLat = ([x, y]: XY, z: number): XY => {
  const n = EXTENT * 2 ** z;
  return [(x / n) * 360 - 180, (Math.atan(Math.sinh(Math.PI * (1 - (2 * y) / n))) * 180) / Math.PI];
};

export interface Line {
  readonly units: readonly XY[];
  readonly properties: Readonly<Record<string, string | number | boolean>>;
}

/** The share of a segment within a box, as from–to shares; null when it misses it. By halving and clamping each axis. */
function inside(
  [ax, ay]: XY,
  [bx, by]: XY,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
): readonly [number, number] | null {
  let [from, to] = [0, 1];
  for (const [a, b, low, high] of [
    [ax, bx, x0, x1],
    [ay, by, y0, y1],
  ] as const) {
    if (a === b) {
      if (a < low || a > high) return null;
      continue;
    }
    const [t0, t1] = [(low - a) / (b - a), (high - a) / (b - a)];
    from = Math.max(from, Math.min(t0, t1));
    to = Math.min(to, Math.max(t0, t1));
  }
  return from <= to ? [from, to] : null;
}

export function tileLines(
  lines: readonly Line[],
  tx: number,
  ty: number,
  buffer: number,
  how: "whole" | "cut",
): RawFeature[] {
  const [ox, oy] = [tx * EXTENT, ty * EXTENT];
  const features: RawFeature[] = [];
  for (const { units, properties } of lines) {
    const parts: XY[][] = [];
    for (let i = 1; i < units.length; i++) {
      const [a, b] = [units[i - 1]!, units[i]!];
      if (a[0] === b[0] && a[1] === b[1]) continue;
      const share = inside(a, b, ox - buffer, oy - buffer, ox + EXTENT + buffer, oy + EXTENT + buffer);
      if (!share) continue;
      const at = (f: number): XY => [
        Math.round(a[0] + f * (b[0] - a[0])) - ox,
        Math.round(a[1] + f * (b[1] - a[1])) - oy,
      ];
      const [from, to] = how === "cut" ? [at(share[0]), at(share[1])] : [at(0), at(1)];
      if (from[0] === to[0] && from[1] === to[1]) continue;
      const last = parts.at(-1)?.at(-1);
      if (last && last[0] === from[0] && last[1] === from[1]) parts.at(-1)!.push(to);
      else parts.push([from, to]);
    }
    if (parts.length > 0) features.push({ type: "line", parts, properties });
  }
  return features;
}

export const lengthOf = (units: readonly XY[]): number =>
  units.reduce(
    (sum, [x, y], i) => (i === 0 ? 0 : sum + Math.hypot(x - units[i - 1]![0], y - units[i - 1]![1])),
    0,
  );
