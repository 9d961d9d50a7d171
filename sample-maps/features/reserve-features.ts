/** Everything drawn on the sheet besides contours, from the ground and the gazetteer. */
import { sample } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { boundaryFrom } from "./boundary.ts";
import { placeBuilding, type Building } from "./buildings.ts";
import { cliffsOf } from "./cliffs.ts";
import * as gazetteer from "./gazetteer.ts";
import { insideArea, isoAreas, type Area } from "./iso-areas.ts";
import { apart, nearestOn, simplifiedRing, type Line } from "./line-shape.ts";
import { nestingGround } from "./nesting-ground.ts";
import { routeGround } from "./route-ground.ts";
import { streamsOf, type Stream } from "./streams.ts";
import { summitsOf, type Summit } from "./summits.ts";
import { wallsOf } from "./walls.ts";
import { layWays, type WayNetwork } from "./ways.ts";
import { wetlandsOf } from "./wetlands.ts";
import { woodsOf } from "./woods.ts";

export interface Named<T> {
  readonly name: string | null;
  readonly shape: T;
}

/** All in metres on the sheet. */
export interface ReserveFeatures {
  readonly streams: readonly Stream[];
  readonly lake: readonly Area[];
  readonly wetlands: readonly Named<Area>[];
  readonly woods: readonly (Named<Area> & { readonly class: "wood" | "plantation" })[];
  readonly cliffs: readonly Named<Line>[];
  readonly network: WayNetwork;
  readonly bridges: readonly Named<Place>[];
  readonly buildings: readonly Building[];
  readonly walls: readonly Line[];
  readonly fences: readonly Line[];
  readonly powerLine: Line;
  readonly boundary: Line;
  readonly closed: readonly Area[];
  readonly summits: readonly Named<Summit>[];
  readonly spotHeights: readonly Place[];
}

export function makeFeatures(terrain: Terrain, seed: number): ReserveFeatures {
  const { grid, shore } = terrain;
  const streams = streamsOf(terrain, gazetteer.STREAM_NAMES, seed + 800);
  const lake = isoAreas({ ...grid, z: shore.map((above) => -above) }, 5_000).map(
    (area) => area.map((ring) => simplifiedRing(ring, 1.5)) as unknown as Area,
  );
  const cliffs = named(
    cliffsOf(grid),
    gazetteer.CLIFF_NAMES,
    (line, near) => nearestOn(line, near).distanceM,
    500,
  );
  const nest = cliffs.find(({ name }) => name === gazetteer.CLOSED_CLIFF);
  const closed = nest ? nestingGround(grid, nest.shape, 130, seed + 500) : [];
  const isClosed = (place: Place): boolean => closed.some((area) => insideArea(area, place));
  const ground = routeGround(
    terrain,
    streams,
    gazetteer.BRIDGES.map(({ near }) => near),
    isClosed,
    seed + 600,
  );
  const network = layWays(ground, gazetteer.WAYS, seed + 700);
  const buildings = gazetteer.BUILDINGS.map((plan) =>
    placeBuilding(plan, network.ways, (place) =>
      streams.every(({ line }) => nearestOn(line, place).distanceM > 18),
    ),
  );
  const plantation: Area = [gazetteer.PLANTATION.ring];
  const farOff = (area: Area, near: Place): number =>
    insideArea(area, near) ? 0 : nearestOn(area[0], near).distanceM;
  const wild = woodsOf(
    terrain,
    seed + 200,
    (place) =>
      insideArea(plantation, place) ||
      nearestOn(plantation[0], place).distanceM < 40 ||
      buildings.some((building) => building.plan.name !== null && apart(building.middle, place) < 55),
  );
  const woods = [
    ...named(wild, gazetteer.WOOD_NAMES, farOff, 300).map((wood) => ({ ...wood, class: "wood" as const })),
    { name: gazetteer.PLANTATION.name, shape: plantation, class: "plantation" as const },
  ];
  const summits = named(
    summitsOf(grid, 6),
    gazetteer.SUMMIT_NAMES,
    (summit, near) => apart(summit.place, near),
    200,
  );
  return {
    streams,
    lake,
    wetlands: named(wetlandsOf(terrain, seed + 300), gazetteer.WETLAND_NAMES, farOff, 300),
    woods,
    cliffs,
    network,
    bridges: gazetteer.BRIDGES.flatMap(({ name, over, near }) => {
      const at = crossingNear(
        network,
        streams.filter((stream) => stream.name === over),
        near,
      );
      return at ? [{ name, shape: at }] : [];
    }),
    buildings,
    walls: wallsOf(terrain, gazetteer.FARMS),
    fences: [gazetteer.PLANTATION.ring],
    powerLine: gazetteer.POWER_LINE,
    boundary: boundaryFrom(terrain, riverBoundary(streams), gazetteer.BOUNDARY.corners),
    closed,
    summits,
    spotHeights: spread(
      network.junctions.filter((place) => summits.every((summit) => apart(summit.shape.place, place) > 250)),
      350,
    ),
  };
}

