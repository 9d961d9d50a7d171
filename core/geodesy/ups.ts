/**
 * Universal Polar Stereographic, the grid of the poles.
 * Source: NGA.SIG.0012 (The Universal Grids and the Transverse Mercator and Polar Stereographic Map Projections);
 * scale as in J. P. Snyder, USGS Professional Paper 1395 (1987), eq. 21-32.
 */
import { normalise180 } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import { parallelRadius } from "./ellipsoid.ts";
import { type EastNorth, type GridFactors, type Projection, projectionOf } from "./projection.ts";

const FALSE_M = 2_000_000;
const POLE_SCALE = 0.994;

const polar = (lat0: 90 | -90): Projection =>
  projectionOf(
    `+proj=stere +lat_0=${lat0} +lon_0=0 +k=${POLE_SCALE} +x_0=${FALSE_M} +y_0=${FALSE_M} +datum=WGS84`,
  );
const north = polar(90);
const south = polar(-90);

export const upsProjection = (hemisphere: "N" | "S"): Projection => (hemisphere === "N" ? north : south);

/** Convergence and scale where the grid coordinates are known already. */
export function upsFactors(lonLat: LonLat, [e, n]: EastNorth, hemisphere: "N" | "S"): GridFactors {
  const rho = Math.hypot(e - FALSE_M, n - FALSE_M);
  return {
    convergenceDeg: normalise180(hemisphere === "N" ? lonLat[0] : -lonLat[0]),
    // Within a metre of the pole both radii shrink to noise, and the scale differs from the pole's by under 1e-13.
    scale: rho < 1 ? POLE_SCALE : rho / parallelRadius(lonLat[1]),
  };
}
