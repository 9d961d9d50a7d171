/** Files of features as the host hands them in, and reading them from end to end in pieces. */
import { Fault } from "../fault.ts";
import type { ByteSource } from "../map/source.ts";

/** A file somebody made a map's features of. Its `key` is its name, not a path. */
export interface FeatureFile extends ByteSource {
  readonly sizeBytes: number;
  /** The file of the same name with another ending ("dbf"), in any case of letters; null when there is none. */
  readonly beside?: (ending: string) => Promise<FeatureFile | null>;
}

export function bytesFile(
  name: string,
  bytes: Uint8Array,
  beside?: (ending: string) => FeatureFile | null,
): FeatureFile {
  return {
    key: name,
    sizeBytes: bytes.length,
    read: async (offset, length) => bytes.subarray(offset, offset + length),
    ...(beside && { beside: async (ending: string) => beside(ending) }),
  };
}

/** Called between pieces of work, with the bytes read since the last call; lets others run, and stops the work. */
export type Tick = (bytes: number) => Promise<void>;
export const noTick: Tick = async () => undefined;

const PIECE_BYTES = 2 ** 18;

/** A file's bytes from `from` on, piece by piece. */
export async function* piecesOf(file: FeatureFile, tick: Tick, from = 0): AsyncGenerator<Uint8Array> {
  for (let at = from; at < file.sizeBytes;) {
    const piece = await file.read(at, Math.min(PIECE_BYTES, file.sizeBytes - at));
    if (piece.length === 0) throw badFeatures("The file ends before its end.", `${file.key}, byte ${at}`);
    at += piece.length;
    yield piece;
    await tick(piece.length);
  }
}

/**
 * Exactly `length` bytes.
 * @throws Fault "bad-features" when the file ends before
 */
export async function exactly(
  file: FeatureFile,
  offset: number,
  length: number,
  what: string,
): Promise<Uint8Array> {
  const bytes = offset + length <= file.sizeBytes ? await file.read(offset, length) : null;
  if (bytes?.length !== length)
    throw badFeatures(
      `The file is cut short: ${what} would end beyond its end.`,
      `${file.key}, byte ${offset}`,
    );
  return bytes;
}

/** The whole of a file that must be small. @throws Fault "bad-features" when it is not */
export async function wholeFile(
  file: FeatureFile,
  mostBytes: number,
  tick: Tick = noTick,
): Promise<Uint8Array> {
  if (file.sizeBytes > mostBytes)
    throw badFeatures(
      `The file has ${megabytes(file.sizeBytes)} MB; one of its kind may have ${megabytes(mostBytes)} MB here.`,
      file.key,
    );
  const bytes = await exactly(file, 0, file.sizeBytes, "it");
  await tick(bytes.length);
  return bytes;
}

const megabytes = (bytes: number): string => (bytes / 2 ** 20).toFixed(0);

export const badFeatures = (
  what: string,
  where: string,
  remedy = "Get the file again, or leave it out.",
): Fault => new Fault("bad-features", what, where, remedy);

/** Runs a decoder of untrusted bytes: whatever it trips over becomes one fault that names the place. */
export function decoding<T>(what: string, where: string, decode: () => T): T {
  try {
    return decode();
  } catch (error) {
    if (error instanceof Fault) throw error;
    const why = error instanceof Error ? error.message : String(error);
    throw badFeatures(`${what} is damaged: ${why.slice(0, 200)}`, where);
  }
}
