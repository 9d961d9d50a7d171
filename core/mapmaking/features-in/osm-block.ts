/**
 * One block of OpenStreetMap's binary format, unpacked: a table of strings, and groups of nodes, ways and relations.
 * Source: osmformat.proto of the OSM-binary repository.
 */
import { PbfReader } from "pbf";
import { type OsmHandlers, type OsmMember } from "./osm-objects.ts";
import { put, type Tags } from "./raw-feature.ts";

/** Kinds of objects a blob was seen to hold, so that a later reading passes over the others. */
export const NODES = 1;
export const WAYS = 2;
export const RELATIONS = 4;

/** Bytes of a field. pbf itself would read beyond the end. */
export function checkedBytes(pbf: PbfReader): Uint8Array {
  const end = endOf(pbf);
  const bytes = pbf.buf.subarray(pbf.pos, end);
  pbf.pos = end;
  return bytes;
}
const utf8 = new TextDecoder("utf-8");
export const checkedString = (pbf: PbfReader): string => utf8.decode(checkedBytes(pbf));

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
export function readBlock(bytes: Uint8Array, handlers: OsmHandlers): number {
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
