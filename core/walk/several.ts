/** Walks cut in two, put end to end, and their points put in another order. Pure, as all edits are. */
import { Fault } from "../fault.ts";
import { inverse } from "../geodesy/geodesic.ts";
import { indexOfPoint, nextPointId } from "./edits.ts";
import type { Walk, WalkPoint } from "./walk.ts";
import { MAX_POINTS } from "./walk-rules.ts";

/** Ends nearer each other than this are one place, metres: what a click or a file's rounding can be off by. */
const ONE_PLACE_M = 1;

/**
 * Both parts hold the point; what belongs to the leg that starts there goes with the second.
 * @throws Fault "bad-argument" for an end of the walk, or no point of it
 */
export function splitWalk(walk: Walk, id: string): readonly [first: Walk, second: Walk] {
  const at = indexOfPoint(walk, id);
  if (at === 0 || at === walk.points.length - 1)
    throw new Fault("bad-argument", "A walk is cut at a point between its ends.");
  const point = walk.points[at] as WalkPoint;
  const end: WalkPoint = { ...point, aimOff: false, instruction: null };
  return [
    { ...walk, points: [...walk.points.slice(0, at), end] },
    { ...walk, startTime: null, points: walk.points.slice(at) },
  ];
}

/**
 * The second walk's points after the first's; where one ends and the other begins at one place, it is one point. All else
 * (day, pace, norths, notes) is the first walk's.
 * @throws Fault "bad-argument" when there would be too many points
 */
export function joinWalks(first: Walk, second: Walk): Walk {
  const last = first.points.at(-1);
  const next = second.points[0];
  const meet = last && next && inverse(last.lonLat, next.lonLat).distanceM <= ONE_PLACE_M;
  if (first.points.length + second.points.length - (meet ? 1 : 0) > MAX_POINTS)
    throw new Fault("bad-argument", `A walk holds at most ${MAX_POINTS} points.`);
  let joined: Walk = first;
  if (meet) {
    // The place keeps its first name; the leg that now starts there is the second walk's.
    const { aimOff, instruction, unknownOfLeg } = next;
    const one: WalkPoint = {
      ...last,
      name: last.name ?? next.name,
      note: last.note || next.note,
      aimOff,
      instruction,
      unknownOfLeg,
    };
    joined = { ...joined, points: [...joined.points.slice(0, -1), one] };
  }
  for (const point of meet ? second.points.slice(1) : second.points)
    joined = { ...joined, points: [...joined.points, { ...point, id: nextPointId(joined) }] };
  return joined;
}

/**
 * Puts a point elsewhere in the order. What was chosen for the leg that starts at it goes with it; where that no longer fits
 * is said where it shows.
 * @param to its place in the walk afterwards, from 0
 * @throws Fault "bad-argument" for no point of the walk, or no place in it
 */
export function reorderPoint(walk: Walk, id: string, to: number): Walk {
  const from = indexOfPoint(walk, id);
  if (!Number.isInteger(to) || to < 0 || to >= walk.points.length)
    throw new Fault("bad-argument", `There is no place ${to} in a walk of ${walk.points.length} points.`);
  const point = walk.points[from] as WalkPoint;
  const others = walk.points.toSpliced(from, 1);
  return { ...walk, points: others.toSpliced(to, 0, point) };
}
