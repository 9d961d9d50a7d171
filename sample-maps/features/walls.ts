/**
 * Dry-stone walls: a head wall where the farmland of a valley ends and the moor begins, and side walls from it down
 * towards the stream. Walls run straight from corner to corner.
 */
import { blurred, cellAt, eastOf, northOf, sample } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { aboveStream } from "./ground.ts";
import { isoRings } from "./iso-areas.ts";
import { apart, lengthOf, placeAlong, simplified, type Line } from "./line-shape.ts";

export interface Farmland {
  /** The walled land lies within this distance of this place. */
  readonly middle: Place;
  readonly radiusM: number;
  /** The head wall stands about this high above the valley's stream. */
  readonly headM: number;
  /** One side wall for about so many metres of head wall. */
  readonly everyM: number;
}

const LEAST_HEAD_M = 350;
/** Side walls end this short of the stream. */
const BANK_M = 30;

export function wallsOf(terrain: Terrain, farms: readonly Farmland[]): Line[] {
  const { grid } = terrain;
  const valley = blurred(aboveStream(terrain, 3_000_000), 5);
  return farms.flatMap(({ middle, radiusM, headM, everyM }) => {
    const inside = (place: Place): boolean => apart(place, middle) < radiusM;
    const heads = isoRings({ ...valley, z: valley.z.map((above) => above - headM) })
      .flatMap((ring) => stretches(ring, (place) => inside(place) && onSheet(terrain, place)))
      .filter((line) => lengthOf(line) > LEAST_HEAD_M)
      .map((line) => simplified(line, 13));
    const sides = heads.flatMap((head) => {
      const count = Math.floor(lengthOf(head) / everyM);
      return Array.from({ length: count }, (_v, k) =>
        nearestCorner(head, placeAlong(head, (k + 0.5) * everyM)),
      )
        .map((corner) => downhill(terrain, corner))
        .filter((line) => lengthOf(line) > 120)
        .map((line) => simplified(line, 16));
    });
    return [...heads, ...sides.map((line) => line.filter((p) => sample(grid, p[0], p[1]) > 0))].filter(
      (l) => l.length > 1,
    );
  });
}

const onSheet = ({ grid }: Terrain, [east, north]: Place): boolean =>
  east > 20 && north > 20 && east < grid.columns * grid.cellM - 20 && north < grid.rows * grid.cellM - 20;

/** A side wall leaves from a corner of the head wall, so that the two share a place. */
function nearestCorner(line: Line, place: Place): Place {
  return line.reduce((a, b) => (apart(b, place) < apart(a, place) ? b : a));
}

function stretches(ring: Line, keep: (place: Place) => boolean): Place[][] {
  const found: Place[][] = [];
  let current: Place[] | null = null;
  for (const place of ring) {
    if (!keep(place)) current = null;
    else if (current) current.push(place);
    else found.push((current = [place]));
  }
  return found;
}

/** The way water would take from a place to the bank of the valley's stream. */
function downhill({ grid, receiver, areaM2 }: Terrain, from: Place): Place[] {
  const line: Place[] = [from];
  let cell = cellAt(grid, from[0], from[1]);
  while ((areaM2[cell] as number) < 120_000) {
    const to = receiver[cell] as number;
    if (to < 0) break;
    cell = to;
    line.push([eastOf(grid, cell % grid.columns), northOf(grid, Math.floor(cell / grid.columns))]);
  }
  while (line.length > 2 && apart(line[line.length - 1] as Place, line[line.length - 2] as Place) < BANK_M) {
    line.pop();
    if (
      apart(line[line.length - 1] as Place, [
        eastOf(grid, cell % grid.columns),
        northOf(grid, Math.floor(cell / grid.columns)),
      ]) > BANK_M
    )
      break;
  }
  return line;
}