/** The stretch of the boundary's river from where the boundary meets it down to its mouth. */
function riverBoundary(streams: readonly Stream[]): Line {
  const { river, from } = gazetteer.BOUNDARY;
  const line = streams.find((stream) => stream.name === river && stream.class === "river")?.line ?? [];
  const start = line.findIndex((place) => nearestOn(line, from).distanceM >= apart(place, from) - 15);
  return line.slice(Math.max(0, start));
}

/** Gives each name to the thing nearest to its place, when that is near enough. */
function named<T>(
  things: readonly T[],
  names: readonly (readonly [name: string, near: Place])[],
  distance: (thing: T, near: Place) => number,
  withinM: number,
): Named<T>[] {
  const given = new Map<T, string>();
  for (const [name, near] of names) {
    let best: T | null = null;
    let bestM = withinM;
    for (const thing of things) {
      const away = distance(thing, near);
      if (away < bestM && !given.has(thing)) [best, bestM] = [thing, away];
    }
    if (best !== null) given.set(best, name);
  }
  return things.map((shape) => ({ name: given.get(shape) ?? null, shape }));
}

/** Where a way crosses a stream within 300 m of a place. */
function crossingNear({ ways }: WayNetwork, streams: readonly Stream[], near: Place): Place | null {
  let best: Place | null = null;
  for (const way of ways)
    for (const stream of streams)
      for (const at of meetings(way.line, stream.line))
        if (apart(at, near) < (best ? apart(best, near) : 300)) best = at;
  return best;
}

function meetings(a: Line, b: Line): Place[] {
  const found: Place[] = [];
  for (let i = 1; i < a.length; i++)
    for (let j = 1; j < b.length; j++) {
      const [p, q, r, s] = [a[i - 1], a[i], b[j - 1], b[j]] as [Place, Place, Place, Place];
      const ax = q[0] - p[0];
      const ay = q[1] - p[1];
      const bx = s[0] - r[0];
      const by = s[1] - r[1];
      const cross = ax * by - ay * bx;
      if (cross === 0) continue;
      const t = ((r[0] - p[0]) * by - (r[1] - p[1]) * bx) / cross;
      const u = ((r[0] - p[0]) * ay - (r[1] - p[1]) * ax) / cross;
      if (t >= 0 && t <= 1 && u >= 0 && u <= 1) found.push([p[0] + t * ax, p[1] + t * ay]);
    }
  return found;
}

/** Places in order, without those closer than some distance to one already kept. */
function spread(places: readonly Place[], leastM: number): Place[] {
  const kept: Place[] = [];
  for (const place of places) if (kept.every((other) => apart(other, place) >= leastM)) kept.push(place);
  return kept;
}

/** Height of the ground at a place, whole metres, as printed on the map. */
export const printedHeight = (terrain: Terrain, [east, north]: Place): number =>
  Math.round(sample(terrain.grid, east, north));
