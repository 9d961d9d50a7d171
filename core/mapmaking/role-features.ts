/** Features handed in by makers of maps, brought into tile units and checked. */
import { Fault } from "../fault.ts";
import type { Role } from "../map/kinds.ts";
import { ROLES } from "../map/kinds.ts";
import { worldX, worldY } from "./elevation/grid-placement.ts";
import { AREA, LINE, POINT, type RoleFeature, type TileFeature } from "./tile-feature.ts";
import { wound } from "./vector-tiles.ts";
import { EXTENT } from "./vector-tile-layer.ts";

/** Lowest zoom a role is drawn at when the feature says nothing: big and few first. */
const FROM_ZOOM: Readonly<Partial<Record<Role, number>>> = {
  water: 8,
  wood: 8,
  road: 9,
  rail: 9,
  restricted: 9,
  boundary: 9,
  stream: 10,
  peak: 10,
  name: 10,
  wetland: 11,
  path: 11,
  powerLine: 11,
  cliff: 12,
  wall: 12,
  fence: 12,
};
const ELSE_FROM_ZOOM = 12;

/** World x, y (0–1) to the units of a zoom. */
export const unitsOf = (world: number, maxZoom: number): number => Math.round(world * EXTENT * 2 ** maxZoom);

/**
 * @param index of the feature, for messages
 * @throws Fault "bad-argument" for an unknown role, a position that is none, a line of one position, or a ring that is not closed
 */
export function tileFeatureOf(feature: RoleFeature, index: number, maxZoom: number): TileFeature {
  const where = `feature ${index} (${feature.role})`;
  const fail = (what: string): never => {
    throw new Fault("bad-argument", what, where);
  };
  if (!ROLES.includes(feature.role)) fail("The map has no layer for this role.");
  const units = (positions: readonly (readonly number[])[]): Int32Array => {
    const out = new Int32Array(2 * positions.length);
    positions.forEach((position, i) => {
      const lon = position[0] ?? Number.NaN;
      const lat = position[1] ?? Number.NaN;
      if (!(Math.abs(lon) <= 180 && Math.abs(lat) <= 85.05))
        fail(`Position ${i}, ${lon}, ${lat}, is not on the map.`);
      out[2 * i] = unitsOf(worldX(lon), maxZoom);
      out[2 * i + 1] = unitsOf(worldY(lat), maxZoom);
    });
    return out;
  };
  const ring = (positions: readonly (readonly number[])[]): Int32Array => {
    const first = positions[0];
    const last = positions.at(-1);
    if (positions.length < 4 || first?.[0] !== last?.[0] || first?.[1] !== last?.[1])
      fail("A ring needs four positions or more, the last equal to the first.");
    return units(positions);
  };
  const { geometry, role, attributes = {} } = feature;
  const minZoom = Math.min(maxZoom, feature.minZoom ?? FROM_ZOOM[role] ?? ELSE_FROM_ZOOM);
  if (geometry.type === "Point")
    return { role, type: POINT, parts: [units([geometry.coordinates])], attributes, minZoom };
  if (geometry.type === "Polygon")
    return { role, type: AREA, parts: wound(geometry.coordinates.map(ring)), attributes, minZoom };
  if (geometry.coordinates.length < 2) fail("A line needs two positions or more.");
  return { role, type: LINE, parts: [units(geometry.coordinates)], attributes, minZoom };
}
