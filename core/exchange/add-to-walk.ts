/** Points of one walk put after those of another. */
import { Fault } from "../fault.ts";
import { inverse } from "../geodesy/geodesic.ts";
import { nextPointId } from "../walk/edits.ts";
import type { Walk } from "../walk/walk.ts";
import { MAX_POINTS } from "../walk/walk-rules.ts";

/** Two ends so near each other are one place. No source. */
const SAME_PLACE_M = 1;

/**
 * The walk with the points of another after its own. Where the other begins at the place this one ends, that place is one
 * point.
 * @throws Fault "bad-argument" when there are more points than a walk holds
 */
export function addToWalk(walk: Walk, added: Walk): Walk {
  const last = walk.points.at(-1);
  const [first] = added.points;
  const joined = last && first && inverse(last.lonLat, first.lonLat).distanceM < SAME_PLACE_M;
  const more = joined ? added.points.slice(1) : added.points;
  const count = walk.points.length + more.length;
  if (count > MAX_POINTS)
    throw new Fault(
      "bad-argument",
      `Together they have ${count} points; a walk holds at most ${MAX_POINTS}.`,
      null,
      "Thin what is brought in, or make a new walk of it.",
    );
  const id = Number(nextPointId(walk).slice(1));
  return { ...walk, points: [...walk.points, ...more.map((point, i) => ({ ...point, id: `p${id + i}` }))] };
}
