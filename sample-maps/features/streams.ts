/** Streams from the way water runs: stems from mouth to head, each taking the larger branch, broken where the lake lies. */
import { blurred, eastOf, northOf, smoothstep } from "../terrain/height-grid.ts";
import { octaveNoise } from "../terrain/noise.ts";
import type { Place } from "../terrain/recipe.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { steepnessOf } from "./ground.ts";
import { eased, lengthOf, nearestOn, simplified, type Line } from "./line-shape.ts";

/** Smallest catchments that carry a stream and a river on the map, square metres. */
export const STREAM_M2 = 200_000;
export const RIVER_M2 = 14_000_000;
/** Shorter streams are left off the map. */
const LEAST_M = 320;
/** So are those that never leave another's side by this much. */
const BESIDE_M = 75;

export interface Stream {
  /** From the head downstream. */
  readonly line: Line;
  readonly class: "stream" | "river";
  readonly name: string | null;
}

/** Which stream bears a name: the stem nearest to a place. */
export interface StreamName {
  readonly name: string;
  readonly along: Place;
}

interface Stem {
  /** Cells from mouth to head. */
  readonly cells: readonly number[];
  /** The cell of another stem, or of the lake, that it runs into. */
  readonly into: number | null;
}

export function streamsOf(terrain: Terrain, names: readonly StreamName[], seed: number): Stream[] {
  const { grid, shore, areaM2 } = terrain;
  const placed = new Map<number, Place>();
  const steep = blurred(steepnessOf(grid), 3);
  // On level ground water winds: there the grid's straight steps are bent, where slopes hold the stream they are kept.
  const centre = (cell: number): Place => {
    const east = eastOf(grid, cell % grid.columns);
    const north = northOf(grid, Math.floor(cell / grid.columns));
    const by = (s: number): number =>
      34 * (1 - smoothstep(0.03, 0.1, steep.z[cell] as number)) * octaveNoise(s, east, north, 210, 2);
    return (shore[cell] as number) <= 0 ? [east, north] : [east + by(seed), north + by(seed + 1)];
  };
  const earlier: Line[] = [];
  const drawn = stemsOf(terrain).flatMap(({ cells, into }) => {
    const down = cells.toReversed();
    if (into !== null) down.push(into);
    const end = into === null ? undefined : placed.get(into);
    const line = eased(
      down.map((cell, i) => (i === down.length - 1 && end ? end : centre(cell))),
      3,
    );
    down.forEach((cell, i) => placed.has(cell) || placed.set(cell, line[i] as Place));
    if (into !== null && lengthOf(line) < LEAST_M) return [];
    // Two channels side by side in one gully are one stream: the grid split it.
    if (
      into !== null &&
      line.every((place) => earlier.some((other) => nearestOn(other, place).distanceM < BESIDE_M))
    )
      return [];
    earlier.push(line);
    return [{ down, line }];
  });
  const named = new Map<number, string>();
  for (const { name, along } of names) {
    const off = drawn.map(({ line }) => nearestOn(line, along).distanceM);
    named.set(off.indexOf(Math.min(...off)), name);
  }
  return drawn.flatMap(({ down, line }, k) => {
    const kinds = down.map((cell) =>
      (shore[cell] as number) <= 0 ? "lake" : (areaM2[cell] as number) >= RIVER_M2 ? "river" : "stream",
    );
    const parts: Stream[] = [];
    for (let from = 0; from < kinds.length;) {
      let to = from;
      while (to + 1 < kinds.length && kinds[to + 1] === kinds[from]) to++;
      const kind = kinds[from];
      // One place into what follows, so that parts touch each other and the lake.
      const leavesLake = from > 0 && kinds[from - 1] === "lake";
      const part = line.slice(leavesLake ? from - 1 : from, to + 2);
      // A tributary that meets the trunk just below the lake has no bed of its own there.
      const stub = leavesLake && lengthOf(part) < BESIDE_M;
      if (kind !== "lake" && kind !== undefined && part.length > 1 && !stub)
        parts.push({ line: simplified(part, 1.2), class: kind, name: named.get(k) ?? null });
      from = to + 1;
    }
    return parts;
  });
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
