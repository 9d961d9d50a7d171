/**
 * UTM on WGS 84, with UPS at the poles as zone 0.
 * Source: NGA.STND.0037 and NGA.SIG.0012. The projection itself is proj4's transverse Mercator (Poder and
 * Engsager's series, exact to well under a millimetre within a zone and its neighbours).
 */
import { Fault } from "../fault.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import { type EastNorth, gridFactors, type Projection, projectionOf } from "./projection.ts";
import { upsFactors, upsProjection } from "./ups.ts";
import { type UtmZone, utmZoneOf } from "./utm-zone.ts";

export interface UtmPosition {
  /** 1–60, or 0 for UPS. */
  readonly zone: UtmZone;
  readonly hemisphere: "N" | "S";
  /** With the false easting of 500 km (UPS: 2000 km). */
  readonly eastingM: number;
  /** In the southern hemisphere with the false northing of 10 000 km (UPS: 2000 km in both). */
  readonly northingM: number;
}

export interface Utm extends UtmPosition {
  /** Grid north minus true north, degrees, east positive. */
  readonly convergenceDeg: number;
  /** Point scale: grid length over length on the ellipsoid. */
  readonly scale: number;
}

const projections = new Map<string, Projection>();

/**
 * The projection of a zone and hemisphere, for drawing many positions in one grid.
 * @throws Fault "bad-argument" for a zone that does not exist
 */
export function utmProjection(zone: UtmZone, hemisphere: "N" | "S"): Projection {
  if (!Number.isInteger(zone) || zone < 0 || zone > 60)
    throw new Fault("bad-argument", `UTM zone ${zone} does not exist: zones run from 1 to 60.`);
  if (zone === 0) return upsProjection(hemisphere);
  const key = `${zone}${hemisphere}`;
  let projection = projections.get(key);
  if (!projection) {
    projection = projectionOf(`+proj=utm +zone=${zone} ${hemisphere === "S" ? "+south " : ""}+datum=WGS84`);
    projections.set(key, projection);
  }
  return projection;
}

/**
 * The UTM coordinates of a position, within 1 mm, with convergence within 1e-6° and scale within 1e-9.
 * @param zone another zone than the position's own, for a map that carries its neighbour's grid on
 * @throws Fault "bad-argument" for a position that is none or a zone that does not exist
 */
export function toUtm(lonLat: LonLat, zone: UtmZone = utmZoneOf(lonLat)): Utm {
  const [, lat] = checkLonLat(lonLat);
  const hemisphere = lat < 0 ? "S" : "N";
  const projection = utmProjection(zone, hemisphere);
  const at: EastNorth = projection.forward(lonLat);
  const factors = zone === 0 ? upsFactors(lonLat, at, hemisphere) : gridFactors(projection, lonLat);
  return { zone, hemisphere, eastingM: at[0], northingM: at[1], ...factors };
}

/**
 * The position of UTM (zone 0: UPS) coordinates.
 * @throws Fault "bad-argument" for a zone that does not exist or figures that are not finite, "out-of-range" for
 *   coordinates no place of that grid has
 */
export function fromUtm({ zone, hemisphere, eastingM, northingM }: UtmPosition): LonLat {
  const projection = utmProjection(zone, hemisphere);
  const ups = zone === 0;
  const where = `${ups ? "UPS" : `zone ${zone}`} ${hemisphere}`;
  if (Number.isFinite(eastingM) && Number.isFinite(northingM)) {
    // As wide as the MGRS squares go: a zone may be carried on into its neighbours.
    const [minE, maxE] = ups ? [0, 4_000_000] : [100_000, 900_000];
    const [minN, maxN] = ups ? [0, 4_000_000] : hemisphere === "N" ? [0, 9_600_000] : [900_000, 10_000_000];
    if (eastingM < minE || eastingM > maxE)
      throw new Fault("out-of-range", `Easting ${eastingM} m is outside ${minE} to ${maxE} m.`, where);
    if (northingM < minN || northingM > maxN)
      throw new Fault("out-of-range", `Northing ${northingM} m is outside ${minN} to ${maxN} m.`, where);
  }
  return projection.inverse([eastingM, northingM]);
}
