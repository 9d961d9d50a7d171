/**
 * Positions of OpenStreetMap nodes by their id. A country has tens of millions, far too many for memory: they lie in a
 * spool, 16 bytes a node, in blocks ordered by id, of which those looked into last are held. Extracts are ordered by id;
 * others are put in order run by run, and the runs merged.
 */
import FlatQueue from "flatqueue";
import type { Spool } from "../spool.ts";

/** Nodes of a block: its ids, 8 bytes each, then its positions, 4 and 4. */
const BLOCK = 256;
const BLOCK_BYTES = 16 * BLOCK;
/** Nodes put in order at a time. */
const RUN = 2 ** 16;
/** Blocks held: 64 MB, four million nodes. */
const MOST_HELD = 2 ** 14;
/** Positions are whole ten-millionths of a degree, the resolution of OpenStreetMap's own database. */
const PER_DEGREE = 1e7;

export interface NodeStore {
  readonly count: () => number;
  add(id: number, lon: number, lat: number): void;
  /** Puts nodes in order; call it once all are in. */
  finish(): void;
  /** Writes longitude and latitude to `out` at `at`; false when there is no such node. */
  find(id: number, out: Float64Array, at: number): boolean;
}

/** Writes nodes to a spool block by block; a block that is not full is filled up with ids that no node has. */
class BlockWriter {
  /** The first id of each block. */
  readonly firsts: number[] = [];
  private readonly bytes = new Uint8Array(BLOCK_BYTES);
  private readonly ids = new Float64Array(this.bytes.buffer, 0, BLOCK);
  private readonly places = new Int32Array(this.bytes.buffer, 8 * BLOCK);
  private n = 0;

  constructor(readonly spool: Spool) {}

  add(id: number, lon: number, lat: number): void {
    this.ids[this.n] = id;
    this.places[2 * this.n] = lon;
    this.places[2 * this.n + 1] = lat;
    if (++this.n === BLOCK) this.end();
  }

  end(): void {
    if (this.n === 0) return;
    this.ids.fill(Infinity, this.n);
    this.firsts.push(this.ids[0]!);
    this.spool.append(this.bytes.slice());
    this.n = 0;
  }
}

/** Goes through the nodes of some blocks in order. */
class BlockReader {
  private ids = new Float64Array(0);
  private places = new Int32Array(0);
  private k = 0;

  constructor(
    private readonly spool: Spool,
    private block: number,
    private readonly end: number,
  ) {}

  /** The node it stands at; null after the last. */
  node(): { readonly id: number; readonly lon: number; readonly lat: number } | null {
    while (this.k === this.ids.length || this.ids[this.k] === Infinity) {
      if (this.block === this.end) return null;
      const bytes = this.spool.read(BLOCK_BYTES * this.block++, BLOCK_BYTES).slice();
      this.ids = new Float64Array(bytes.buffer, 0, BLOCK);
      this.places = new Int32Array(bytes.buffer, 8 * BLOCK);
      this.k = 0;
    }
    const { ids, places, k } = this;
    return { id: ids[k]!, lon: places[2 * k]!, lat: places[2 * k + 1]! };
  }

  step(): void {
    this.k++;
  }
}

/** Nodes as they come, until they are enough to be put in order. */
class Run {
  n = 0;
  private ids = new Float64Array(1 << 8);
  private places = new Int32Array(1 << 9);
  private ordered = true;

  add(id: number, lon: number, lat: number): void {
    const { n } = this;
    if (n === this.ids.length) {
      this.ids = grown(this.ids, new Float64Array(2 * n));
      this.places = grown(this.places, new Int32Array(4 * n));
    }
    if (n > 0 && id <= this.ids[n - 1]!) this.ordered = false;
    this.ids[n] = id;
    this.places[2 * n] = lon;
    this.places[2 * n + 1] = lat;
    this.n++;
  }

  /** Writes its nodes in order; of those with one id the last. */
  writeTo(blocks: BlockWriter): void {
    const { ids, places, n } = this;
    const put = (k: number): void => blocks.add(ids[k]!, places[2 * k]!, places[2 * k + 1]!);
    if (this.ordered) for (let k = 0; k < n; k++) put(k);
    else {
      const order = Uint32Array.from({ length: n }, (_, k) => k).sort((a, b) => ids[a]! - ids[b]! || a - b);
      order.forEach((k, i) => {
        if (i + 1 === n || ids[order[i + 1]!] !== ids[k]) put(k);
      });
    }
    blocks.end();
    this.n = 0;
    this.ordered = true;
  }
}

function grown<T extends Float64Array | Int32Array>(from: T, to: T): T {
  to.set(from);
  return to;
}

