/**
 * What areas of OpenStreetMap relations are put together from: the relations, which come last in a file but say which of
 * the ways before them matter, and those ways. Both wait in a spool; held are 16 bytes for each such way.
 */
import { type KeySet, keyIndex, keySet } from "../key-set.ts";
import type { Spool } from "../spool.ts";
import type { Tags } from "./raw-feature.ts";
import type { RingPiece } from "./rings.ts";

export interface AreaRelation {
  readonly id: number;
  readonly tags: Tags;
  readonly ways: readonly number[];
  /** Those among them that are said to run around holes. */
  readonly inner: readonly number[];
  /** It says nothing itself: the area is what its outer ways say they are, as was usual before about 2016. */
  readonly saysNothing: boolean;
}

/** A way that some relation is made of. */
export interface MemberWay extends Omit<RingPiece, "coords"> {
  /** Null when some of its nodes are not in the file. */
  readonly coords: Float64Array | null;
  /** What it says of the area around which it runs, where it is asked. */
  readonly tags: Tags | null;
}

/** Of a way: the names of its ends, and how many numbers its positions are. */
const HEAD_NUMBERS = 3;

const utf8 = new TextEncoder();
const text = new TextDecoder();

export class AreaParts {
  /** Offset and bytes of each relation. */
  private readonly relations = new GrowingNumbers();
  private readonly memberIds = new GrowingNumbers();
  private readonly outerIds = new GrowingNumbers();
  private members: KeySet = new Float64Array(0);
  private outers: KeySet = new Float64Array(0);
  /** Offset and bytes of each way, by its place among the members; none where it was not in the file. */
  private places = new Float64Array(0);

  constructor(private readonly spool: Spool) {}

  /** @param outer ways that are asked what the area is */
  addRelation(relation: AreaRelation, outer: readonly number[]): void {
    const bytes = utf8.encode(JSON.stringify(relation));
    this.relations.push([this.spool.append(bytes), bytes.length]);
    this.memberIds.push(relation.ways);
    this.outerIds.push(outer);
  }

  /** Called once all relations are in, before any way. */
  endRelations(): void {
    this.members = keySet([this.memberIds.all()]);
    this.outers = keySet([this.outerIds.all()]);
    this.places = new Float64Array(2 * this.members.length);
  }

  isMember = (way: number): boolean => keyIndex(this.members, way) >= 0;
  isOuter = (way: number): boolean => keyIndex(this.outers, way) >= 0;

  /** A way that is no member is passed over. */
  addWay(id: number, { from, to, coords, tags }: MemberWay): void {
    const k = keyIndex(this.members, id);
    if (k < 0) return;
    const said = tags ? utf8.encode(JSON.stringify(tags)) : new Uint8Array(0);
    const head = Float64Array.of(from, to, coords ? coords.length : -1);
    const bytes = new Uint8Array(head.byteLength + (coords?.byteLength ?? 0) + said.length);
    bytes.set(new Uint8Array(head.buffer));
    if (coords)
      bytes.set(new Uint8Array(coords.buffer, coords.byteOffset, coords.byteLength), head.byteLength);
    bytes.set(said, bytes.length - said.length);
    this.places[2 * k] = this.spool.append(bytes);
    this.places[2 * k + 1] = bytes.length;
  }

  way(id: number): MemberWay | null {
    const k = keyIndex(this.members, id);
    const length = k < 0 ? 0 : this.places[2 * k + 1]!;
    if (length === 0) return null;
    const bytes = this.spool.read(this.places[2 * k]!, length).slice();
    const [from = 0, to = 0, count = -1] = new Float64Array(bytes.buffer, 0, HEAD_NUMBERS);
    const coords = count < 0 ? null : new Float64Array(bytes.buffer, 8 * HEAD_NUMBERS, count);
    const said = bytes.subarray(8 * (HEAD_NUMBERS + Math.max(0, count)));
    return { from, to, coords, tags: said.length > 0 ? (JSON.parse(text.decode(said)) as Tags) : null };
  }

  *all(): Generator<AreaRelation> {
    const places = this.relations.all();
    for (let i = 0; i < places.length; i += 2)
      yield JSON.parse(text.decode(this.spool.read(places[i]!, places[i + 1]!))) as AreaRelation;
  }
}

class GrowingNumbers {
  private values = new Float64Array(1 << 6);
  private length = 0;

  push(more: readonly number[]): void {
    for (const value of more) {
      if (this.length === this.values.length) {
        const larger = new Float64Array(2 * this.length);
        larger.set(this.values);
        this.values = larger;
      }
      this.values[this.length++] = value;
    }
  }

  all(): Float64Array {
    return this.values.subarray(0, this.length);
  }
}
