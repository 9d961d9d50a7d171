import { basename, resolve } from "node:path";
import { readElevation } from "../../core/mapmaking/elevation/elevation-geotiff.ts";
import { parseInterval } from "../../core/mapmaking/interval.ts";
import { makeMap } from "../../core/mapmaking/make-map.ts";
import { saveAll } from "../services/atomic-save.ts";
import { terrainPathOf } from "./map-files.ts";
import { checkFolderOf } from "./product.ts";
import { progressLine } from "./progress-line.ts";
import { readInput } from "./read-input.ts";

export interface MakeMapOptions {
  readonly elevation: string;
  readonly interval: string;
  readonly title?: string;
  readonly source?: string;
  readonly date?: string;
  readonly attribution?: string;
  readonly datum?: string;
  readonly crs?: string;
}

/** `make-map OUT`: an elevation model into OUT.pmtiles and OUT.terrain.pmtiles, both or neither. */
export async function makeMapFile(out: string, options: MakeMapOptions): Promise<void> {
  const path = resolve(out);
  const terrainPath = terrainPathOf(path);
  const interval = parseInterval(options.interval);
  await checkFolderOf(path);
  const bytes = await readInput(options.elevation);
  const elevation = await readElevation(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
    basename(options.elevation),
    options.crs,
  );

  const stop = new AbortController();
  const interrupt = (): void => stop.abort();
  process.once("SIGINT", interrupt).once("SIGTERM", interrupt);
  const line = progressLine(process.stderr);
  try {
    const { archive, terrain } = await makeMap(
      {
        elevation,
        interval,
        about: {
          title: options.title ?? basename(path).replace(/\.pmtiles$/i, ""),
          source: options.source ?? basename(options.elevation),
          date: options.date ?? null,
          attribution: options.attribution ?? null,
          datum: options.datum ?? null,
          invented: false,
        },
      },
      {
        progress: ({ stage, done }) => {
          if (done < 1) line.show(`${stage} … ${Math.floor(done * 100)} %`);
        },
        signal: stop.signal,
      },
    );
    await saveAll([
      { path: terrainPath, content: terrain },
      { path, content: archive },
    ]);
  } finally {
    line.clear();
    process.off("SIGINT", interrupt).off("SIGTERM", interrupt);
  }
}
