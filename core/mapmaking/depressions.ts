/**
 * Which contours ring ground that is lower than they are.
 *
 * A ring with higher ground to its left runs clockwise, as seen on the map, around lower ground. Rings may be larger
 * than the part of a model that is worked on at a time, so contours are first followed through bands of rows; where
 * pieces of different bands meet at a crossing they are joined, and their areas added up. Of the rings found, the
 * places are kept where they cross the mesh that windows are cut along: a window that holds a part of a ring that is
 * larger than the window's margin holds such a place.
 */
import { MESH } from "./contour-shape.ts";
import { contours } from "./contours.ts";
import type { HeightWindow } from "./height-source.ts";

/** A contour within a band: where it comes in and goes out, as `crossingKey`; null at the model's edge and at voids. */
export interface BandLine {
  readonly level: number;
  readonly from: string | null;
  readonly to: string | null;
  /** Sum of the cross products of its positions: added up around a ring, twice the ring's area, clockwise positive. */
  readonly area: number;
}

export interface BandScan {
  readonly lines: readonly BandLine[];
  /** Rings within the band. */
  readonly rings: number;
  readonly vertices: number;
  /** Levels that occur. */
  readonly levels: readonly number[];
  /** Where large rings around lower ground, and lines that were asked for, cross the mesh. */
  readonly mesh: readonly string[];
}

/** Names the crossing of an edge of the grid that lies on the mesh; null for other vertices. */
function crossingKey(x: number, y: number, level: number): string | null {
  if (x % MESH === 0) return `c ${x} ${Math.floor(y)} ${level}`;
  return y % MESH === 0 ? `r ${y} ${Math.floor(x)} ${level}` : null;
}

function meshOf(coords: Float64Array, level: number): string[] {
  const keys: string[] = [];
  for (let i = 0; i < coords.length; i += 2) {
    const key = crossingKey(coords[i]!, coords[i + 1]!, level);
    if (key !== null) keys.push(key);
  }
  return keys;
}

/** Twice the area that a line and the way back over (x, y) enclose, columns right and rows down. */
function crossSum(coords: Float64Array, x: number, y: number): number {
  let sum = 0;
  for (let i = 0; i + 3 < coords.length; i += 2)
    sum += (coords[i]! - x) * (coords[i + 3]! - y) - (coords[i + 2]! - x) * (coords[i + 1]! - y);
  return sum;
}

/** Rows of a band are a multiple of the mesh, so that bands meet on it. */
export const BAND_MULTIPLE = MESH;

/**
 * Follows the contours of a band; its first and last row are shared with the next bands.
 * @param asked ends of lines that belong to rings around lower ground, as found by `joinBands`
 */
export function scanBand(
  band: HeightWindow,
  stepM: number,
  modelRows: number,
  asked: ReadonlySet<string> | null = null,
): BandScan {
  const lines: BandLine[] = [];
  const mesh: string[] = [];
  let rings = 0;
  let vertices = 0;
  const levels = new Set<number>();
  const key = (level: number, x: number, y: number): string | null => {
    const shared = (y === band.row && y > 0) || (y === band.row + band.rows - 1 && y < modelRows - 1);
    return shared ? crossingKey(x, y, level) : null;
  };
  contours(band, stepM, ({ level, coords, closed }) => {
    levels.add(level);
    vertices += coords.length / 2;
    if (closed) {
      rings++;
      if (asked === null && isLarge(coords) && crossSum(coords, coords[0]!, coords[1]!) > 0)
        mesh.push(...meshOf(coords, level));
      return;
    }
    const from = key(level, coords[0]!, coords[1]!);
    const to = key(level, coords.at(-2)!, coords.at(-1)!);
    lines.push({ level, from, to, area: crossSum(coords, 0, 0) });
    if (asked && ((from !== null && asked.has(from)) || (to !== null && asked.has(to))))
      mesh.push(...meshOf(coords, level));
  });
  return { lines, rings, vertices, levels: [...levels], mesh };
}

/** Whether a ring may reach from what is seen of a window to beyond its margin. */
function isLarge(coords: Float64Array): boolean {
  for (let i = 2; i < coords.length; i += 2)
    if (Math.abs(coords[i]! - coords[0]!) >= MESH / 2 || Math.abs(coords[i + 1]! - coords[1]!) >= MESH / 2)
      return true;
  return false;
}

/** Tells of a contour found in any window whether it rings lower ground. */
export interface Depressions {
  /** @param halvings how often the model was halved before the line was drawn */
  has(coords: Float64Array, closed: boolean, level: number, halvings: number): boolean;
}

/** @returns the ends of lines in bands that belong to rings around lower ground, and how many contours there are in all */
export function joinBands(scans: readonly BandScan[]): {
  readonly ends: ReadonlySet<string>;
  readonly lines: number;
} {
  const from = new Map<string, BandLine>();
  const heads: BandLine[] = [];
  for (const { lines } of scans)
    for (const line of lines)
      if (line.from === null) heads.push(line);
      else from.set(line.from, line);
  // At a border whose other side is a void, a line comes out of nowhere.
  const reached = new Set(scans.flatMap(({ lines }) => lines.map(({ to }) => to)));
  for (const [key, line] of from) if (!reached.has(key)) heads.push(line);
  let count = scans.reduce((sum, { rings }) => sum + rings, 0);
  const done = new Set<BandLine>();
  for (const head of heads) {
    count++;
    for (let line: BandLine | undefined = head; line && !done.has(line);) {
      done.add(line);
      line = line.to === null ? undefined : from.get(line.to);
    }
  }
  const keys = new Set<string>();
  for (const first of from.values()) {
    if (done.has(first)) continue;
    count++;
    let area = 0;
    const passed: string[] = [];
    for (let line: BandLine | undefined = first; line && !done.has(line);) {
      done.add(line);
      area += line.area;
      if (line.to !== null) passed.push(line.to);
      line = line.to === null ? undefined : from.get(line.to);
    }
    if (area > 0) for (const key of passed) keys.add(key);
  }
  return { ends: keys, lines: count };
}

/** @param mesh what all scans found */
export function depressionsOf(mesh: ReadonlySet<string>): Depressions {
  return {
    has(coords, closed, level, halvings) {
      if (closed) return crossSum(coords, coords[0]!, coords[1]!) > 0;
      // Of halved models only rings that a window holds as a whole are told: at small scales, few do not fit.
      if (halvings > 0 || mesh.size === 0) return false;
      for (let i = 0; i < coords.length; i += 2) {
        const key = crossingKey(coords[i]!, coords[i + 1]!, level);
        if (key !== null && mesh.has(key)) return true;
      }
      return false;
    },
  };
}
