/**
 * Where the strips or tiles of a TIFF file lie, read before the library sees the file: a damaged directory can claim
 * arrays of billions of entries, and nothing may be reserved for those.
 * Source: TIFF 6.0, section 2; BigTIFF as in libtiff's specification.
 */
import { Fault } from "../../fault.ts";
import type { ElevationFile } from "./elevation-model.ts";

export interface TiffBlocks {
  readonly littleEndian: boolean;
  readonly tiled: boolean;
  /** Bytes of each strip or tile in the file; a length of 0 is one left out: no heights. */
  readonly offsets: Float64Array;
  readonly lengths: Float64Array;
}

const TYPE_BYTES = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8];
const STRIP_OFFSETS = 273;
const STRIP_LENGTHS = 279;
const TILE_OFFSETS = 324;
const TILE_LENGTHS = 325;
/** A directory has some twenty entries. No source. */
const MOST_ENTRIES = 1000;
/** Blocks of one image: 400 million samples in blocks of one line each are far fewer. No source. */
const MOST_BLOCKS = 4e6;

/**
 * Checks the file's first directory, and gives its blocks.
 * @throws Fault "bad-elevation" when it is no TIFF file, or reaches beyond its end
 */
export async function tiffBlocks(file: ElevationFile): Promise<TiffBlocks> {
  const fail = (what: string): never => {
    throw new Fault(
      "bad-elevation",
      what,
      file.key,
      "Copy or download it again, and check it: gdalinfo FILE",
    );
  };
  const bytesAt = async (offset: number, length: number, what: string): Promise<DataView> => {
    if (!(offset >= 0 && offset + length <= file.sizeBytes))
      return fail(`The file ends before ${what} does: it was cut off, or is damaged.`);
    const bytes = await file.read(offset, length);
    if (bytes.length < length) return fail(`The file ends before ${what} does: it was cut off.`);
    return new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  };

  const head = await bytesAt(0, 16, "its header");
  const littleEndian = head.getUint16(0) === 0x4949;
  const version = head.getUint16(2, littleEndian);
  if ((!littleEndian && head.getUint16(0) !== 0x4d4d) || (version !== 42 && version !== 43))
    return fail("This is no TIFF file.");
  const big = version === 43;
  const long = (view: DataView, at: number): number =>
    big ? Number(view.getBigUint64(at, littleEndian)) : view.getUint32(at, littleEndian);
  const start = big ? long(head, 8) : long(head, 4);
  const countBytes = big ? 8 : 2;
  const countView = await bytesAt(start, countBytes, "its directory");
  const entries = big ? long(countView, 0) : countView.getUint16(0, littleEndian);
  if (entries > MOST_ENTRIES) return fail(`Its directory claims ${entries} entries: the file is damaged.`);
  const entryBytes = big ? 20 : 12;
  const table = await bytesAt(start + countBytes, entries * entryBytes, "its directory");

  const places = new Map<number, { type: number; count: number; offset: number; inline: boolean }>();
  for (let i = 0; i < entries; i++) {
    const at = i * entryBytes;
    const tag = table.getUint16(at, littleEndian);
    const type = table.getUint16(at + 2, littleEndian);
    const count = long(table, at + 4);
    const size = (TYPE_BYTES[type] ?? 0) * count;
    const valueAt = at + (big ? 12 : 8);
    const inline = size <= (big ? 8 : 4);
    const offset = inline ? start + countBytes + valueAt : long(table, valueAt);
    if (offset + size > file.sizeBytes)
      return fail(`The file ends before the values of its tag ${tag} do: it was cut off, or is damaged.`);
    places.set(tag, { type, count, offset, inline });
  }

  const numbers = async (tag: number): Promise<Float64Array> => {
    const place = places.get(tag);
    const bytes = place ? (TYPE_BYTES[place.type] ?? 0) : 0;
    if (!place || ![3, 4, 16].includes(place.type))
      return fail(`Its tag ${tag} is missing or no list of numbers.`);
    if (place.count > MOST_BLOCKS)
      return fail(`It claims ${place.count} strips or tiles: the file is damaged.`);
    const view = await bytesAt(place.offset, place.count * bytes, `its tag ${tag}`);
    return Float64Array.from({ length: place.count }, (_, i) => {
      if (place.type === 3) return view.getUint16(2 * i, littleEndian);
      if (place.type === 4) return view.getUint32(4 * i, littleEndian);
      return Number(view.getBigUint64(8 * i, littleEndian));
    });
  };
  const tiled = places.has(TILE_OFFSETS);
  const offsets = await numbers(tiled ? TILE_OFFSETS : STRIP_OFFSETS);
  const lengths = await numbers(tiled ? TILE_LENGTHS : STRIP_LENGTHS);
  if (offsets.length !== lengths.length)
    return fail("Its strips or tiles have not as many lengths as places.");
  const broken = offsets.findIndex((offset, i) => offset + lengths[i]! > file.sizeBytes);
  if (broken >= 0)
    return fail(`The file ends before its ${tiled ? "tile" : "strip"} ${broken} does: it was cut off.`);
  return { littleEndian, tiled, offsets, lengths };
}
