/**
 * Decoded tiles of one zoom, kept up to a number of bytes; the least recently used go first.
 * One read serves everyone who asks for a tile meanwhile. A read that fails is not remembered: the next one tries again.
 */
import { Fault } from "../fault.ts";
import { inRange, tileCount, type TileRange } from "./tile-grid.ts";

export interface Sized {
  /** Memory it takes, roughly. */
  readonly bytes: number;
}

interface Entry<T> {
  readonly tile: T;
  readonly x: number;
  readonly y: number;
  used: number;
}

/** More than this at once is a mistake or a leg no one walks: about 50 km square at zoom 14. */
const MOST_TILES = 1024;
/** Ranges prepared last stay whatever the limit: they are about to be asked for. */
const PINNED_RANGES = 4;
const READ_AT_ONCE = 6;

export class TileCache<T extends Sized> {
  readonly #entries = new Map<number, Entry<T>>();
  readonly #reading = new Map<number, Promise<T>>();
  readonly #load: (x: number, y: number) => Promise<T>;
  readonly #limitBytes: number;
  #pinned: TileRange[] = [];
  #bytes = 0;
  #clock = 0;
  #changes = 0;

  /**
   * @param limitBytes tiles beyond this are dropped, except those prepared last
   * @param load reads and decodes one tile; may reject
   */
  constructor(limitBytes: number, load: (x: number, y: number) => Promise<T>) {
    this.#limitBytes = limitBytes;
    this.#load = load;
  }

  /** Bytes held now. */
  get bytes(): number {
    return this.#bytes;
  }

  /** Grows whenever a tile comes or goes: what was worked out from tiles holds while it stays. */
  get changes(): number {
    return this.#changes;
  }

  get(x: number, y: number): T | undefined {
    const entry = this.#entries.get(keyOf(x, y));
    if (!entry) return undefined;
    entry.used = ++this.#clock;
    return entry.tile;
  }

  hasAll(range: TileRange): boolean {
    for (let y = range.y0; y <= range.y1; y++)
      for (let x = range.x0; x <= range.x1; x++) if (!this.#entries.has(keyOf(x, y))) return false;
    return true;
  }

  /**
   * Reads what is missing of a range.
   * @throws Fault "out-of-range" for more than 1024 tiles, "cancelled" when the signal says so, and what `load` throws
   */
  async prepare(range: TileRange, signal?: AbortSignal): Promise<void> {
    checkNotCancelled(signal);
    if (tileCount(range) > MOST_TILES)
      throw new Fault(
        "out-of-range",
        `That is too much map to read at once: ${tileCount(range)} tiles.`,
        null,
        "Use shorter legs.",
      );
    this.#pin(range);
    const missing: [number, number][] = [];
    for (let y = range.y0; y <= range.y1; y++)
      for (let x = range.x0; x <= range.x1; x++) if (!this.get(x, y)) missing.push([x, y]);
    if (missing.length === 0) return;
    let next = 0;
    const reader = async (): Promise<void> => {
      for (let job = missing[next++]; job; job = missing[next++]) {
        checkNotCancelled(signal);
        await this.#read(job[0], job[1]);
      }
    };
    await Promise.all(Array.from({ length: Math.min(READ_AT_ONCE, missing.length) }, reader));
    this.#dropOldest();
  }

  #read(x: number, y: number): Promise<T> {
    const key = keyOf(x, y);
    const there = this.#entries.get(key);
    if (there) return Promise.resolve(there.tile);
    const running = this.#reading.get(key);
    if (running) return running;
    const read = this.#load(x, y)
      .then((tile) => {
        this.#entries.set(key, { tile, x, y, used: ++this.#clock });
        this.#bytes += tile.bytes;
        this.#changes++;
        return tile;
      })
      .finally(() => this.#reading.delete(key));
    this.#reading.set(key, read);
    return read;
  }

  #pin(range: TileRange): void {
    const same = (r: TileRange): boolean =>
      r.x0 === range.x0 && r.y0 === range.y0 && r.x1 === range.x1 && r.y1 === range.y1;
    this.#pinned = [range, ...this.#pinned.filter((r) => !same(r))].slice(0, PINNED_RANGES);
  }

  #dropOldest(): void {
    if (this.#bytes <= this.#limitBytes) return;
    const loose = [...this.#entries].filter(([, e]) => !this.#pinned.some((r) => inRange(r, e.x, e.y)));
    loose.sort((a, b) => a[1].used - b[1].used);
    for (const [key, entry] of loose) {
      if (this.#bytes <= this.#limitBytes) return;
      this.#entries.delete(key);
      this.#bytes -= entry.tile.bytes;
      this.#changes++;
    }
  }
}

/** One zoom a cache, and no zoom has more than 2²⁶ rows. */
const keyOf = (x: number, y: number): number => x * 2 ** 26 + y;

function checkNotCancelled(signal: AbortSignal | undefined): void {
  if (signal?.aborted) throw new Fault("cancelled", "Reading the map was cancelled.");
}
