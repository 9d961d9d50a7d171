/**
 * Ridge and valley lines: handrails that the ground itself makes.
 *
 * Valleys are where water gathers; ridges are the valleys of the surface turned upside down. Water gathers along
 * made-up lines on plains and even slopes too, so a line counts only where the ground falls (valleys: rises) away to
 * both sides, and only if it does so for long enough to be followed.
 */
import { heightAt } from "./terrain-samples.ts";
import type { ElevationGrid } from "./elevation/elevation-grid.ts";
import type { Drainage, Surface } from "./flow.ts";
import { flowLines } from "./flow-lines.ts";
import { lengthM } from "./streams.ts";

export interface GroundLine {
  /** Column, row pairs in the grid: valleys run down, ridges up. */
  readonly coords: Float64Array;
  readonly lengthM: number;
}

export interface GroundLineLimits {
  /** Ground that gathers in a line before it counts, square metres. */
  readonly gatherM2: number;
  /** Shortest stretch kept, metres. */
  readonly shortestM: number;
  /** How far to the side the ground is looked at, metres. */
  readonly asideM: number;
  /** Least mean slope down to the two sides, a tangent, and least slope to either side. */
  readonly meanSlope: number;
  readonly eachSlope: number;
}

/** Common practice, no source: what one notices as a ridge or valley underfoot. Cells decide where the model is coarse. */
export const groundLineLimits = (cellM: number): GroundLineLimits => ({
  gatherM2: Math.max(80_000, 40 * cellM * cellM),
  shortestM: Math.max(300, 8 * cellM),
  asideM: Math.max(60, 2 * cellM),
  meanSlope: 0.1,
  eachSlope: 0.04,
});

/** Gaps in a line's sharpness no longer than this are bridged, positions. */
const BRIDGE = 4;

/**
 * @param upward 1 for ridges, −1 for valleys
 * @param flow of the surface (valleys) or of the surface upside down (ridges)
 * @param taken samples that other lines have already, such as streams: left out; null for none
 */
export function groundLines(
  grid: ElevationGrid,
  surface: Surface,
  flow: Drainage,
  upward: 1 | -1,
  limits: GroundLineLimits,
  taken: Uint8Array | null,
): GroundLine[] {
  const lines: GroundLine[] = [];
  for (const { coords, samples } of flowLines(flow, grid.columns, limits.gatherM2)) {
    const n = samples.length;
    const sharp = new Uint8Array(n);
    for (let i = 0; i < n; i++) {
      if (taken && taken[samples[i]!]) continue;
      sharp[i] = standsOut(grid, surface, coords, i, upward, limits) ? 1 : 0;
    }
    bridge(sharp, (i) => !(taken && taken[samples[i]!]));
    for (let from = 0; from < n; from++) {
      if (!sharp[from]) continue;
      let to = from;
      while (to + 1 < n && sharp[to + 1]) to++;
      // One more position, so that a dry valley meets the head of the stream in it.
      const end = Math.min(n, to + 2);
      const part = coords.slice(2 * from, 2 * end);
      const length = lengthM(part, surface);
      if (length >= limits.shortestM) lines.push({ coords: part, lengthM: length });
      from = to + 1;
    }
  }
  return lines;
}

/** Whether the ground falls away to both sides of position i (rises, in a valley). */
function standsOut(
  grid: ElevationGrid,
  { cellM, cellWidthM }: Surface,
  coords: Float64Array,
  i: number,
  upward: 1 | -1,
  { asideM, meanSlope, eachSlope }: GroundLineLimits,
): boolean {
  const last = coords.length / 2 - 1;
  const a = Math.max(0, i - 2);
  const b = Math.min(last, i + 2);
  const widthM = cellWidthM(Math.min(grid.rows - 1, Math.max(0, Math.round(coords[2 * i + 1]!))));
  const dx = (coords[2 * b]! - coords[2 * a]!) * widthM;
  const dy = (coords[2 * b + 1]! - coords[2 * a + 1]!) * cellM;
  const far = Math.hypot(dx, dy);
  if (far === 0) return false;
  // A quarter turn from the line's direction, in cells.
  const ox = (-dy / far) * (asideM / widthM);
  const oy = (dx / far) * (asideM / cellM);
  const x = coords[2 * i]!;
  const y = coords[2 * i + 1]!;
  const here = heightAt(grid, x, y);
  const left = upward * (here - heightAt(grid, x + ox, y + oy));
  const right = upward * (here - heightAt(grid, x - ox, y - oy));
  return (
    left >= eachSlope * asideM && right >= eachSlope * asideM && (left + right) / 2 >= meanSlope * asideM
  );
}

/** Closes short gaps between marked stretches. */
function bridge(marks: Uint8Array, free: (i: number) => boolean): void {
  let last = -1;
  for (let i = 0; i < marks.length; i++) {
    if (!marks[i]) continue;
    if (last >= 0 && i - last > 1 && i - last <= BRIDGE + 1) {
      let clear = true;
      for (let k = last + 1; k < i; k++) clear &&= free(k);
      if (clear) marks.fill(1, last + 1, i);
    }
    last = i;
  }
}
