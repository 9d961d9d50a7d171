import { Fault } from "../../../core/fault.ts";
import type { Frame } from "../../../core/mapmaking/height-source.ts";
import { makeMapInto } from "../../../core/mapmaking/make-map.ts";
import type { Made, MapRequest } from "../../../core/mapmaking/map-request.ts";
import type { MakeOptions } from "../../../core/mapmaking/pace.ts";
import { type ArchiveCounts, pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import { saveAll } from "../atomic-save.ts";
import { heightFile } from "./height-file.ts";
import { type HiredCrew, hireCrew } from "./map-crew.ts";
import { fileSpool, type ScratchFile, scratchFile } from "./scratch-file.ts";

/** A model whose heights come band by band, so that it never lies in memory as a whole. */
export interface BandedModel {
  readonly frame: Frame;
  /** Share of the heights that were made up. */
  readonly filledShare: number;
  /** All rows from the north, some at a time. */
  bands(): AsyncIterable<Float32Array> | Iterable<Float32Array>;
}

export interface MapFiles {
  readonly path: string;
  readonly terrainPath: string;
}

export type MadeFiles = Made["report"] & {
  readonly archive: ArchiveCounts;
  readonly terrainTiles: ArchiveCounts;
};

/**
 * Makes a map on all processors into two files, both or neither. Heights and finished tiles wait in nameless files
 * beside them; a process that is killed leaves at most a hidden file that is no archive yet.
 * @throws Fault as `makeMapInto` and `saveAll`
 */
export async function makeMapFiles(
  model: BandedModel,
  request: Omit<MapRequest, "elevation">,
  { path, terrainPath }: MapFiles,
  options: MakeOptions = {},
): Promise<MadeFiles> {
  const scratch: ScratchFile[] = [];
  let crew: HiredCrew | null = null;
  const beside = (name: string): ScratchFile => {
    const file = scratchFile(name);
    scratch.push(file);
    return file;
  };
  try {
    const heights = beside(path);
    for await (const band of model.bands()) {
      if (options.signal?.aborted) throw new Fault("cancelled", "Making the map was cancelled.");
      heights.append(new Uint8Array(band.buffer, band.byteOffset, band.byteLength));
    }
    const archive = pmtilesWriter("mvt", fileSpool(beside(path)));
    const terrain = pmtilesWriter("png", fileSpool(beside(terrainPath)));
    const made = await makeMapInto(
      heightFile(model.frame, heights.fd),
      { ...request, filledShare: model.filledShare },
      { archive, terrain },
      async (setup) => (crew = hireCrew(setup, heights.fd, options.signal)),
      options,
    );
    const map = archive.stream(made.archive);
    const ground = terrain.stream(made.terrain);
    await saveAll([
      { path: terrainPath, content: ground.pieces },
      { path, content: map.pieces },
    ]);
    options.progress?.({ stage: "Done", done: 1, leftS: 0 });
    return { ...made.report, archive: map.counts, terrainTiles: ground.counts };
  } finally {
    await (crew as HiredCrew | null)?.dismiss();
    for (const file of scratch) file.close();
  }
}
