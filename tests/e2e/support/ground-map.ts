import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { readElevation } from "../../../core/mapmaking/elevation/read-elevation.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import type { Bbox, LonLat } from "../../../core/units/position.ts";

/**
 * A small invented map whose heights are a function of place, so that a test knows them without reading them.
 * @param heightM metres
 */
export async function writeGroundMap(
  folder: string,
  title: string,
  [west, south, east, north]: Bbox,
  heightM: (at: LonLat) => number,
): Promise<void> {
  const cell = 0.0005;
  const [columns, rows] = [Math.round((east - west) / cell), Math.round((north - south) / cell)];
  const lines = [
    `ncols ${columns}`,
    `nrows ${rows}`,
    `xllcorner ${west}`,
    `yllcorner ${south}`,
    `cellsize ${cell}`,
    "NODATA_value -9999",
  ];
  for (let row = 0; row < rows; row++)
    lines.push(
      Array.from({ length: columns }, (_, column) =>
        heightM([west + (column + 0.5) * cell, north - (row + 0.5) * cell]).toFixed(3),
      ).join(" "),
    );
  const grid = new TextEncoder().encode(lines.join("\n"));
  const { archive, terrain } = await makeMap({
    elevation: await readElevation(grid.buffer, "ground.asc", "EPSG:4326"),
    interval: { value: 20, unit: "m" },
    about: { title, source: null, date: null, attribution: null, datum: null, invented: true },
  });
  await writeFile(join(folder, `${title}.pmtiles`), archive);
  await writeFile(join(folder, `${title}.terrain.pmtiles`), terrain);
}
