/**
 * Features as bytes, to wait in a spool and to pass between threads. A record is whole 32-bit words in the machine's own
 * order, as it never leaves the machine: its length in words; role, kind of geometry and lowest zoom; how many parts;
 * bytes of the attributes; then the parts' lengths, the attributes as JSON, and the positions as they are.
 */
import type { Attributes } from "../map/features.ts";
import { ROLES } from "../map/kinds.ts";
import type { SpoolReader } from "./spool.ts";
import { FILLED, type TileFeature, type TileLayerName } from "./tile-feature.ts";

const NAMES: readonly TileLayerName[] = [...ROLES, FILLED];
const HEAD_WORDS = 4;
/** Stands in place of a length where a record lies elsewhere: its offset in two words, and its bytes. */
const ELSEWHERE = -1;
const MOST_KNOWN = 10_000;

const utf8 = new TextEncoder();
const text = new TextDecoder();

/** Writes features; the bytes of one are good until the next. */
export class FeatureEncoder {
  private words = new Int32Array(1 << 10);
  /** A town has ten thousand buildings, and one set of attributes. */
  private readonly known = new Map<string, Uint8Array>();

  encode({ role, type, parts, attributes, minZoom }: TileFeature): Uint8Array {
    const json = this.jsonOf(attributes);
    const coordsAt = HEAD_WORDS + parts.length + Math.ceil(json.length / 4);
    const length = parts.reduce((sum, part) => sum + part.length, coordsAt);
    if (length > this.words.length) this.words = new Int32Array(2 * length);
    const { words } = this;
    words[0] = length;
    words[1] = NAMES.indexOf(role) | (type << 8) | (minZoom << 16);
    words[2] = parts.length;
    words[3] = json.length;
    let at = HEAD_WORDS;
    for (const part of parts) words[at++] = part.length;
    new Uint8Array(words.buffer).set(json, 4 * at);
    at = coordsAt;
    for (const part of parts) {
      words.set(part, at);
      at += part.length;
    }
    return new Uint8Array(words.buffer, 0, 4 * length);
  }

  private jsonOf(attributes: Attributes): Uint8Array {
    const json = JSON.stringify(attributes);
    let bytes = this.known.get(json);
    if (!bytes) {
      bytes = utf8.encode(json);
      if (this.known.size < MOST_KNOWN) this.known.set(json, bytes);
    }
    return bytes;
  }
}

/** What stands for a record that lies elsewhere in the same spool. */
export const recordElsewhere = (offset: number, bytes: number): Uint8Array =>
  new Uint8Array(Int32Array.of(ELSEWHERE, offset % 2 ** 31, Math.floor(offset / 2 ** 31), bytes).buffer);

/** The features of some bytes that hold whole records; each is good until the next, its parts lie in the bytes. */
export function* featuresIn(bytes: Uint8Array, elsewhere: SpoolReader): Generator<TileFeature> {
  const words = wordsOf(bytes);
  for (let at = 0; at < words.length;) {
    if (words[at] === ELSEWHERE) {
      const offset = words[at + 1]! + words[at + 2]! * 2 ** 31;
      yield featureAt(wordsOf(elsewhere.read(offset, words[at + 3]!)), 0);
      at += HEAD_WORDS;
    } else {
      yield featureAt(words, at);
      at += words[at]!;
    }
  }
}

/** The same bytes as words, which begin at a whole number of them. */
const wordsOf = (bytes: Uint8Array): Int32Array =>
  bytes.byteOffset % 4 === 0
    ? new Int32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4)
    : new Int32Array(bytes.slice().buffer);

function featureAt(words: Int32Array, start: number): TileFeature {
  const kind = words[start + 1]!;
  const count = words[start + 2]!;
  const jsonBytes = words[start + 3]!;
  let at = start + HEAD_WORDS + count;
  const json = new Uint8Array(words.buffer, words.byteOffset + 4 * at, jsonBytes);
  at += Math.ceil(jsonBytes / 4);
  const parts: Int32Array[] = [];
  for (let k = 0; k < count; k++) {
    const length = words[start + HEAD_WORDS + k]!;
    parts.push(words.subarray(at, at + length));
    at += length;
  }
  return {
    role: NAMES[kind & 0xff]!,
    type: ((kind >> 8) & 0xff) as TileFeature["type"],
    parts,
    attributes: JSON.parse(text.decode(json)) as Attributes,
    minZoom: kind >> 16,
  };
}
