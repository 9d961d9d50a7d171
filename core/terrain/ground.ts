/** The ground a walk goes over: the map, and heights where there are terrain tiles. */
import type { MapFeatures } from "../map/features.ts";
import type { MapInfo } from "../map/metadata.ts";
import { openMap } from "../map/open-map.ts";
import type { ByteSource } from "../map/source.ts";
import { type Bbox, growBbox } from "../units/position.ts";
import { CONTOUR_SEARCH_M } from "./contour-profile.ts";
import type { ElevationModel } from "./elevation.ts";
import { type GroundDecoders, openTerrain } from "./terrain-tiles.ts";

export interface Ground {
  readonly map: MapFeatures;
  readonly elevation: ElevationModel | null;
}

/**
 * @param archive vector tiles
 * @param terrain terrain tiles; null when there are none
 * @param decoders what the host unpacks and decodes, beyond gzip and PNG
 * @param roles set by a person for the archive; null takes those it says, or a guess
 * @throws Fault "bad-archive" naming the one that is damaged
 */
export async function openGround(
  archive: ByteSource,
  terrain: ByteSource | null,
  decoders: GroundDecoders = {},
  roles: MapInfo["roles"] | null = null,
): Promise<Ground> {
  const [map, elevation] = await Promise.all([
    openMap(archive, decoders, roles),
    terrain ? openTerrain(terrain, decoders) : null,
  ]);
  return { map, elevation };
}

/**
 * Reads what the legs within a box need; afterwards they can be worked out without waiting.
 * Without terrain tiles contours around the box are read as well: heights beside a leg come from them.
 */
export async function prepareGround(ground: Ground, bbox: Bbox, signal?: AbortSignal): Promise<void> {
  const { map, elevation } = ground;
  await Promise.all([
    map.prepare(elevation ? bbox : growBbox(bbox, CONTOUR_SEARCH_M), signal),
    elevation?.prepare(bbox, signal),
  ]);
}
