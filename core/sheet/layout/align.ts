/**
 * Sheets moved, as far as their part of the walk lets them, onto as few common edges as can be, so that neighbours lie side by
 * side and not a little askew.
 */
import { boxOf, type Placed, type Size } from "./cover.ts";

/** From where to where the lower or left edge of a sheet can lie. */
type Play = readonly [from: number, to: number];

export function aligned(placed: readonly Placed[], { width, height }: Size): Placed[] {
  const boxes = placed.map(({ pieces }) => boxOf(pieces));
  const xs = common(boxes.map(({ west, east }) => playOf(east - width, west)));
  const ys = common(boxes.map(({ south, north }) => playOf(north - height, south)));
  return placed.map(({ pieces }, i) => ({ x: xs[i] as number, y: ys[i] as number, pieces }));
}

/** A sheet just as large as its part has no play but the rounding error of its ends, which may stand crosswise. */
function playOf(from: number, to: number): Play {
  return from <= to ? [from, to] : [(from + to) / 2, (from + to) / 2];
}

/** The least number of places such that each stretch has one: taken from the lowest upper end on, in the middle of their play. */
function common(plays: readonly Play[]): number[] {
  const at: number[] = plays.map(([from]) => from);
  let left = plays.map((_, i) => i);
  while (left.length > 0) {
    const upper = Math.min(...left.map((i) => (plays[i] as Play)[1]));
    const group = left.filter((i) => (plays[i] as Play)[0] <= upper);
    const lower = Math.max(...group.map((i) => (plays[i] as Play)[0]));
    for (const i of group) at[i] = (lower + upper) / 2;
    left = left.filter((i) => (plays[i] as Play)[0] > upper);
  }
  return at;
}
