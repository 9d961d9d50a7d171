/** Where a model's heights were made up to fill voids, as areas of the map: contours and climbs there are a guess. */
import type { Placement } from "./elevation/grid-placement.ts";
import { tidyArea } from "./features-in/tidy-area.ts";
import { unitsOf } from "./role-features.ts";
import { AREA, FILLED, type TileFeature } from "./tile-feature.ts";

const FILLED_ATTRIBUTES = { kind: "heights filled in" } as const;

/** @param areas rings in columns and rows of the model, as `FilledVoids` has them */
export function filledFeatures(
  areas: readonly (readonly Float64Array[])[],
  placement: Placement,
  maxZoom: number,
): TileFeature[] {
  const inUnits = (ring: Float64Array): Int32Array => {
    const world = ring.slice();
    placement.toWorld(world, world);
    return Int32Array.from(world, (v) => unitsOf(v, maxZoom));
  };
  return areas.flatMap((rings) =>
    tidyArea(rings.map(inUnits)).polygons.map((parts) => ({
      role: FILLED,
      type: AREA,
      parts,
      attributes: FILLED_ATTRIBUTES,
      minZoom: 0,
    })),
  );
}
