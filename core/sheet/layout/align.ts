/**
 * Sheets moved, as far as their part of the walk lets them, onto as few common edges as can be, so that neighbours lie side by
 * side and not a little askew.
 */
import { boxOf, type Placed, type Size } from "./cover.ts";

/** From where to where the lower or left edge of a sheet can lie. */
type Play = readonly [from: number, to: number];

export function aligned(placed: readonly Placed[], { width, height }: Size): Placed[] {
  const boxes = placed.map(({ pieces }) => boxOf(pieces));
  const xs = common(boxes.map(({ west, east }): Play => [east - width, west]));
  const ys = common(boxes.map(({ south, north }): Play => [north - height, south]));
  return placed.map(({ pieces }, i) => ({ x: xs[i] as number, y: ys[i] as number, pieces }));
}

/** The least number of places such that each stretch has one: taken from the lowest upper end on, in the middle of their play. */
function common(plays: readonly Play[]): number[] {
  const order = plays.map((_, i) => i).sort((a, b) => (plays[a] as Play)[1] - (plays[b] as Play)[1]);
  const at: number[] = Array.from({ length: plays.length }, () => 0);
  for (let i = 0; i < order.length;) {
    const [, upper] = plays[order[i] as number] as Play;
    const group: number[] = [];
    for (let j = i; j < order.length; j++) {
      const k = order[j] as number;
      if ((plays[k] as Play)[0] <= upper) group.push(k);
    }
    const lower = Math.max(...group.map((k) => (plays[k] as Play)[0]));
    // A sheet just as large as its part has no play but the rounding error of its ends.
    const place = (Math.min(lower, upper) + upper) / 2;
    for (const k of group) at[k] = place;
    const taken = new Set(group);
    const rest = order.slice(i).filter((k) => !taken.has(k));
    order.splice(i, order.length - i, ...group, ...rest);
    i += group.length;
  }
  return at;
}
