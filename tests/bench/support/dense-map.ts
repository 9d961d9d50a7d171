/** The generated worst case: rough ground with contours every few metres under a town's real roads and rivers. */
import { readFileSync } from "node:fs";
import type { ElevationGrid } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import type { RoleFeature } from "../../../core/mapmaking/tile-feature.ts";
import type { Role } from "../../../core/map/kinds.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import type { LonLat } from "../../../core/units/position.ts";

const WEST = 20.4;
const NORTH = -33.985;
const STEP = 1 / 3600;
const SIDE = 420;

/** Sums of waves of falling length: as rough at every scale as hills are, and the same on every machine. */
function roughGrid(): ElevationGrid {
  const heights = new Float32Array(SIDE * SIDE);
  for (let row = 0; row < SIDE; row++)
    for (let column = 0; column < SIDE; column++) {
      let h = 400;
      for (let k = 0, size = 150, wave = 260; k < 5; k++, size *= 0.45, wave *= 0.47)
        h +=
          size * Math.sin((6.3 * (column + 0.3 * k * row)) / wave + k) * Math.cos((6.3 * row) / wave + 2 * k);
      heights[row * SIDE + column] = h;
    }
  return {
    key: "rough ground",
    columns: SIDE,
    rows: SIDE,
    heights,
    origin: [WEST, NORTH],
    step: [STEP, -STEP],
    crs: WGS84,
  };
}

export async function denseGround(): Promise<Ground> {
  const { archive, terrain } = await denseArchives(5);
  return openGround(bytesSource("rough.pmtiles", archive), bytesSource("rough.terrain.pmtiles", terrain));
}

export function denseArchives(intervalM: number): Promise<{ archive: Uint8Array; terrain: Uint8Array }> {
  const { features } = JSON.parse(
    readFileSync(new URL("../../fixtures/legs/lines.geojson", import.meta.url), "utf8"),
  ) as {
    features: { properties: { kind: string; name: string }; geometry: { coordinates: LonLat[] } }[];
  };
  const roles: Record<string, Role> = { road: "road", path: "path", river: "stream", shore: "water" };
  const drawn = features.map(({ properties: { kind, name }, geometry: { coordinates } }): RoleFeature => ({
    role: roles[kind] as Role,
    geometry: { type: "LineString", coordinates },
    attributes: { name, ...(kind === "river" && { class: "river" }) },
  }));
  return makeMap({
    elevation: roughGrid(),
    features: drawn,
    interval: { value: intervalM, unit: "m" },
    about: {
      title: "Rough ground",
      source: "Generated",
      date: null,
      attribution: "© OpenStreetMap contributors",
      datum: null,
      invented: true,
    },
    zooms: { min: 12, max: 14 },
  });
}

/** Ten points around the town, legs of 0.5 to 2.5 km. */
export const DENSE_WALK: readonly LonLat[] = [
  [20.425, -34.045],
  [20.43, -34.035],
  [20.437, -34.026],
  [20.432, -34.015],
  [20.445, -34.008],
  [20.456, -34.016],
  [20.452, -34.03],
  [20.465, -34.04],
  [20.48, -34.03],
  [20.475, -34.012],
];
