/**
 * Lines of several tiles joined where they cross from one tile into the next.
 * Two ends join when they lie on tile edges within two match units (about a metre at zoom 14), belong to different
 * tiles and their lines are alike in kind and every attribute; the nearest ends first, each end once.
 * The tolerance is for tiles whose buffer cut a segment: the cut end is rounded, so that the two tiles see the line
 * cross their common edge up to a unit apart.
 */
import type { DecodedTile } from "./decode-tile.ts";
import type { LineFeature } from "./features.ts";

const TOLERANCE = 2;
/** Slope of the sweep: any irrational keeps ends along either edge apart in sweep order. */
const SWEEP = (Math.sqrt(5) - 1) / 2;
/** No map has more ends of like lines than this within two units: a tile made to take forever has. No source. */
const MOST_TOGETHER = 64;
const SWEEP_REACH = TOLERANCE * (1 + SWEEP);

/** Lines of a set of tiles; asked for by tile and place in the tile. Joined ones are put together when first wanted. */
export class Stitched {
  readonly #tiles: readonly DecodedTile[];
  readonly #offsets: number[] = [];
  /** For each end, the end it joins, or −1. Ends are counted through all tiles: 2 · line + 0 or 1. */
  readonly #joins: Int32Array;
  readonly #chainOf: Int32Array;
  readonly #chains: (LineFeature | null)[] = [];
  readonly #tileOf: Uint16Array;
  #bytes = 0;

  constructor(tiles: readonly DecodedTile[]) {
    this.#tiles = tiles;
    let count = 0;
    for (const tile of tiles) {
      this.#offsets.push(count);
      count += tile.lines.length;
      this.#bytes += tile.bytes;
    }
    this.#tileOf = new Uint16Array(count);
    tiles.forEach((tile, t) =>
      this.#tileOf.fill(t, this.#offsets[t], (this.#offsets[t] as number) + tile.lines.length),
    );
    this.#joins = joinEnds(tiles, this.#offsets, count);
    this.#chainOf = new Int32Array(count).fill(-1);
    this.#bytes += 22 * count;
  }

  /** Memory it takes or keeps taken, roughly: its tiles, its tables, and what has been joined so far. */
  get bytes(): number {
    return this.#bytes;
  }

  /** How many numbers `idOf` gives out. */
  get count(): number {
    return this.#chainOf.length;
  }

  /** One number for each stitched line, whichever of its parts is asked for. */
  idOf(tile: number, line: number): number {
    const part = (this.#offsets[tile] as number) + line;
    if (this.#joins[2 * part] === -1 && this.#joins[2 * part + 1] === -1) return part;
    if (this.#chainOf[part] === -1) {
      for (const end of this.#walk(part)) this.#chainOf[end >> 1] = part;
    }
    return this.#chainOf[part] as number;
  }

  /** The line of a number from `idOf`. */
  line(id: number): LineFeature {
    if (this.#chainOf[id] === -1) return this.#part(id);
    return (this.#chains[id] ??= this.#join(id));
  }

  #part(part: number): LineFeature {
    const t = this.#tileOf[part] as number;
    return (this.#tiles[t] as DecodedTile).lines[part - (this.#offsets[t] as number)] as LineFeature;
  }

  /** Parts of a chain in order, each as the end at which it is entered. */
  #walk(part: number): number[] {
    // Back to where the chain begins, or round to where we were.
    let entry = 2 * part;
    for (;;) {
      const before = this.#joins[entry] as number;
      if (before === -1) break;
      entry = before ^ 1;
      if (entry === 2 * part) break;
    }
    const order: number[] = [];
    const first = entry;
    for (;;) {
      order.push(entry);
      const next = this.#joins[entry ^ 1] as number;
      if (next === -1 || next === first) return order;
      entry = next;
    }
  }

  #join(id: number): LineFeature {
    const order = this.#walk(id);
    const parts = order.map((entry) => this.#part(entry >> 1).coords);
    const closed = this.#joins[order[0] as number] !== -1;
    const coords = new Float64Array(parts.reduce((sum, c) => sum + c.length, 0) - 2 * (parts.length - 1));
    let at = 0;
    order.forEach((entry, k) => {
      const part = parts[k] as Float64Array;
      const n = part.length / 2;
      // The joint is the earlier part's end; the later part's own, at most two units off, is left out.
      for (let i = k === 0 ? 0 : 1; i < n; i++) {
        const from = 2 * (entry & 1 ? n - 1 - i : i);
        coords[at++] = part[from] as number;
        coords[at++] = part[from + 1] as number;
      }
    });
    this.#bytes += coords.byteLength * 1.25 + 300;
    if (closed) coords.set(coords.subarray(0, 2), coords.length - 2);
    return { ...this.#part(id), coords };
  }
}

interface End {
  readonly id: number;
  readonly tile: number;
  readonly x: number;
  readonly y: number;
}

function joinEnds(tiles: readonly DecodedTile[], offsets: readonly number[], count: number): Int32Array {
  const joins = new Int32Array(2 * count).fill(-1);
  if (tiles.length < 2) return joins;
  const alike = new Map<string, End[]>();
  tiles.forEach((tile, t) => {
    for (let i = 0; i < tile.ends.length; i++) {
      const end = tile.ends[i] as number;
      const identity = tile.identities[end >> 1] as string;
      const id = end + 2 * (offsets[t] as number);
      const group = alike.get(identity);
      const entry = { id, tile: t, x: tile.endsAt[2 * i] as number, y: tile.endsAt[2 * i + 1] as number };
      if (group) group.push(entry);
      else alike.set(identity, [entry]);
    }
  });
  for (const ends of alike.values()) joinAlike(ends, joins);
  return joins;
}

function joinAlike(ends: End[], joins: Int32Array): void {
  const sweep = (e: End): number => e.x + SWEEP * e.y;
  ends.sort((a, b) => sweep(a) - sweep(b));
  const pairs: { readonly a: End; readonly b: End; readonly apart: number }[] = [];
  for (let i = 0; i < ends.length; i++) {
    const a = ends[i] as End;
    for (let j = i + 1; j < Math.min(ends.length, i + 1 + MOST_TOGETHER); j++) {
      const b = ends[j] as End;
      if (sweep(b) - sweep(a) > SWEEP_REACH) break;
      const apart = Math.hypot(a.x - b.x, a.y - b.y);
      if (a.tile !== b.tile && apart <= TOLERANCE) pairs.push({ a, b, apart });
    }
  }
  pairs.sort((p, q) => p.apart - q.apart);
  for (const { a, b } of pairs) {
    if (joins[a.id] !== -1 || joins[b.id] !== -1) continue;
    joins[a.id] = b.id;
    joins[b.id] = a.id;
  }
}
