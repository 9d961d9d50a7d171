import { open } from "node:fs/promises";
import { basename } from "node:path";
import { Worker } from "node:worker_threads";
import { Fault } from "../../../core/fault.ts";
import type { StoredTile } from "../../../core/mapmaking/archive-copy.ts";
import type { MbtilesRows } from "../../../core/mapmaking/archive-copy-mbtiles.ts";
import { builtWorker } from "../built-worker.ts";
import { fileFault } from "../file-faults.ts";
import type { MbtilesAnswer, TileBatch } from "./mbtiles-messages.ts";

export interface MbtilesReader {
  readonly rows: MbtilesRows;
  /** How many tiles there are, about; null where that cannot be told without reading them. */
  readonly tilesAbout: number | null;
  /** All tiles, rows counted from the north, in the order they lie in. */
  tiles(): AsyncIterable<StoredTile>;
  close(): Promise<void>;
}

/** Some thousand tiles take well under a second; a view can be written so that it never comes to an end. No source. */
const PATIENCE_MS = 60_000;
/** SQLite file format, section 1.3. */
const SQLITE_MAGIC = "SQLite format 3\0";

/**
 * Opens an MBTiles archive in a thread of its own.
 * @param signal ends the thread, whatever it is at
 * @param patienceMs how long one answer may take
 * @throws Fault "bad-archive" when it is no SQLite file, damaged, or no MBTiles archive; "no-file"; "cancelled"
 */
export async function openMbtiles(
  path: string,
  signal?: AbortSignal,
  patienceMs = PATIENCE_MS,
): Promise<MbtilesReader> {
  const name = basename(path);
  await checkMagic(path);
  const thread = new Worker(builtWorker("mbtiles-worker"), {
    workerData: { path },
    execArgv: [],
    resourceLimits: { maxOldGenerationSizeMb: 512 },
  });
  const fault = (what: string): Fault =>
    new Fault("bad-archive", what, name, "Copy the file again or make it anew.");
  const ask = (question: boolean): Promise<MbtilesAnswer> =>
    new Promise((resolve, reject) => {
      const answered = (answer: MbtilesAnswer): void => end(() => resolve(answer));
      const failed = (error: Error): void =>
        end(() => reject(fault(`The archive cannot be read: ${error.message}.`)));
      const stopped = (): void => end(() => reject(fault("Reading the archive stopped.")));
      const cancelled = (): void =>
        end(() => reject(new Fault("cancelled", "Converting the archive was cancelled.")));
      const timer = setTimeout(
        () => end(() => reject(fault("Reading the archive comes to no end."))),
        patienceMs,
      );
      const end = (settle: () => void): void => {
        clearTimeout(timer);
        signal?.removeEventListener("abort", cancelled);
        thread.off("message", answered).off("error", failed).off("exit", stopped);
        settle();
      };
      thread.on("message", answered).on("error", failed).on("exit", stopped);
      signal?.addEventListener("abort", cancelled, { once: true });
      if (signal?.aborted) cancelled();
      else if (question) thread.postMessage(null, []);
    });
  const asked = async (question: boolean): Promise<Exclude<MbtilesAnswer, { fault: unknown }>> => {
    const answer = await ask(question);
    if ("fault" in answer) throw Fault.fromRecord(answer.fault);
    return answer;
  };
  try {
    const first = await asked(false);
    if (!("about" in first)) throw new Fault("internal", "The archive was answered for out of turn.", name);
    const { rows, tiles } = first.about;
    return {
      rows,
      tilesAbout: tiles,
      async *tiles() {
        for (;;) {
          const answer = await asked(true);
          if (!("batch" in answer) || answer.batch === null) return;
          yield* tilesIn(answer.batch);
        }
      },
      close: async () => void (await thread.terminate()),
    };
  } catch (error) {
    await thread.terminate();
    throw error;
  }
}

async function checkMagic(path: string): Promise<void> {
  try {
    const file = await open(path, "r");
    try {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(16), 0, 16, 0);
      if (bytesRead === 16 && buffer.toString("latin1") === SQLITE_MAGIC) return;
    } finally {
      await file.close();
    }
  } catch (error) {
    throw fileFault(error, path, "could not be opened");
  }
  throw new Fault(
    "bad-archive",
    "This is no MBTiles archive: it is not an SQLite file.",
    basename(path),
    "Choose a .mbtiles or .pmtiles archive.",
  );
}

function* tilesIn({ index, bytes }: TileBatch): Generator<StoredTile> {
  let from = 0;
  for (let i = 0; i < index.length; i += 4) {
    const to = from + (index[i + 3] as number);
    yield {
      z: index[i] as number,
      x: index[i + 1] as number,
      y: index[i + 2] as number,
      bytes: bytes.subarray(from, to),
    };
    from = to;
  }
}
