/**
 * Areas where a grid's values are above zero, as polygons with holes: marching squares between cell centres, rings joined,
 * holes given to the ring around them. The outermost cell centres cut areas off straight.
 */
import type { HeightGrid } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";

/** Closed ring, first place repeated at the end. */
export type Ring = readonly Place[];
/** Outer ring anticlockwise, holes clockwise. */
export type Area = readonly [outer: Ring, ...holes: Ring[]];

export function signedAreaM2(ring: Ring): number {
  let twice = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i] as Place;
    const [bx, by] = ring[i + 1] as Place;
    twice += ax * by - bx * ay;
  }
  return twice / 2;
}

export function insideRing(ring: Ring, [east, north]: Place): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[i] as Place;
    const [bx, by] = ring[j] as Place;
    if (ay > north !== by > north && east < ((bx - ax) * (north - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

export const insideArea = (area: Area, place: Place): boolean =>
  insideRing(area[0], place) && !area.slice(1).some((hole) => insideRing(hole, place));

/** Rings around values above zero: higher values to the left. */
export function isoRings(grid: HeightGrid): Ring[] {
  const { columns, rows, cellM, z } = grid;
  // One ring of low cells outside, so that every line closes; edges are numbered in that wider grid.
  const wide = columns + 2;
  const at = (c: number, r: number): number =>
    c < 1 || r < 1 || c > columns || r > rows ? -1e-9 : (z[(r - 1) * columns + c - 1] as number);
  const next = new Map<number, number>();
  const edgeRight = (c: number, r: number): number => 2 * (r * wide + c);
  const edgeDown = (c: number, r: number): number => 2 * (r * wide + c) + 1;
  for (let r = 0; r <= rows; r++)
    for (let c = 0; c <= columns; c++) {
      const nw = at(c, r);
      const ne = at(c + 1, r);
      const se = at(c + 1, r + 1);
      const sw = at(c, r + 1);
      const mask = (nw > 0 ? 8 : 0) | (ne > 0 ? 4 : 0) | (se > 0 ? 2 : 0) | (sw > 0 ? 1 : 0);
      if (mask === 0 || mask === 15) continue;
      const north = edgeRight(c, r);
      const south = edgeRight(c, r + 1);
      const west = edgeDown(c, r);
      const east = edgeDown(c + 1, r);
      const join = (from: number, to: number): void => void next.set(from, to);
      const high = nw + ne + se + sw > 0;
      switch (mask) {
        case 1:
          join(south, west);
          break;
        case 2:
          join(east, south);
          break;
        case 3:
          join(east, west);
          break;
        case 4:
          join(north, east);
          break;
        case 5:
          if (high) {
            join(north, west);
            join(south, east);
          } else {
            join(north, east);
            join(south, west);
          }
          break;
        case 6:
          join(north, south);
          break;
        case 7:
          join(north, west);
          break;
        case 8:
          join(west, north);
          break;
        case 9:
          join(south, north);
          break;
        case 10:
          if (high) {
            join(west, south);
            join(east, north);
          } else {
            join(west, north);
            join(east, south);
          }
          break;
        case 11:
          join(east, north);
          break;
        case 12:
          join(west, east);
          break;
        case 13:
          join(south, east);
          break;
        default:
          join(west, south);
      }
    }
  const placeOf = (edge: number): Place => {
    const down = edge % 2;
    const c = (edge >> 1) % wide;
    const r = ((edge >> 1) - c) / wide;
    const a = at(c, r);
    const b = down ? at(c, r + 1) : at(c + 1, r);
    const t = a / (a - b);
    const x = Math.min(columns - 0.5, Math.max(0.5, c - 0.5 + (down ? 0 : t)));
    const y = Math.min(rows - 0.5, Math.max(0.5, r - 0.5 + (down ? t : 0)));
    return [x * cellM, (rows - y) * cellM];
  };
  const rings: Ring[] = [];
  for (const start of next.keys()) {
    if (!next.has(start)) continue;
    const ring: Place[] = [];
    let edge: number | undefined = start;
    while (edge !== undefined && next.has(edge)) {
      ring.push(placeOf(edge));
      const to: number = next.get(edge) as number;
      next.delete(edge);
      edge = to;
    }
    ring.push(ring[0] as Place);
    if (ring.length >= 4) rings.push(ring);
  }
  return rings;
}

/**
 * Polygons around values above zero.
 * @param leastM2 smaller areas, and smaller holes, are left out
 */
export function isoAreas(grid: HeightGrid, leastM2: number): Area[] {
  const rings = isoRings(grid).map((ring) => ({ ring, size: signedAreaM2(ring) }));
  const outers = rings.filter((r) => r.size >= leastM2).sort((a, b) => a.size - b.size);
  const areas = outers.map((outer): [Ring, ...Ring[]] => [outer.ring]);
  for (const { ring, size } of rings) {
    if (size > -leastM2) continue;
    const owner = outers.findIndex((outer) => outer.size > -size && insideRing(outer.ring, ring[0] as Place));
    areas[owner]?.push(ring);
  }
  return areas;
}
