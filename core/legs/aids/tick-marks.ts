/**
 * Collecting features to tick off on the way: of all a leg crosses, the few that confirm progress best. Each is noticed
 * surely, met well across the way, and some way on from the one before.
 * Common practice, no source for the figures.
 */
import type { Kind } from "../../map/kinds.ts";
import type { LegLandform } from "../../terrain/landforms/landforms-along.ts";
import { DEG } from "../../units/angle.ts";
import type { Crossing } from "../line-aids.ts";
import { AT_END_M } from "../leg-words.ts";
import { stopsSurely } from "../line-kinds.ts";

export interface TickMark {
  readonly kind: Kind;
  readonly name: string | null;
  readonly atM: number;
  /** Paces from the start of the leg. */
  readonly paces: number;
  /** How much it tells, 0–1. */
  readonly worth: number;
}

/** So many can be kept in mind or written on a card. */
export const MOST_TICKS = 8;
/** Nearer than this two marks say no more than one. */
const APART_M = 100;
const LEAST_WORTH = 0.15;
/** Of two of a kind so near each other one does not know which one is at. */
const MISTAKEN_M = 50;

/** What is met but does not stop anyone. */
const ALSO: ReadonlyMap<Kind, number> = new Map<Kind, number>([
  ["wetland", 0.35],
  ["saddle", 0.5],
  ["spur", 0.4],
  ["draw", 0.5],
  ["hill", 0.5],
  ["depression", 0.4],
]);
const noticed = (kind: Kind): number => Math.max(stopsSurely(kind), ALSO.get(kind) ?? 0);

/**
 * At most eight marks in order from the start.
 * @param pacesUpTo paces from the start to so many metres along the leg
 */
export function tickMarksOf(
  crossings: readonly Crossing[],
  landforms: readonly LegLandform[],
  lengthM: number,
  pacesUpTo: (alongM: number) => number,
): TickMark[] {
  const all = [
    ...crossings.map(({ kind, name, atM, paces, crossingDeg }) => ({
      kind,
      name,
      atM,
      paces,
      // A line met at a small angle is met over a long stretch.
      sure: noticed(kind) * Math.sin((crossingDeg ?? 90) * DEG),
    })),
    ...landforms
      .filter(({ way, kind }) => way === "across" && kind !== "cliff")
      .map(({ kind, name, atM }) => ({ kind, name, atM, paces: pacesUpTo(atM), sure: noticed(kind) })),
  ].filter(({ atM, sure }) => atM > AT_END_M && atM < lengthM - AT_END_M && sure > 0);
  const single = all.map((one) => {
    const alike = all.some(
      (o) =>
        o !== one && o.kind === one.kind && o.name === one.name && Math.abs(o.atM - one.atM) <= MISTAKEN_M,
    );
    return { ...one, sure: alike ? 0.6 * one.sure : one.sure };
  });
  const chosen: TickMark[] = [];
  while (chosen.length < MOST_TICKS) {
    let best: TickMark | null = null;
    for (const { sure, ...mark } of single) {
      if (chosen.some(({ atM, kind }) => atM === mark.atM && kind === mark.kind)) continue;
      const gapM = Math.min(mark.atM, ...chosen.map(({ atM }) => Math.abs(atM - mark.atM)));
      const worth = sure * Math.min(1, gapM / APART_M);
      if (worth >= LEAST_WORTH && (!best || worth > best.worth)) best = { ...mark, worth };
    }
    if (!best) break;
    chosen.push(best);
  }
  return chosen.sort((a, b) => a.atM - b.atM);
}
