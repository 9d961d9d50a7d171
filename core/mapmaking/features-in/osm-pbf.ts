/**
 * The binary format of OpenStreetMap (.osm.pbf): blobs of up to 32 MiB, each packed by zlib or not at all, holding
 * nodes, ways and relations with a table of strings. Source: OpenStreetMap wiki, PBF Format; fileformat.proto and
 * osmformat.proto of the OSM-binary repository.
 */
import { Unzlib } from "fflate";
import { PbfReader } from "pbf";
import { badFeatures, decoding, exactly, type FeatureFile, type Tick } from "../../files/feature-file.ts";
import { checkedBytes, checkedString, NODES, readBlock, RELATIONS, WAYS } from "./osm-block.ts";
import type { OsmHandlers } from "./osm-objects.ts";

/** Limits of the format: a header of a blob, and a blob unpacked. */
const MOST_HEADER_BYTES = 64 * 1024;
const MOST_BLOB_BYTES = 32 * 2 ** 20;
/** Most blobs are this small. Deflate packs at most 1032 to 1: a piece of a bomb unpacks to 66 MB and no further. */
const PIECE_BYTES = 2 ** 16;

/** What a file says of itself. */
export interface OsmHead {
  /** Day of the data, YYYY-MM-DD; null when the file does not say. */
  readonly day: string | null;
}

interface BlobPlace {
  readonly offset: number;
  readonly length: number;
  readonly index: number;
  kinds: number | null;
}

export interface OsmPbf {
  readonly head: OsmHead;
  /**
   * Reads the whole file, or the blobs that hold what the handlers ask for as far as that is known.
   * @throws Fault "bad-features" naming the blob and its byte
   */
  read(handlers: OsmHandlers, tick: Tick): Promise<void>;
}

/** @throws Fault "bad-features" when it is no such file */
export async function openOsmPbf(file: FeatureFile): Promise<OsmPbf> {
  const { head, next } = await readHead(file);
  let places: BlobPlace[] | null = null;

  const readPlaces = async (): Promise<BlobPlace[]> => {
    const found: BlobPlace[] = [];
    for (let at = next; at < file.sizeBytes;) {
      const blob = await blobAt(file, at, found.length + 1);
      at = blob.offset + blob.length;
      // Kinds of blobs that later versions add are passed over, as the format asks.
      if (blob.type === "OSMData")
        found.push({ offset: blob.offset, length: blob.length, index: found.length + 1, kinds: null });
    }
    return found;
  };

  return {
    head,
    async read(handlers, tick) {
      places ??= await readPlaces();
      const wanted =
        (handlers.node ? NODES : 0) | (handlers.way ? WAYS : 0) | (handlers.relation ? RELATIONS : 0);
      for (const place of places) {
        if (place.kinds !== null && (place.kinds & wanted) === 0) {
          await tick(place.length);
          continue;
        }
        const where = `${file.key}, blob ${place.index} at byte ${place.offset}`;
        const packed = await exactly(file, place.offset, place.length, `blob ${place.index}`);
        place.kinds = decoding("A blob", where, () => readBlock(unpackBlob(packed, where), handlers));
        await tick(place.length);
      }
    },
  };
}

async function readHead(file: FeatureFile): Promise<{ head: OsmHead; next: number }> {
  const { type, offset, length } = await blobAt(file, 0, 0);
  const where = `${file.key}, byte ${offset}`;
  if (type !== "OSMHeader") throw badFeatures("The file does not begin as OpenStreetMap data does.", where);
  const packed = await exactly(file, offset, length, "its header");
  return decoding("The header", where, () => {
    const pbf = new PbfReader(unpackBlob(packed, where));
    const needs: string[] = [];
    let day: string | null = null;
    for (let field = pbf.nextField(); field; field = pbf.nextField()) {
      if (field === 4) needs.push(checkedString(pbf));
      else if (field === 32) {
        const seconds = pbf.readVarint(true);
        if (seconds > 0 && seconds < 1e11) day = new Date(seconds * 1000).toISOString().slice(0, 10);
      }
    }
    const unknown = needs.filter((need) => need !== "OsmSchema-V0.6" && need !== "DenseNodes");
    if (unknown.length > 0)
      throw badFeatures(
        `The file needs a reader for “${unknown[0]!.slice(0, 60)}”, which this is not.`,
        where,
        "Get a plain extract without history.",
      );
    return { head: { day }, next: offset + length };
  });
}

