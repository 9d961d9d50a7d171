/** Buildings as plain rectangles beside the ways that lead to them, long side along the way. */
import type { Place } from "../terrain/recipe.ts";
import type { Ring } from "./iso-areas.ts";
import { apart, nearestOn, placeAlong, lengthOf } from "./line-shape.ts";
import type { Way } from "./ways.ts";

export interface BuildingPlan {
  readonly name: string | null;
  readonly class: "farm" | "barn" | "house" | "hut" | "bunkhouse" | "boathouse" | "ruin";
  /** Near here, beside the nearest way. */
  readonly near: Place;
  /** From the middle of the way to the middle of the building, metres. */
  readonly offM: number;
  readonly lengthM: number;
  readonly widthM: number;
}

export interface Building {
  readonly plan: BuildingPlan;
  readonly middle: Place;
  readonly ring: Ring;
}

/** @param clear tells whether a building may stand at a place; the way's other side is tried when not */
export function placeBuilding(
  plan: BuildingPlan,
  ways: readonly Way[],
  clear: (place: Place) => boolean,
): Building {
  const { line, at } = ways
    .map((way) => ({ line: way.line, at: nearestOn(way.line, plan.near) }))
    .reduce((a, b) => (b.at.distanceM < a.at.distanceM ? b : a));
  const before = placeAlong(line, Math.max(0, at.alongM - 15));
  const after = placeAlong(line, Math.min(lengthOf(line), at.alongM + 15));
  const span = apart(before, after);
  const ux = (after[0] - before[0]) / span;
  const uy = (after[1] - before[1]) / span;
  const beside = (side: number): Place => [
    at.place[0] - side * plan.offM * uy,
    at.place[1] + side * plan.offM * ux,
  ];
  // The side that was meant: the one nearer to where the plan put it.
  const sides = [beside(1), beside(-1)].sort((a, b) => apart(a, plan.near) - apart(b, plan.near));
  const middle = sides.find(clear) ?? beside(1);
  const corner = (a: number, b: number): Place => [
    middle[0] + (a * plan.lengthM * ux - b * plan.widthM * uy) / 2,
    middle[1] + (a * plan.lengthM * uy + b * plan.widthM * ux) / 2,
  ];
  return { plan, middle, ring: [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1), corner(-1, -1)] };
}
