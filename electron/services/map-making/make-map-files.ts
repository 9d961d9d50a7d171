import type { FeatureStore } from "../../../core/mapmaking/feature-store.ts";
import { makeMapInto } from "../../../core/mapmaking/make-map.ts";
import type { Made, SourceRequest } from "../../../core/mapmaking/map-request.ts";
import type { MakeOptions } from "../../../core/mapmaking/pace.ts";
import { type ArchiveCounts, pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import { saveAll } from "../atomic-save.ts";
import { type HiredCrew, hireCrew } from "./map-crew.ts";
import { fileSpool, type ScratchFile, scratchFile } from "./scratch-file.ts";
import type { StoredHeights } from "./stored-heights.ts";

export interface MapFiles {
  readonly path: string;
  readonly terrainPath: string;
}

/** Features with the file that they wait in. */
export interface StoredFeatures {
  readonly store: FeatureStore;
  readonly fd: number;
}

export type MadeFiles = Made["report"] & {
  readonly archive: ArchiveCounts;
  readonly terrainTiles: ArchiveCounts;
};

/**
 * Makes a map on all processors into two files, both or neither. Finished tiles wait in nameless files beside them; a
 * process that is killed leaves at most a hidden file that is no archive yet.
 * @throws Fault as `makeMapInto` and `saveAll`
 */
export async function makeMapFiles(
  { source, fd, filledShare, filledAreas }: StoredHeights,
  { store, fd: featuresFd }: StoredFeatures,
  request: Omit<SourceRequest, "filledShare" | "filledAreas">,
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
    const archive = pmtilesWriter("mvt", fileSpool(beside(path)));
    const terrain = pmtilesWriter("png", fileSpool(beside(terrainPath)));
    const made = await makeMapInto(
      source,
      store,
      { ...request, filledShare, filledAreas },
      { archive, terrain },
      async (setup) => (crew = hireCrew(setup, { heights: fd, features: featuresFd }, options.signal)),
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
