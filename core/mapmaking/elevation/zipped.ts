/** The one elevation model in a zip file, as .hgt files are commonly handed out. Nothing is written to disk. */
import { unzipSync } from "fflate";
import { Fault } from "../../fault.ts";
import { type ElevationFile, memoryFile } from "./elevation-model.ts";

/** A degree at one second has 26 MB, as ASCII about 80 MB. No source. */
const MOST_PACKED_BYTES = 300e6;
const MOST_UNPACKED_BYTES = 600e6;
/** Deflate packs at most 1032 to 1. */
const MOST_RATIO = 1040;
/** Notes and metadata lie beside the model. No source. */
const MOST_ENTRIES = 200;

const MODEL = /\.(?:hgt|asc|tiff?)$/i;

/**
 * @returns the model, and the .prj file beside it
 * @throws Fault "bad-elevation" when the file is damaged, holds no model or several, or unpacks to too much
 */
export async function unzipModel(file: ElevationFile): Promise<ElevationFile> {
  const { key } = file;
  const fail = (what: string, remedy: string): never => {
    throw new Fault("bad-elevation", what, key, remedy);
  };
  if (file.sizeBytes > MOST_PACKED_BYTES)
    fail("The zip file is too large to be unpacked here.", "Unpack it first.");
  const packed = await file.read(0, file.sizeBytes);
  const names: string[] = [];
  let entries: Record<string, Uint8Array>;
  try {
    let unpacked = 0;
    entries = unzipSync(packed, {
      filter: ({ name, size, originalSize, compression }) => {
        names.push(name);
        if (names.length > MOST_ENTRIES)
          fail(
            `The zip file holds more than ${MOST_ENTRIES} files.`,
            "Unpack it, and name the elevation model itself.",
          );
        const wanted = MODEL.test(name) || /\.prj$/i.test(name);
        // Hidden doubles that some systems add.
        if (!wanted || /(?:^|\/)(?:__MACOSX\/|\._)/.test(name)) return false;
        unpacked += originalSize;
        if (unpacked > MOST_UNPACKED_BYTES || originalSize > size * MOST_RATIO + 1000)
          fail(
            `“${baseOf(name)}” in it claims to unpack to ${originalSize} bytes.`,
            "Do not trust this file.",
          );
        if (compression !== 0 && compression !== 8)
          fail(`“${baseOf(name)}” in it is compressed by a method not read here.`, "Unpack it first.");
        return true;
      },
    });
  } catch (thrown) {
    if (thrown instanceof Fault) throw thrown;
    const reason = thrown instanceof Error ? thrown.message : String(thrown);
    return fail(`This zip file cannot be unpacked: ${reason}.`, "Copy or download it again.");
  }
  const models = Object.entries(entries).filter(([name]) => MODEL.test(name));
  const [found] = models;
  if (!found)
    return fail(
      "The zip file holds no elevation model (.hgt, .asc, .tif).",
      "Unpack it, and name the model itself.",
    );
  if (models.length > 1)
    fail(
      `The zip file holds ${models.length} elevation models.`,
      "Unpack it, and name the models one by one.",
    );
  const [name, bytes] = found;
  const prj = Object.entries(entries).find(([each]) => /\.prj$/i.test(each))?.[1];
  // The place of an .hgt file may stand in the zip file's name alone.
  const inner = memoryFile(baseOf(name), bytes, prj ? new TextDecoder().decode(prj) : (file.prj ?? null));
  return inner;
}

/** A name without folders: those in a zip file lead anywhere. */
const baseOf = (name: string): string => name.replaceAll("\\", "/").split("/").at(-1) ?? name;
