/**
 * Positions of OpenStreetMap nodes by their id, 16 bytes a node: a country has tens of millions, far too many to be
 * objects. Extracts are ordered by id, so that a node is found by halving; others are put in order once.
 */

const CHUNK = 2 ** 16;
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

interface Chunk {
  ids: Float64Array;
  places: Int32Array;
  n: number;
}

export function nodeStore(): NodeStore {
  let chunks: Chunk[] = [];
  let last: Chunk | null = null;
  let lastId = -Infinity;
  let ordered = true;
  let total = 0;
  /** Where the last one was found: nodes of a way mostly lie near one another. */
  let near: Chunk | null = null;
  let nearAt = 0;

  const search = (chunk: Chunk, id: number): number => {
    let lo = 0;
    let hi = chunk.n - 1;
    while (lo <= hi) {
      const middle = (lo + hi) >> 1;
      const here = chunk.ids[middle]!;
      if (here < id) lo = middle + 1;
      else if (here > id) hi = middle - 1;
      else return middle;
    }
    return -1;
  };
  const chunkOf = (id: number): Chunk | null => {
    if (near && near.ids[0]! <= id && id <= near.ids[near.n - 1]!) return near;
    let lo = 0;
    let hi = chunks.length - 1;
    while (lo < hi) {
      const middle = (lo + hi + 1) >> 1;
      if (chunks[middle]!.ids[0]! <= id) lo = middle;
      else hi = middle - 1;
    }
    return chunks[lo] ?? null;
  };

  return {
    count: () => total,
    add(id, lon, lat) {
      if (!last || last.n === CHUNK) {
        last = { ids: new Float64Array(CHUNK), places: new Int32Array(2 * CHUNK), n: 0 };
        chunks.push(last);
      }
      if (id <= lastId) ordered = false;
      lastId = id;
      last.ids[last.n] = id;
      last.places[2 * last.n] = Math.round(lon * PER_DEGREE);
      last.places[2 * last.n + 1] = Math.round(lat * PER_DEGREE);
      last.n++;
      total++;
    },
    finish() {
      if (ordered) return;
      const order = new Uint32Array(total);
      for (let i = 0; i < total; i++) order[i] = i;
      const idOf = (i: number): number => chunks[Math.floor(i / CHUNK)]!.ids[i % CHUNK]!;
      order.sort((a, b) => idOf(a) - idOf(b) || a - b);
      const one: Chunk = { ids: new Float64Array(total), places: new Int32Array(2 * total), n: 0 };
      for (const i of order) {
        const { ids, places } = chunks[Math.floor(i / CHUNK)]!;
        const k = i % CHUNK;
        // A node that comes twice: the later one counts.
        if (one.n > 0 && one.ids[one.n - 1] === ids[k]) one.n--;
        one.ids[one.n] = ids[k]!;
        one.places[2 * one.n] = places[2 * k]!;
        one.places[2 * one.n + 1] = places[2 * k + 1]!;
        one.n++;
      }
      chunks = [one];
      ordered = true;
      near = null;
    },
    find(id, out, at) {
      let chunk = near;
      // Nodes along a way were often made one after another.
      let k = nearAt + 1;
      if (!chunk || k >= chunk.n || chunk.ids[k] !== id) {
        chunk = chunkOf(id);
        k = chunk && chunk.n > 0 ? search(chunk, id) : -1;
        if (!chunk || k < 0) return false;
      }
      near = chunk;
      nearAt = k;
      out[at] = chunk.places[2 * k]! / PER_DEGREE;
      out[at + 1] = chunk.places[2 * k + 1]! / PER_DEGREE;
      return true;
    },
  };
}
