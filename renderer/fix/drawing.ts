/** Lines, ellipses and dots on the ground as SVG over the map. */
import type { Map as MapLibreMap } from "maplibre-gl";
import type { ErrorEllipse } from "../../core/fix/ellipse.ts";
import { direct } from "../../core/geodesy/geodesic.ts";
import { DEG, trueBearing } from "../../core/units/angle.ts";
import type { LonLat } from "../../core/units/position.ts";

const STEPS = 72;

export interface Pixels {
  readonly x: number;
  readonly y: number;
}

export const pixelsOf =
  (map: MapLibreMap) =>
  ([lon, lat]: LonLat): Pixels =>
    map.project([lon, lat]);

export const pathOf = (map: MapLibreMap, places: readonly LonLat[]): string =>
  places
    .map(pixelsOf(map))
    .map(({ x, y }, i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`)
    .join("");

export const ringOf = (
  map: MapLibreMap,
  at: LonLat,
  { semiMajorM, semiMinorM, bearing }: ErrorEllipse,
): string => {
  const ring = Array.from({ length: STEPS }, (_, i) => {
    const angle = (2 * Math.PI * i) / STEPS;
    const [along, across] = [semiMajorM * Math.cos(angle), semiMinorM * Math.sin(angle)];
    return direct(at, trueBearing(bearing + Math.atan2(across, along) / DEG), Math.hypot(along, across));
  });
  return `${pathOf(map, ring)}Z`;
};
