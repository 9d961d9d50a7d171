/** Ground made from the real elevation models among the fixtures, cut to a part so that it is soon made. */
import { readFileSync } from "node:fs";
import type { LonLat } from "../../../../core/units/position.ts";
import { readElevation } from "../../../../core/mapmaking/elevation/read-elevation.ts";
import type { ElevationGrid } from "../../../../core/mapmaking/elevation/elevation-grid.ts";
import { makeMap } from "../../../../core/mapmaking/make-map.ts";
import { bytesSource } from "../../../../core/map/source.ts";
import { type Ground, openGround } from "../../../../core/terrain/ground.ts";

const fixture = (path: string): Buffer => readFileSync(new URL(`../../../fixtures/${path}`, import.meta.url));

/** A leg and what GDAL makes of it, see tests/fixtures/terrain/README.md. */
export interface GdalLeg {
  readonly from: LonLat;
  readonly to: LonLat;
  readonly lengthM: number;
  /** With a threshold of 2 m, on bilinear heights every metre. */
  readonly climbM: number;
  readonly descentM: number;
  /** Bilinear, metres, at 0, stepM, 2·stepM … from the start. */
  readonly heights: readonly number[];
}

export function gdalLegs(name: "jacksboro" | "bigtujunga"): { stepM: number; legs: GdalLeg[] } {
  const [, , ...lines] = fixture(`terrain/${name}.tsv`).toString().trimEnd().split("\n");
  const legs = lines.map((line) => {
    const cells = line.split("\t");
    const [fromLon, fromLat, toLon, toLat, lengthM, climbM, descentM] = cells.slice(0, 7).map(Number) as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const heights = cells[7]!.split(" ").map(Number);
    return { from: [fromLon, fromLat], to: [toLon, toLat], lengthM, climbM, descentM, heights } as const;
  });
  return { stepM: 10, legs };
}

function cut(
  grid: ElevationGrid,
  column0: number,
  row0: number,
  columns: number,
  rows: number,
): ElevationGrid {
  const heights = new Float32Array(columns * rows);
  for (let r = 0; r < rows; r++)
    heights.set(
      grid.heights.subarray(
        (row0 + r) * grid.columns + column0,
        (row0 + r) * grid.columns + column0 + columns,
      ),
      r * columns,
    );
  const origin = [grid.origin[0] + column0 * grid.step[0], grid.origin[1] + row0 * grid.step[1]] as const;
  return { ...grid, columns, rows, heights, origin };
}

export async function modelOf(name: "jacksboro" | "bigtujunga"): Promise<ElevationGrid> {
  const file =
    name === "jacksboro" ? "jacksboro-srtm3-epsg4326.tif" : "bigtujunga-crop-srtm30m-epsg32611.tif";
  const grid = await readElevation(new Uint8Array(fixture(`elevation/${file}`)).buffer, file);
  // Columns and rows 1/1200° apart; the legs lie between 84.31° and 84.21° W, 36.56° and 36.64° N.
  return name === "jacksboro" ? cut(grid, 110, 100, 150, 120) : grid;
}

export async function realGround(name: "jacksboro" | "bigtujunga", intervalM: number): Promise<Ground> {
  const { archive, terrain } = await makeMap({
    elevation: await modelOf(name),
    interval: { value: intervalM, unit: "m" },
    about: { title: name, source: "SRTM", date: "2000", attribution: null, datum: "EGM96", invented: false },
  });
  return openGround(bytesSource(`${name}.pmtiles`, archive), bytesSource(`${name}.terrain.pmtiles`, terrain));
}
