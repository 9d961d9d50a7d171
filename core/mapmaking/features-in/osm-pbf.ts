/**
 * The binary format of OpenStreetMap (.osm.pbf): blobs of up to 32 MiB, each packed by zlib or not at all, holding
 * nodes, ways and relations with a table of strings. Source: OpenStreetMap wiki, PBF Format; fileformat.proto and
 * osmformat.proto of the OSM-binary repository.
 */
import { Unzlib } from "fflate";
import { PbfReader } from "pbf";
import { badFeatures, decoding, exactly, type FeatureFile, type Tick } from "./feature-file.ts";
import type { Tags } from "./raw-feature.ts";

/** Limits of the format: a header of a blob, and a blob unpacked. */
const MOST_HEADER_BYTES = 64 * 1024;
const MOST_BLOB_BYTES = 32 * 2 ** 20;
/** Deflate packs at most 1032 to 1: a piece of this size unpacks to less than a blob may be. */
const PIECE_BYTES = 2 ** 14;

/** What a reader of OpenStreetMap data wants to be told of; left out, the kind is passed over. */
export interface OsmHandlers {
  readonly node?: (id: number, lon: number, lat: number, tags: Tags | null) => void;
  /** `refs` holds ids of nodes; it is used again for the next way. */
  readonly way?: (id: number, refs: readonly number[], tags: Tags | null) => void;
  readonly relation?: (id: number, members: readonly OsmMember[], tags: Tags | null) => void;
}
export interface OsmMember {
  readonly type: "node" | "way" | "relation";
  readonly id: number;
  readonly role: string;
}

/** What a file says of itself. */
export interface OsmHead {
  /** Day of the data, YYYY-MM-DD; null when the file does not say. */
  readonly day: string | null;
}

/** Kinds of objects a blob was seen to hold, so that a later reading passes over the others. */
const NODES = 1;
const WAYS = 2;
const RELATIONS = 4;

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
  return plain;
}

/** Bytes of a field. pbf itself would read beyond the end. */
function checkedBytes(pbf: PbfReader): Uint8Array {
  const end = endOf(pbf);
  const bytes = pbf.buf.subarray(pbf.pos, end);
  pbf.pos = end;
  return bytes;
}
const utf8 = new TextDecoder("utf-8");
const checkedString = (pbf: PbfReader): string => utf8.decode(checkedBytes(pbf));

/** Where a field with a length ends. */
function endOf(pbf: PbfReader, within: number = pbf.length): number {
  if (pbf.type !== 2) throw new Error("a field is of another kind than it should be");
  const length = pbf.readVarint();
  const end = pbf.pos + length;
  if (!(length >= 0 && end <= within)) throw new Error("a field reaches beyond its end");
  return end;
}

interface Block {
  readonly strings: readonly Uint8Array[];
  readonly texts: (string | undefined)[];
  granularity: number;
  lonOffset: number;
  latOffset: number;
}

function text(block: Block, index: number): string {
  let known = block.texts[index];
  if (known === undefined) {
    const bytes = block.strings[index];
    if (!bytes) throw new Error("a string is asked for that is not in the table");
    known = block.texts[index] = utf8.decode(bytes);
  }
  return known;
}

/** Reads a block; returns which kinds it holds. */
function readBlock(bytes: Uint8Array, handlers: OsmHandlers): number {
  const pbf = new PbfReader(bytes);
  const groups: [number, number][] = [];
  const strings: Uint8Array[] = [];
  const block: Block = { strings, texts: [], granularity: 100, lonOffset: 0, latOffset: 0 };
  for (let field = pbf.nextField(); field; field = pbf.nextField()) {
    if (field === 1) {
      const end = endOf(pbf);
      for (let f = pbf.nextField(end); f; f = pbf.nextField(end))
        if (f === 1) strings.push(checkedBytes(pbf));
      pbf.pos = end;
    } else if (field === 2) {
      const end = endOf(pbf);
      groups.push([pbf.pos, end]);
      pbf.pos = end;
    } else if (field === 17) block.granularity = pbf.readVarint();
    else if (field === 19) block.latOffset = pbf.readVarint(true);
    else if (field === 20) block.lonOffset = pbf.readVarint(true);
  }
  let kinds = 0;
  for (const [from, to] of groups) {
    const group = new PbfReader(bytes.subarray(from, to));
    for (let field = group.nextField(); field; field = group.nextField()) {
      const end = field >= 1 && field <= 4 ? endOf(group) : 0;
      const message = (): PbfReader => new PbfReader(group.buf.subarray(group.pos, end));
      if (field === 1 || field === 2) {
        kinds |= NODES;
        if (handlers.node) (field === 1 ? readNode : readDense)(message(), block, handlers.node);
      } else if (field === 3) {
        kinds |= WAYS;
        if (handlers.way) readWay(message(), block, handlers.way);
      } else if (field === 4) {
        kinds |= RELATIONS;
        if (handlers.relation) readRelation(message(), block, handlers.relation);
      }
      if (end > 0) group.pos = end;
    }
  }
  return kinds;
}

const degrees = (block: Block, offset: number, value: number): number =>
  1e-9 * (offset + block.granularity * value);

