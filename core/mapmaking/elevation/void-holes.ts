/**
 * The holes of a model: voids that hang together side by side, found row after row. What lies in memory are stretches
 * of voids, and never a row's heights for longer than it takes to look at them.
 */
import { Fault } from "../../fault.ts";
import type { Frame, HeightSource } from "../height-source.ts";
import { bandRowsOf } from "../height-survey.ts";
import type { Pace } from "../pace.ts";

/** Stretches of voids within rows: 16 bytes each. */
const MOST_STRETCHES = 8e6;

export interface Hole {
  readonly cells: number;
  /** Reaches the edge of the model: no hole, but where the model ends. */
  readonly atEdge: boolean;
  /** Row, first and last column of each stretch, one after the other. */
  readonly stretches: Int32Array;
}

/** Stretches as they are found, each in a tree whose root stands for the hole. */
class Stretches {
  count = 0;
  row = new Int32Array(1 << 10);
  first = new Int32Array(1 << 10);
  last = new Int32Array(1 << 10);
  parent = new Int32Array(1 << 10);

  add(row: number, first: number, last: number): void {
    const i = this.count++;
    if (i === this.row.length) {
      const grown = (old: Int32Array): Int32Array<ArrayBuffer> => {
        const larger = new Int32Array(2 * old.length);
        larger.set(old);
        return larger;
      };
      [this.row, this.first] = [grown(this.row), grown(this.first)];
      [this.last, this.parent] = [grown(this.last), grown(this.parent)];
    }
    this.row[i] = row;
    this.first[i] = first;
    this.last[i] = last;
    this.parent[i] = i;
  }

  rootOf(i: number): number {
    const { parent } = this;
    let at = i;
    while (parent[at] !== at) at = parent[at] = parent[parent[at]!]!;
    return at;
  }

  join(a: number, b: number): void {
    const [ra, rb] = [this.rootOf(a), this.rootOf(b)];
    this.parent[Math.max(ra, rb)] = Math.min(ra, rb);
  }
}

/**
 * @returns holes in the order of their first voids, rows from the north
 * @throws Fault "bad-elevation" for a model that is more holes than ground; "cancelled"
 */
export async function findHoles(source: HeightSource, going: Pace): Promise<Hole[]> {
  const { columns, rows } = source;
  const found = new Stretches();
  const bandRows = bandRowsOf(columns);
  const room = new Float32Array(bandRows * columns);
  let above = 0;
  for (let top = 0; top < rows; top += bandRows) {
    await going.step(top / rows);
    const band = { column: 0, row: top, columns, rows: Math.min(bandRows, rows - top) };
    const { heights, rows: here } = source.window(band, room);
    for (let r = 0; r < here; r++) {
      const before = found.count;
      takeRow(heights.subarray(r * columns, (r + 1) * columns), top + r, found);
      joinRows(found, above, before);
      above = before;
      if (found.count > MOST_STRETCHES)
        throw new Fault(
          "bad-elevation",
          "The model has more holes than can be filled.",
          source.key,
          "Make the map without filling them.",
        );
    }
  }
  return gather(found, source);
}

function takeRow(heights: Float32Array, row: number, found: Stretches): void {
  for (let c = 0; c < heights.length; c++) {
    if (heights[c] === heights[c]) continue;
    const first = c;
    while (c + 1 < heights.length && heights[c + 1] !== heights[c + 1]) c++;
    found.add(row, first, c);
  }
}

/** Joins the stretches from `above` on, of a row, with those from `before` on, of the next. */
function joinRows(found: Stretches, above: number, before: number): void {
  let a = above;
  let b = before;
  while (a < before && b < found.count) {
    if (found.last[a]! < found.first[b]!) a++;
    else if (found.last[b]! < found.first[a]!) b++;
    else {
      found.join(a, b);
      if (found.last[a]! < found.last[b]!) a++;
      else b++;
    }
  }
}

function gather(found: Stretches, { columns, rows }: Pick<Frame, "columns" | "rows">): Hole[] {
  const { count, row, first, last } = found;
  const members = new Map<number, number>();
  for (let i = 0; i < count; i++) {
    const root = found.rootOf(i);
    members.set(root, (members.get(root) ?? 0) + 1);
  }
  const growing = new Map<number, { stretches: Int32Array; n: number; cells: number; atEdge: boolean }>();
  for (let i = 0; i < count; i++) {
    const root = found.rootOf(i);
    let hole = growing.get(root);
    if (!hole) {
      hole = { stretches: new Int32Array(3 * members.get(root)!), n: 0, cells: 0, atEdge: false };
      growing.set(root, hole);
    }
    hole.stretches[hole.n++] = row[i]!;
    hole.stretches[hole.n++] = first[i]!;
    hole.stretches[hole.n++] = last[i]!;
    hole.cells += last[i]! - first[i]! + 1;
    hole.atEdge ||= row[i] === 0 || row[i] === rows - 1 || first[i] === 0 || last[i] === columns - 1;
  }
  return [...growing.values()].map(({ stretches, cells, atEdge }) => ({ stretches, cells, atEdge }));
}
