/**
 * Slope and aspect of the ground at a place.
 * Source of the formula: B. K. P. Horn, Hill shading and the reflectance map, Proc. IEEE 69 (1981) 14–47: differences
 * over the three rows and columns around a sample, the middle ones counting twice. gdaldem slope and aspect use the same.
 */
import { meridianRadius, parallelRadius } from "../geodesy/ellipsoid.ts";
import { DEG, type TrueBearing, trueBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import type { ElevationModel, SamplesAround } from "./elevation.ts";

export interface GroundSlope {
  /** 0 level, 90 upright. */
  readonly deg: number;
  /** Where the ground faces: the way a ball would roll. Null on level ground. */
  readonly aspect: TrueBearing | null;
}

/** Heights are stored to a sixteenth of a metre: over the width of a cell less slope than this is rounding. */
const LEVEL = 1e-6;

/**
 * On the model's own samples around the one nearest to the place; where the model does not tell them, on nine places
 * the spacing apart.
 * @returns null when any of the nine heights is missing
 */
export function slopeAt(elevation: ElevationModel, lonLat: LonLat): GroundSlope | null {
  const around = elevation.samplesAround?.(lonLat) ?? evenlyAround(elevation, lonLat);
  const [nw, n, ne, w, , e, sw, s, se] = around.heights as readonly [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const acrossM = (ne + 2 * e + se - (nw + 2 * w + sw)) / 8;
  const downM = (sw + 2 * s + se - (nw + 2 * n + ne)) / 8;
  if (Number.isNaN(acrossM + downM)) return null;
  // Rise per column and per row, as gradient g: g · column = across, g · row = down.
  const [cx, cy] = around.column;
  const [rx, ry] = around.row;
  const area = cx * ry - cy * rx;
  const east = (acrossM * ry - downM * cy) / area;
  const north = (downM * cx - acrossM * rx) / area;
  const steep = Math.hypot(east, north);
  return {
    deg: Math.atan(steep) / DEG,
    aspect: steep > LEVEL ? trueBearing(Math.atan2(-east, -north) / DEG) : null,
  };
}

function evenlyAround(elevation: ElevationModel, [lon, lat]: LonLat): SamplesAround {
  const stepM = elevation.spacingM(lat);
  const [dLon, dLat] = [stepM / (parallelRadius(lat) * DEG), stepM / (meridianRadius(lat) * DEG)];
  const heights = [1, 0, -1].flatMap((r) =>
    [-1, 0, 1].map((c) => elevation.at([lon + c * dLon, lat + r * dLat])),
  );
  return { heights, column: [stepM, 0], row: [0, -stepM] };
}