interface BlobHead {
  readonly type: string;
  readonly offset: number;
  readonly length: number;
}

async function blobAt(file: FeatureFile, at: number, index: number): Promise<BlobHead> {
  const where = `${file.key}, blob ${index} at byte ${at}`;
  const sizeBytes = await exactly(file, at, 4, "the size of a header");
  const size = new DataView(sizeBytes.buffer, sizeBytes.byteOffset, 4).getUint32(0);
  if (size === 0 || size > MOST_HEADER_BYTES)
    throw badFeatures(
      index === 0
        ? "This is no OpenStreetMap file in the binary format."
        : `The header of a blob would have ${size} bytes; the format allows ${MOST_HEADER_BYTES}.`,
      where,
    );
  const bytes = await exactly(file, at + 4, size, "the header of a blob");
  return decoding("The header of a blob", where, () => {
    const pbf = new PbfReader(bytes);
    let type = "";
    let length = -1;
    for (let field = pbf.nextField(); field; field = pbf.nextField()) {
      if (field === 1) type = checkedString(pbf);
      else if (field === 3) length = pbf.readVarint();
    }
    if (!(length >= 0 && length <= MOST_BLOB_BYTES))
      throw badFeatures(`A blob would have ${length} bytes; the format allows ${MOST_BLOB_BYTES}.`, where);
    return { type, offset: at + 4 + size, length };
  });
}

function unpackBlob(blob: Uint8Array, where: string): Uint8Array {
  const pbf = new PbfReader(blob);
  let rawSize = -1;
  let raw: Uint8Array | null = null;
  let zlib: Uint8Array | null = null;
  let other = "";
  for (let field = pbf.nextField(); field; field = pbf.nextField()) {
    if (field === 1) raw = checkedBytes(pbf);
    else if (field === 2) rawSize = pbf.readVarint();
    else if (field === 3) zlib = checkedBytes(pbf);
    else if (field >= 4 && field <= 7) other = ["LZMA", "bzip2", "LZ4", "Zstandard"][field - 4]!;
  }
  if (raw) return raw;
  if (!zlib)
    throw badFeatures(
      other ? `A blob is packed by ${other}, which is not read here.` : "A blob holds nothing.",
      where,
      "Get the file packed by zlib, as it usually is.",
    );
  if (!(rawSize >= 0 && rawSize <= MOST_BLOB_BYTES))
    throw badFeatures(
      `A blob would unpack to ${rawSize} bytes; the format allows ${MOST_BLOB_BYTES}.`,
      where,
    );
  const plain = new Uint8Array(rawSize);
  let at = 0;
  const stream = new Unzlib((piece) => {
    if (at + piece.length > rawSize) throw badFeatures("A blob unpacks to more than it says.", where);
    plain.set(piece, at);
    at += piece.length;
  });
  for (let from = 0; from < zlib.length; from += PIECE_BYTES)
    stream.push(zlib.subarray(from, from + PIECE_BYTES), from + PIECE_BYTES >= zlib.length);
  if (at !== rawSize) throw badFeatures("A blob unpacks to less than it says.", where);
  const end = new DataView(zlib.buffer, zlib.byteOffset + zlib.length - 4, 4);
  if (adler32(plain) !== end.getUint32(0))
    throw badFeatures("A blob is damaged: its check value does not fit.", where);
  return plain;
}

/** The check value of zlib, which the unpacking itself does not look at. Source: RFC 1950, §8.2. */
function adler32(bytes: Uint8Array): number {
  let a = 1;
  let b = 0;
  for (let i = 0; i < bytes.length;) {
    // The longest run whose sums stay below 2^32.
    const stop = Math.min(bytes.length, i + 3800);
    for (; i < stop; i++) {
      a += bytes[i]!;
      b += a;
    }
    a %= 65_521;
    b %= 65_521;
  }
  return b * 65_536 + a;
}
