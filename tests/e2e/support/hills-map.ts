import { readFile, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { readElevation } from "../../../core/mapmaking/elevation/read-elevation.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";

/** A small map made from a real elevation model, for tests that need an archive of their own. See tests/fixtures/cli. */
export async function writeHillsMap(folder: string, name = "hills"): Promise<string> {
  const model = fileURLToPath(new URL("../../fixtures/cli/hills.tif", import.meta.url));
  const bytes = new Uint8Array(await readFile(model));
  const { archive, terrain } = await makeMap({
    elevation: await readElevation(bytes.buffer, basename(model)),
    interval: { value: 20, unit: "m" },
    about: { title: "Hills", source: "SRTM", date: "2000", attribution: null, datum: null, invented: false },
  });
  const path = join(folder, `${name}.pmtiles`);
  await writeFile(path, archive);
  await writeFile(join(folder, `${name}.terrain.pmtiles`), terrain);
  return path;
}