/** Whole numbers of a packed field, each added to the one before when they are differences. */
function packed(pbf: PbfReader, how: "signed" | "plain" | "differences", out: number[]): void {
  const one = pbf.type !== 2;
  const end = one ? pbf.pos + 1 : endOf(pbf);
  let before = out.at(-1) ?? 0;
  while (pbf.pos < end) {
    const value = how === "plain" ? pbf.readVarint() : pbf.readSVarint();
    before = how === "differences" ? before + value : value;
    out.push(before);
    if (one) break;
  }
  if (!one && pbf.pos !== end) throw new Error("a list of numbers reaches beyond its end");
}

function tagsOf(block: Block, keys: readonly number[], values: readonly number[]): Tags | null {
  if (keys.length !== values.length) throw new Error("there are more keys than values, or fewer");
  if (keys.length === 0) return null;
  const tags: Record<string, string> = {};
  for (let i = 0; i < keys.length; i++) put(tags, text(block, keys[i]!), text(block, values[i]!));
  return tags;
}

/** `__proto__` is a key like others here. */
export function put(
  tags: Record<string, string | number | boolean>,
  key: string,
  value: string | number | boolean,
): void {
  if (key === "__proto__") Object.defineProperty(tags, key, { value, enumerable: true });
  else tags[key] = value;
}

function readNode(pbf: PbfReader, block: Block, node: NonNullable<OsmHandlers["node"]>): void {
  const keys: number[] = [];
  const values: number[] = [];
  let [id, lon, lat] = [0, 0, 0];
  for (let field = pbf.nextField(); field; field = pbf.nextField()) {
    if (field === 1) id = pbf.readSVarint();
    else if (field === 2) packed(pbf, "plain", keys);
    else if (field === 3) packed(pbf, "plain", values);
    else if (field === 8) lat = pbf.readSVarint();
    else if (field === 9) lon = pbf.readSVarint();
  }
  node(
    id,
    degrees(block, block.lonOffset, lon),
    degrees(block, block.latOffset, lat),
    tagsOf(block, keys, values),
  );
}

function readDense(pbf: PbfReader, block: Block, node: NonNullable<OsmHandlers["node"]>): void {
  const ids: number[] = [];
  const lats: number[] = [];
  const lons: number[] = [];
  const keysAndValues: number[] = [];
  for (let field = pbf.nextField(); field; field = pbf.nextField()) {
    if (field === 1) packed(pbf, "differences", ids);
    else if (field === 8) packed(pbf, "differences", lats);
    else if (field === 9) packed(pbf, "differences", lons);
    else if (field === 10) packed(pbf, "plain", keysAndValues);
  }
  if (ids.length !== lats.length || ids.length !== lons.length)
    throw new Error("there are more nodes than positions, or fewer");
  let at = 0;
  for (let i = 0; i < ids.length; i++) {
    let tags: Record<string, string> | null = null;
    // Key, value, key, value … and a 0 after each node; nothing at all when no node has any.
    while (at < keysAndValues.length && keysAndValues[at] !== 0) {
      if (at + 1 >= keysAndValues.length) throw new Error("a key has no value");
      put((tags ??= {}), text(block, keysAndValues[at]!), text(block, keysAndValues[at + 1]!));
      at += 2;
    }
    at++;
    node(ids[i]!, degrees(block, block.lonOffset, lons[i]!), degrees(block, block.latOffset, lats[i]!), tags);
  }
}

function readWay(pbf: PbfReader, block: Block, way: NonNullable<OsmHandlers["way"]>): void {
  const keys: number[] = [];
  const values: number[] = [];
  const refs: number[] = [];
  let id = 0;
  for (let field = pbf.nextField(); field; field = pbf.nextField()) {
    if (field === 1) id = pbf.readVarint(true);
    else if (field === 2) packed(pbf, "plain", keys);
    else if (field === 3) packed(pbf, "plain", values);
    else if (field === 8) packed(pbf, "differences", refs);
  }
  way(id, refs, tagsOf(block, keys, values));
}

const MEMBER_TYPES = ["node", "way", "relation"] as const;

function readRelation(pbf: PbfReader, block: Block, relation: NonNullable<OsmHandlers["relation"]>): void {
  const keys: number[] = [];
  const values: number[] = [];
  const roles: number[] = [];
  const ids: number[] = [];
  const types: number[] = [];
  let id = 0;
  for (let field = pbf.nextField(); field; field = pbf.nextField()) {
    if (field === 1) id = pbf.readVarint(true);
    else if (field === 2) packed(pbf, "plain", keys);
    else if (field === 3) packed(pbf, "plain", values);
    else if (field === 8) packed(pbf, "plain", roles);
    else if (field === 9) packed(pbf, "differences", ids);
    else if (field === 10) packed(pbf, "plain", types);
  }
  if (ids.length !== roles.length || ids.length !== types.length)
    throw new Error("a relation's members are not all there");
  const members = ids.map((member, i): OsmMember => {
    const type = MEMBER_TYPES[types[i]!];
    if (!type) throw new Error("a member is of no known kind");
    return { type, id: member, role: text(block, roles[i]!) };
  });
  relation(id, members, tagsOf(block, keys, values));
}
