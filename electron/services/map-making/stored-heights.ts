/** A model's heights in a nameless file, where all threads read the windows they work on. */
import { fillNotes, fillVoids } from "../../../core/mapmaking/elevation/fill-voids.ts";
import type { BandedModels } from "../../../core/mapmaking/elevation/read-elevation.ts";
import type { HeightSource } from "../../../core/mapmaking/height-source.ts";
import { type MakeOptions, pace } from "../../../core/mapmaking/pace.ts";
import { Fault } from "../../../core/fault.ts";
import { heightFile } from "./height-file.ts";
import { scratchFile } from "./scratch-file.ts";

export interface StoredHeights {
  readonly source: HeightSource;
  readonly fd: number;
  /** Share of the heights that were made up, and where: as `FilledVoids` has it. */
  readonly filledShare: number;
  readonly filledAreas: readonly (readonly Float64Array[])[];
  /** Sentences that a person should read. */
  readonly notes: readonly string[];
  close(): void;
}

export const FILLING = "Filling missing heights";

/**
 * @param beside the file lies beside this path
 * @param fillCells voids up to so many cells wide are filled; 0 for none
 * @throws Fault as reading the model does; "cancelled"
 */
export async function storeHeights(
  model: BandedModels,
  beside: string,
  fillCells: number,
  options: MakeOptions,
): Promise<StoredHeights> {
  const file = scratchFile(beside);
  try {
    for await (const band of model.bands()) {
      if (options.signal?.aborted) throw new Fault("cancelled", "Making the map was cancelled.");
      file.append(new Uint8Array(band.buffer, band.byteOffset, band.byteLength));
    }
    const { frame } = model;
    const source = heightFile(frame, file.fd);
    const going = pace(options);
    if (fillCells > 0) going.stage(FILLING, 1);
    const done = await fillVoids(
      {
        ...source,
        put: (row, column, heights) =>
          file.write(
            4 * (row * frame.columns + column),
            new Uint8Array(heights.buffer, heights.byteOffset, heights.byteLength),
          ),
      },
      fillCells,
      going,
    );
    return {
      source,
      fd: file.fd,
      filledShare: done.filled / (frame.columns * frame.rows),
      filledAreas: done.areas,
      notes: [...model.notes, ...fillNotes(done, frame)],
      close: () => file.close(),
    };
  } catch (thrown) {
    file.close();
    throw thrown;
  }
}
