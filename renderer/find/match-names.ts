/** Which points of the walk and names on the map a typed text means. */
import { inverse } from "../../core/geodesy/geodesic.ts";
import type { LonLat } from "../../core/units/position.ts";

export interface Nameable {
  /** All it may be called by. */
  readonly names: readonly string[];
  readonly lonLat: LonLat;
}

export interface NameMatch<T> {
  readonly thing: T;
  /** The whole name was typed. */
  readonly exact: boolean;
}

/** Small letters without accents, spaces made one: "Bruach na Frìthe" is found by "frithe". */
export const foldName = (text: string): string =>
  text
    .normalize("NFD")
    .replace(/\p{Mark}/gu, "")
    .replace(/\s+/g, " ")
    .trim()
    .toLowerCase();

/** 0 the whole name, 1 its beginning, 2 the beginning of a word in it; null no match. */
function rank(typed: string, name: string): 0 | 1 | 2 | null {
  const folded = foldName(name);
  if (folded === typed) return 0;
  if (folded.startsWith(typed)) return 1;
  return folded.split(/[^\p{Letter}\p{Number}]+/u).some((word) => word.startsWith(typed)) ||
    folded.includes(` ${typed}`)
    ? 2
    : null;
}

/**
 * The best first: whole names, then beginnings, then words inside; among equals the nearest.
 * @param near the middle of the map
 */
export function matchNames<T extends Nameable>(
  text: string,
  things: readonly T[],
  near: LonLat | null,
  most = 8,
): NameMatch<T>[] {
  const typed = foldName(text);
  if (typed === "") return [];
  const found = things.flatMap((thing) => {
    const ranks = thing.names.flatMap((name) => rank(typed, name) ?? []);
    if (ranks.length === 0) return [];
    const distanceM = near ? inverse(near, thing.lonLat).distanceM : 0;
    return [{ thing, rank: Math.min(...ranks), distanceM }];
  });
  found.sort((a, b) => a.rank - b.rank || a.distanceM - b.distanceM);
  return found.slice(0, most).map((one) => ({ thing: one.thing, exact: one.rank === 0 }));
}
