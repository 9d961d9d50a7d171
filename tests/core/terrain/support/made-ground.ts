/** Ground of a known formula, without a map: heights from metres east and north of a middle. */
import { meridianRadius, parallelRadius } from "../../../../core/geodesy/ellipsoid.ts";
import type { MapFeatures, PointFeature } from "../../../../core/map/features.ts";
import type { ElevationModel } from "../../../../core/terrain/elevation.ts";
import type { Ground } from "../../../../core/terrain/ground.ts";
import type { LonLat } from "../../../../core/units/position.ts";

export const MIDDLE: LonLat = [8.1234, 47.0567];
const RAD = Math.PI / 180;

export const placeAt = (eastM: number, northM: number): LonLat => [
  MIDDLE[0] + eastM / (parallelRadius(MIDDLE[1]) * RAD),
  MIDDLE[1] + northM / (meridianRadius(MIDDLE[1]) * RAD),
];

export const metresOf = ([lon, lat]: LonLat): readonly [eastM: number, northM: number] => [
  (lon - MIDDLE[0]) * parallelRadius(MIDDLE[1]) * RAD,
  (lat - MIDDLE[1]) * meridianRadius(MIDDLE[1]) * RAD,
];

/** @param reachM unknown beyond this from the middle, east, west, north or south */
export function madeGround(
  height: (eastM: number, northM: number) => number,
  { spacingM = 10, reachM = Infinity, peaks = [] as PointFeature[] } = {},
): Ground {
  const elevation: ElevationModel = {
    spacingM: () => spacingM,
    prepare: () => Promise.resolve(),
    isPrepared: () => true,
    at: (lonLat) => {
      const [x, y] = metresOf(lonLat);
      return Math.max(Math.abs(x), Math.abs(y)) > reachM ? Number.NaN : height(x, y);
    },
  };
  const map = {
    info: { interval: null },
    isPrepared: () => true,
    lines: () => [],
    areas: () => [],
    points: () => peaks,
  } as unknown as MapFeatures;
  return { map, elevation };
}