/** Runs merged into one; of nodes with one id the one of the latest run counts. */
function merged({ spool }: BlockWriter, runEnds: readonly number[], into: BlockWriter): BlockWriter {
  const queue = new FlatQueue();
  const readers = runEnds.map((end, run) => new BlockReader(spool, runEnds[run - 1] ?? 0, end));
  const wait = (run: number): void => {
    const node = readers[run]!.node();
    if (node) queue.push(run, node.id);
  };
  readers.forEach((_, run) => wait(run));
  let last: { readonly node: NonNullable<ReturnType<BlockReader["node"]>>; readonly run: number } | null =
    null;
  for (let run = queue.pop(); run !== undefined; run = queue.pop()) {
    const node = readers[run]!.node()!;
    if (last && last.node.id !== node.id) into.add(last.node.id, last.node.lon, last.node.lat);
    if (last?.node.id !== node.id || last.run < run) last = { node, run };
    readers[run]!.step();
    wait(run);
  }
  if (last) into.add(last.node.id, last.node.lon, last.node.lat);
  into.end();
  return into;
}

/** Looks into ordered blocks, of which those looked into last are held, each in the one place that is its own. */
class HeldBlocks {
  private readonly spool: Spool;
  private readonly firsts: Float64Array;
  private readonly places: number;
  private readonly bytes: Uint8Array;
  private readonly ids: Float64Array;
  private readonly positions: Int32Array;
  private readonly blockAt: Int32Array;
  /** Where the last one was found, in the blocks held: nodes of a way were often made one after another. */
  private last = -1;

  constructor({ firsts, spool }: BlockWriter) {
    this.firsts = Float64Array.from(firsts);
    this.spool = spool;
    this.places = Math.max(1, Math.min(MOST_HELD, firsts.length));
    this.bytes = new Uint8Array(this.places * BLOCK_BYTES);
    this.ids = new Float64Array(this.bytes.buffer);
    this.positions = new Int32Array(this.bytes.buffer);
    this.blockAt = new Int32Array(this.places).fill(-1);
  }

  find(id: number, out: Float64Array, at: number): boolean {
    const { ids, positions } = this;
    let k = this.last + 1;
    if (this.last < 0 || k % (2 * BLOCK) >= BLOCK || ids[k] !== id) {
      k = this.search(id);
      if (k < 0) return false;
    }
    this.last = k;
    const inBlock = k % (2 * BLOCK);
    // In words of 4 bytes: the block begins at two for each number of 8, its positions come after its ids.
    const place = 2 * (k - inBlock) + 2 * BLOCK + 2 * inBlock;
    out[at] = positions[place]! / PER_DEGREE;
    out[at + 1] = positions[place + 1]! / PER_DEGREE;
    return true;
  }

  /** Where its id stands in the blocks held, −1 when there is no such node. */
  private search(id: number): number {
    const block = lastNotAfter(this.firsts, 0, this.firsts.length, id);
    if (block < 0) return -1;
    const place = block % this.places;
    if (this.blockAt[place] !== block) {
      this.bytes.set(this.spool.read(BLOCK_BYTES * block, BLOCK_BYTES), BLOCK_BYTES * place);
      this.blockAt[place] = block;
    }
    const from = 2 * BLOCK * place;
    const k = lastNotAfter(this.ids, from, from + BLOCK, id);
    return this.ids[k] === id ? k : -1;
  }
}

/** The last of some ordered numbers that is not more than a value; one before the first when all are. */
function lastNotAfter(values: Float64Array, from: number, to: number, value: number): number {
  let [low, high] = [from, to];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle]! <= value) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** @param openSpool for the nodes, and once more when they have to be put in order */
export function nodeStore(openSpool: () => Spool): NodeStore {
  const blocks = new BlockWriter(openSpool());
  const run = new Run();
  const runEnds: number[] = [];
  let lastId = -Infinity;
  let ordered = true;
  let total = 0;
  let held: HeldBlocks | null = null;
  const endRun = (): void => {
    run.writeTo(blocks);
    runEnds.push(blocks.firsts.length);
  };
  return {
    count: () => total,
    add(id, lon, lat) {
      if (id <= lastId) ordered = false;
      lastId = id;
      run.add(id, Math.round(lon * PER_DEGREE), Math.round(lat * PER_DEGREE));
      total++;
      if (run.n === RUN) endRun();
    },
    finish() {
      endRun();
      held = new HeldBlocks(ordered ? blocks : merged(blocks, runEnds, new BlockWriter(openSpool())));
    },
    find: (id, out, at) => held?.find(id, out, at) ?? false,
  };
}
