/** The reserve's boundary: from corner to corner along the ridges, as such lines are drawn, where there is a ridge. */
import { blurred, resampled } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { eastOf, northOf } from "../terrain/height-grid.ts";
import { leastCostRoute } from "./least-cost-route.ts";
import { eased, simplified, type Line } from "./line-shape.ts";
import type { RouteGround } from "./route-ground.ts";

export interface BoundaryCorner {
  readonly at: Place;
  /** How the boundary comes to it from the corner before. */
  readonly by: "straight" | "ridge";
}

/** A closed ring: the line given, then from its end through the corners, in order, back to its start. */
export function boundaryFrom({ grid: fine }: Terrain, first: Line, corners: readonly BoundaryCorner[]): Line {
  const grid = resampled(fine, Math.round(fine.columns / 4), Math.round(fine.rows / 4));
  const around = blurred(grid, 5);
  const ground: RouteGround = {
    grid: { ...grid, z: new Float64Array(grid.z.length) },
    blocked: new Uint8Array(grid.z.length),
    ford: new Float64Array(grid.z.length),
    bank: new Float64Array(grid.z.length),
    rough: new Float64Array(grid.z.length).fill(1),
    // Low ground costs what steep ground costs a path: the cheapest way keeps to the crests.
    steep: grid.z.map((height, i) =>
      Math.min(0.5, Math.max(0, ((around.z[i] as number) + 14 - height) / 60)),
    ),
  };
  const unused = new Uint16Array(grid.z.length);
  const last = corners[corners.length - 1];
  const ring: Place[] = first.length > 0 || !last ? [...first] : [last.at];
  for (const { at, by } of corners) {
    const from = ring[ring.length - 1] as Place;
    const cells =
      by === "ridge"
        ? (leastCostRoute(ground, from, at, { grade: 1, turnM: 6, sideSlope: 26 }, unused) ?? [])
        : [];
    const crest = cells.map((cell): Place => [
      eastOf(grid, cell % grid.columns),
      northOf(grid, Math.floor(cell / grid.columns)),
    ]);
    ring.push(...simplified(eased([from, ...crest.slice(1, -1), at], 2), 10).slice(1));
  }
  return [...ring, ring[0] as Place];
}
