/** What goes into vector tiles, on its way there. */
import type { Role } from "../map/kinds.ts";
import type { Attributes } from "../map/features.ts";

/** A thing with a role, as makers of maps hand it in: positions are longitude, latitude in degrees WGS 84. */
export interface RoleFeature {
  readonly role: Role;
  readonly geometry:
    | { readonly type: "Point"; readonly coordinates: readonly number[] }
    | { readonly type: "LineString"; readonly coordinates: readonly (readonly number[])[] }
    | { readonly type: "Polygon"; readonly coordinates: readonly (readonly (readonly number[])[])[] };
  readonly attributes?: Attributes;
  /** Lowest zoom it is drawn at; left out, its role decides. */
  readonly minZoom?: number;
}

/** The layer of ground whose heights were made up: no thing on the ground, so no role. */
export const FILLED = "filled";
export type TileLayerName = Role | typeof FILLED;

export const POINT = 1;
export const LINE = 2;
export const AREA = 3;

/**
 * A feature in the whole-number grid of the highest zoom: the world is 4096 · 2^maxZoom units wide, x eastward and
 * y southward, so that all zooms and tiles cut from one geometry and their shared edges match.
 */
export interface TileFeature {
  readonly role: TileLayerName;
  readonly type: typeof POINT | typeof LINE | typeof AREA;
  /** x, y, x, y …; one part a point or line, one ring a part for areas, the first position repeated at its end. */
  readonly parts: readonly Int32Array[];
  readonly attributes: Attributes;
  readonly minZoom: number;
}
