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
import { hasKey, type KeySet, keySet } from "./key-set.ts";

/** No crossing: the line ends at the model's edge or at a void. */
const NOWHERE = -1;

/** Numbers instead of objects: a large model has a million lines that cross from band to band. */
export interface BandScan {
  /** For each line that is no ring: where it comes in and goes out, as `crossingKey`, or `NOWHERE` … */
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** … and the sum of the cross products of its positions: added up around a ring, twice its area, clockwise positive. */
  readonly area: Float64Array;
  /** Rings within the band. */
  readonly rings: number;
  readonly vertices: number;
  /** Levels that occur. */
  readonly levels: readonly number[];
  /** Where large rings around lower ground, and lines that were asked for, cross the mesh. */
  readonly mesh: Float64Array;
}

interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** Levels on either side of 0 that keys tell apart. */
const LEVELS = 2 ** 20;

/** Names the crossing of an edge of the grid that lies on the mesh; `NOWHERE` for other vertices. */
function crossingKey(x: number, y: number, level: number, { columns, rows }: Size): number {
  const upright = x % MESH === 0;
  if (!upright && y % MESH !== 0) return NOWHERE;
  const place = upright ? (x / MESH) * rows + Math.floor(y) : (y / MESH) * columns + Math.floor(x);
  return (2 * place + (upright ? 1 : 0)) * (2 * LEVELS) + level + LEVELS;
}

function addMesh(coords: Float64Array, level: number, size: Size, into: number[]): void {
  for (let i = 0; i < coords.length; i += 2) {
    const key = crossingKey(coords[i]!, coords[i + 1]!, level, size);
    if (key !== NOWHERE) into.push(key);
  }
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
 * @param size of the whole model
 * @param asked ends of lines that belong to rings around lower ground, as found by `joinBands`
 */
export function scanBand(
  band: HeightWindow,
  stepM: number,
  size: Size,
  asked: KeySet | null = null,
): BandScan {
  const [from, to, area, mesh]: number[][] = [[], [], [], []];
  let rings = 0;
  let vertices = 0;
  const levels = new Set<number>();
  const key = (level: number, x: number, y: number): number => {
    const shared = (y === band.row && y > 0) || (y === band.row + band.rows - 1 && y < size.rows - 1);
    return shared ? crossingKey(x, y, level, size) : NOWHERE;
  };
  contours(band, stepM, ({ level, coords, closed }) => {
    levels.add(level);
    vertices += coords.length / 2;
    if (closed) {
      rings++;
      if (asked === null && isLarge(coords) && crossSum(coords, coords[0]!, coords[1]!) > 0)
        addMesh(coords, level, size, mesh!);
      return;
    }
    const first = key(level, coords[0]!, coords[1]!);
    const last = key(level, coords.at(-2)!, coords.at(-1)!);
    from!.push(first);
    to!.push(last);
    area!.push(crossSum(coords, 0, 0));
    if (asked && (hasKey(asked, first) || hasKey(asked, last))) addMesh(coords, level, size, mesh!);
  });
  return {
    from: Float64Array.from(from!),
    to: Float64Array.from(to!),
    area: Float64Array.from(area!),
    mesh: Float64Array.from(mesh!),
    rings,
    vertices,
    levels: [...levels],
  };
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
  readonly ends: KeySet;
  readonly lines: number;
} {
  // Lines by number, all bands in one row.
  const total = scans.reduce((sum, { from }) => sum + from.length, 0);
  const [from, to, area] = [new Float64Array(total), new Float64Array(total), new Float64Array(total)];
  let at = 0;
  for (const scan of scans) {
    from.set(scan.from, at);
    to.set(scan.to, at);
    area.set(scan.area, at);
    at += scan.from.length;
  }
  const beginning = new Map<number, number>();
  for (let k = 0; k < total; k++) if (from[k] !== NOWHERE) beginning.set(from[k]!, k);
  const goesOn = (k: number): number => (to[k] === NOWHERE ? -1 : (beginning.get(to[k]!) ?? -1));
  const reached = new Uint8Array(total);
  for (let k = 0; k < total; k++) if (goesOn(k) >= 0) reached[goesOn(k)] = 1;
  let count = scans.reduce((sum, { rings }) => sum + rings, 0);
  const done = new Uint8Array(total);
  // Lines that begin at the edge, or at a border whose other side is a void; then what is left, which are rings.
  for (let head = 0; head < total; head++) {
    if (reached[head]) continue;
    count++;
    for (let k = head; k >= 0 && !done[k]; k = goesOn(k)) done[k] = 1;
  }
  const ends: Float64Array[] = [];
  for (let first = 0; first < total; first++) {
    if (done[first]) continue;
    count++;
    let sum = 0;
    const passed: number[] = [];
    for (let k = first; k >= 0 && !done[k]; k = goesOn(k)) {
      done[k] = 1;
      sum += area[k]!;
      passed.push(to[k]!);
    }
    if (sum > 0) ends.push(Float64Array.from(passed));
  }
  return { ends: keySet(ends), lines: count };
}

/** Whether a line of the scan is one of those that `joinBands` names. */
export const hasEnds = ({ from, to }: Pick<BandScan, "from" | "to">, ends: KeySet): boolean =>
  from.some((key) => hasKey(ends, key)) || to.some((key) => hasKey(ends, key));

/** @param mesh what all scans found */
export function depressionsOf(mesh: KeySet, size: Size): Depressions {
  return {
    has(coords, closed, level, halvings) {
      if (closed) return crossSum(coords, coords[0]!, coords[1]!) > 0;
      // Of halved models only rings that a window holds as a whole are told: at small scales, few do not fit.
      if (halvings > 0 || mesh.length === 0) return false;
      for (let i = 0; i < coords.length; i += 2) {
        const key = crossingKey(coords[i]!, coords[i + 1]!, level, size);
        if (key !== NOWHERE && hasKey(mesh, key)) return true;
      }
      return false;
    },
  };
}
