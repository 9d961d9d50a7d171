/**
 * Which contours ring ground that is lower than they are.
 *
 * A ring with higher ground to its left runs clockwise, as seen on the map, around lower ground. Rings may be larger
 * than the part of a model that is worked on at a time, so contours are first followed through bands of rows; where
 * pieces of different bands meet at a crossing they are joined, and their areas added up.
 */
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
}

const crossingKey = (row: number, column: number, level: number): string => `${row} ${column} ${level}`;

/** Twice the area that a line and the way back over (x, y) enclose, columns right and rows down. */
function crossSum(coords: Float64Array, x: number, y: number): number {
  let sum = 0;
  for (let i = 0; i + 3 < coords.length; i += 2)
    sum += (coords[i]! - x) * (coords[i + 3]! - y) - (coords[i + 2]! - x) * (coords[i + 1]! - y);
  return sum;
}

/** Follows the contours of a band; its first and last row are shared with the next bands. */
export function scanBand(band: HeightWindow, stepM: number, modelRows: number): BandScan {
  const lines: BandLine[] = [];
  let rings = 0;
  let vertices = 0;
  const levels = new Set<number>();
  const key = (level: number, x: number, y: number): string | null => {
    const shared = (y === band.row && y > 0) || (y === band.row + band.rows - 1 && y < modelRows - 1);
    return shared ? crossingKey(y, Math.floor(x), level) : null;
  };
  contours(band, stepM, ({ level, coords, closed }) => {
    levels.add(level);
    vertices += coords.length / 2;
    if (closed) rings++;
    else
      lines.push({
        level,
        from: key(level, coords[0]!, coords[1]!),
        to: key(level, coords.at(-2)!, coords.at(-1)!),
        area: crossSum(coords, 0, 0),
      });
  });
  return { lines, rings, vertices, levels: [...levels] };
}

/** Tells of a contour found in any window whether it rings lower ground. */
export interface Depressions {
  /** @param halvings how often the model was halved before the line was drawn */
  has(coords: Float64Array, closed: boolean, level: number, halvings: number): boolean;
}

/** What crosses the borders of bands and belongs to a ring around lower ground; plain, so that it can be sent about. */
export interface DepressionCrossings {
  readonly bandRows: number;
  readonly keys: ReadonlySet<string>;
}

/** @returns the crossings, and how many contours there are in all */
export function joinBands(
  bandRows: number,
  scans: readonly BandScan[],
): { readonly crossings: DepressionCrossings; readonly lines: number } {
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
  return { crossings: { bandRows, keys }, lines: count };
}

export function depressionsOf({ bandRows, keys }: DepressionCrossings): Depressions {
  return {
    has(coords, closed, level, halvings) {
      if (closed) return crossSum(coords, coords[0]!, coords[1]!) > 0;
      // Of halved models only rings that a window holds as a whole are told: at small scales, few do not fit.
      if (halvings > 0 || keys.size === 0) return false;
      for (let i = 0; i < coords.length; i += 2) {
        const y = coords[i + 1]!;
        if (y % bandRows === 0 && keys.has(crossingKey(y, Math.floor(coords[i]!), level))) return true;
      }
      return false;
    },
  };
}
