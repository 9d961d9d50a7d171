/** Streams from the way water runs: stems from mouth to head, each taking the larger branch, broken where the lake lies. */
import { eastOf, northOf } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { apart, eased, lengthOf, nearestOn, simplified, type Line } from "./line-shape.ts";

/** Smallest catchments that carry a stream and a river on the map, square metres. */
export const STREAM_M2 = 160_000;
export const RIVER_M2 = 14_000_000;
/** Shorter streams are left off the map. */
const LEAST_M = 220;

export interface Stream {
  /** From the head downstream. */
  readonly line: Line;
  readonly class: "stream" | "river";
  readonly name: string | null;
}

/** Which stream bears a name: the stem whose mouth is nearest to a place. */
export interface StreamName {
  readonly name: string;
  readonly mouth: Place;
}

interface Stem {
  /** Cells from mouth to head. */
  readonly cells: readonly number[];
  /** The cell of another stem, or of the lake, that it runs into. */
  readonly into: number | null;
}

export function streamsOf(terrain: Terrain, names: readonly StreamName[]): Stream[] {
  const { grid, shore, areaM2 } = terrain;
  const placed = new Map<number, Place>();
  const centre = (cell: number): Place => [
    eastOf(grid, cell % grid.columns),
    northOf(grid, Math.floor(cell / grid.columns)),
  ];
  const drawn = stemsOf(terrain).flatMap(({ cells, into }) => {
    const down = [...cells].reverse();
    if (into !== null) down.push(into);
    const end = into === null ? undefined : placed.get(into);
    const line = eased(
      down.map((cell, i) => (i === down.length - 1 && end ? end : centre(cell))),
      3,
    );
    down.forEach((cell, i) => placed.has(cell) || placed.set(cell, line[i] as Place));
    if (into !== null && lengthOf(line) < LEAST_M) return [];
    return [{ down, line }];
  });
  const named = new Map<number, string>();
  for (const { name, mouth } of names) {
    const off = drawn.map(({ line }) => apart(line[line.length - 1] as Place, mouth));
    named.set(off.indexOf(Math.min(...off)), name);
  }
  return drawn.flatMap(({ down, line }, k) => {
    const kinds = down.map((cell) =>
      (shore[cell] as number) <= 0 ? "lake" : (areaM2[cell] as number) >= RIVER_M2 ? "river" : "stream",
    );
    const parts: Stream[] = [];
    for (let from = 0; from < kinds.length; ) {
      let to = from;
      while (to + 1 < kinds.length && kinds[to + 1] === kinds[from]) to++;
      const kind = kinds[from];
      // One place into what follows, so that parts touch each other and the lake.
      const part = line.slice(kind !== "lake" && from > 0 && kinds[from - 1] === "lake" ? from - 1 : from, to + 2);
      if (kind !== "lake" && kind !== undefined && part.length > 1)
        parts.push({ line: simplified(part, 1.2), class: kind, name: named.get(k) ?? null });
      from = to + 1;
    }
    return parts;
  });
}

/** Nearest stream to a place, for placing things on streams. */
export function streamNear(streams: readonly Stream[], place: Place): Place {
  const all = streams.map(({ line }) => nearestOn(line, place));
  return all.reduce((a, b) => (b.distanceM < a.distanceM ? b : a)).place;
}

function stemsOf({ receiver, areaM2 }: Terrain): Stem[] {
  const channel = (cell: number): boolean => (areaM2[cell] as number) >= STREAM_M2;
  const donors = new Map<number, number[]>();
  const starts: Stem[] = [];
  const queue: { mouth: number; into: number | null }[] = [];
  for (let cell = 0; cell < receiver.length; cell++) {
    if (!channel(cell)) continue;
    const to = receiver[cell] as number;
    if (to < 0) queue.push({ mouth: cell, into: null });
    else (donors.get(to) ?? donors.set(to, []).get(to))?.push(cell);
  }
  queue.sort((a, b) => (areaM2[b.mouth] as number) - (areaM2[a.mouth] as number));
  for (let next = queue.shift(); next; next = queue.shift()) {
    const cells = [next.mouth];
    for (;;) {
      const here = cells[cells.length - 1] as number;
      const up = (donors.get(here) ?? []).sort((a, b) => (areaM2[b] as number) - (areaM2[a] as number));
      const main = up[0];
      if (main === undefined) break;
      for (const branch of up.slice(1)) queue.push({ mouth: branch, into: here });
      cells.push(main);
    }
    starts.push({ cells, into: next.into });
  }
  return starts;
}
