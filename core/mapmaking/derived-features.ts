/** Streams, ridge and valley lines, spot heights and cliffs worked out from the terrain, as features marked "derived". */
import type { Attributes } from "../map/features.ts";
import type { Role } from "../map/kinds.ts";
import type { ElevationGrid } from "./elevation/elevation-grid.ts";
import { CLIFF_DEG, cliffAreas } from "./cliffs.ts";
import { tidyArea } from "./features-in/tidy-area.ts";
import { drainageOf, flowRoom, type Surface } from "./flow.ts";
import { lonOf, latOf, type Placement } from "./elevation/grid-placement.ts";
import { type Interval, metresPer } from "./interval.ts";
import type { Pace } from "./pace.ts";
import { type GroundLine, groundLineLimits, groundLines } from "./ridges.ts";
import { unitsOf } from "./role-features.ts";
import { spotHeights, spotLimits } from "./spot-heights.ts";
import { streamLines } from "./streams.ts";
import { EXTENT } from "./vector-tile-layer.ts";
import { AREA, LINE, POINT, type TileFeature, type TileLayerName } from "./tile-feature.ts";

/** What to work out from the terrain; left out, it is when the features given hold none of its role. */
export interface Derive {
  readonly streams?: boolean | undefined;
  /** Ridge and valley lines. */
  readonly ridges?: boolean | undefined;
  readonly spotHeights?: boolean | undefined;
  readonly cliffs?: boolean | undefined;
}

/** Lowest zoom a derived stream is drawn at, by the ground it drains, square metres. */
const STREAM_ZOOMS: readonly (readonly [leastM2: number, zoom: number])[] = [
  [50e6, 8],
  [15e6, 9],
  [5e6, 10],
  [2e6, 11],
  [0, 12],
];
/** Ridge and valley lines this long are drawn one zoom earlier, metres. */
const LONG_LINE_M = 2000;
/** Spot heights by prominence in contour intervals. */
const SPOT_ZOOMS: readonly (readonly [leastIntervals: number, zoom: number])[] = [
  [20, 11],
  [5, 12],
  [0, 13],
];

const CLIFF_ZOOM = 12;
/** Nearer than this to a summit or height that is given, a derived one is taken for the same. No source. */
const SAME_SUMMIT_M = 100;
const SAME_SUMMIT_CELLS = 2;

const zoomOf = (steps: readonly (readonly [number, number])[], value: number): number =>
  steps.find(([least]) => value >= least)?.[1] ?? 0;

export function surfaceOf(grid: ElevationGrid, placement: Placement): Surface {
  const { columns, rows, heights } = grid;
  const { cellM } = placement;
  return { columns, rows, heights, cellM, cellWidthM: (row) => placement.cellAreaM2(row) / cellM };
}

/** Marks samples on or next to the streams that are already on the map. */
function streamSamples(
  grid: ElevationGrid,
  placement: Placement,
  drawn: Iterable<TileFeature>,
  maxZoom: number,
): Uint8Array {
  const { columns, rows } = grid;
  const taken = new Uint8Array(columns * rows);
  const world = EXTENT * 2 ** maxZoom;
  const mark = (column: number, row: number): void => {
    for (let r = Math.max(0, Math.floor(row)); r <= Math.min(rows - 1, Math.ceil(row)); r++)
      for (let c = Math.max(0, Math.floor(column)); c <= Math.min(columns - 1, Math.ceil(column)); c++)
        taken[r * columns + c] = 1;
  };
  for (const { role, type, parts } of drawn) {
    if (role !== "stream" || type !== LINE) continue;
    for (const part of parts) {
      let before: readonly [number, number] | null = null;
      for (let i = 0; i < part.length; i += 2) {
        const here = placement.toGrid([lonOf(part[i]! / world), latOf(part[i + 1]! / world)]);
        const from = before ?? here;
        const steps = Math.max(
          1,
          Math.ceil(Math.max(Math.abs(here[0] - from[0]), Math.abs(here[1] - from[1]))),
        );
        for (let k = 1; k <= steps; k++)
          mark(from[0] + ((here[0] - from[0]) * k) / steps, from[1] + ((here[1] - from[1]) * k) / steps);
        before = here;
      }
    }
  }
  return taken;
}

/** What features are derived for. */
export interface DerivedFor {
  readonly interval: Interval;
  readonly derive: Derive;
  readonly maxZoom: number;
  /** Features of the roles concerned that the map has, in the units of `maxZoom`; gone through several times. */
  readonly known: () => Iterable<TileFeature>;
}

/**
 * Derives features. Valley lines are left out where a stream is drawn, derived or given.
 * @param take receives each, in the units of `maxZoom`
 * @throws Fault "cancelled"
 */
export async function derivedFeatures(
  grid: ElevationGrid,
  placement: Placement,
  { interval, derive, maxZoom, known }: DerivedFor,
  take: (feature: TileFeature) => void,
  pace: Pace,
): Promise<void> {
  const surface = surfaceOf(grid, placement);
  const fits = (zoom: number): number => Math.min(maxZoom, zoom);
  const unitM = metresPer(interval.unit);
  const toUnits = (coords: Float64Array): Int32Array => {
    const units = new Int32Array(coords.length);
    const world = new Float64Array(coords.length);
    placement.toWorld(coords, world);
    for (let i = 0; i < units.length; i++) units[i] = unitsOf(world[i]!, maxZoom);
    return units;
  };
  const add = (
    role: Role,
    type: TileFeature["type"],
    coords: Float64Array,
    attributes: Attributes,
    minZoom: number,
    parts: readonly Int32Array[] = [toUnits(coords)],
  ): void => {
    take({
      role,
      type,
      parts,
      attributes: { ...attributes, derived: true },
      minZoom: fits(minZoom),
    });
  };
  const addLines = (role: Role, lines: readonly GroundLine[]): void => {
    for (const { coords, lengthM } of lines) add(role, LINE, coords, {}, lengthM >= LONG_LINE_M ? 12 : 13);
  };
  const given = new Set<TileLayerName>();
  for (const { role } of known()) given.add(role);
  const { streams = !given.has("stream"), spotHeights: spots = !given.has("spotHeight") } = derive;
  const { ridges: ridgeLines = !given.has("ridge"), ridges: valleyLines = !given.has("valley") } = derive;
  const { cliffs = !given.has("cliff") } = derive;

  const limits = groundLineLimits(placement.cellM);
  // One after the other in the same 9 bytes a sample: arrays left to be collected would lie beside new ones for a while.
  const room = flowRoom(surface.heights.length);
  const downhill = async (): Promise<void> => {
    const taken = streamSamples(grid, placement, known(), maxZoom);
    const flow = await drainageOf(surface, 1, pace.part(0, 0.45), room);
    if (streams)
      for (const { class: kind, coords, samples, upstreamM2 } of streamLines(surface, flow)) {
        for (const sample of samples) taken[sample] = 1;
        add("stream", LINE, coords, { class: kind }, zoomOf(STREAM_ZOOMS, upstreamM2));
      }
    if (valleyLines) addLines("valley", groundLines(grid, surface, flow, -1, limits, taken));
  };
  const uphill = async (): Promise<void> => {
    const flow = await drainageOf(surface, -1, pace.part(0.45, 0.9), room);
    addLines("ridge", groundLines(grid, surface, flow, 1, limits, null));
  };
  if (streams || valleyLines) await downhill();
  if (ridgeLines) await uphill();
  if (spots) {
    await pace.step(0.9);
    const taken = givenHeights(placement, known(), maxZoom);
    const nearCells = Math.max(SAME_SUMMIT_M / placement.cellM, SAME_SUMMIT_CELLS);
    const spotsApart = spotLimits(placement.cellM, interval.value * unitM);
    for (const spot of spotHeights(surface, spotsApart, room.receiver)) {
      const place = Float64Array.of(spot.sample % grid.columns, Math.floor(spot.sample / grid.columns));
      if (taken.some(([c, r]) => Math.hypot(c - place[0]!, r - place[1]!) <= nearCells)) continue;
      const zoom = zoomOf(SPOT_ZOOMS, spot.prominenceM / (interval.value * unitM));
      add("spotHeight", POINT, place, { ele: Math.round(spot.heightM / unitM), class: spot.class }, zoom);
    }
  }
  if (cliffs) {
    await pace.step(0.95);
    for (const rings of cliffAreas(surface, CLIFF_DEG, room.marks))
      for (const area of tidyArea(rings.map(toUnits)).polygons)
        add("cliff", AREA, Float64Array.of(), { class: "steep" }, CLIFF_ZOOM, area);
  }
}

/** Where the features given have summits and spot heights already, in columns and rows of the grid. */
function givenHeights(
  placement: Placement,
  given: Iterable<TileFeature>,
  maxZoom: number,
): (readonly [column: number, row: number])[] {
  const world = EXTENT * 2 ** maxZoom;
  const found: (readonly [number, number])[] = [];
  for (const { role, type, parts } of given)
    if (type === POINT && (role === "peak" || role === "spotHeight"))
      found.push(placement.toGrid([lonOf(parts[0]![0]! / world), latOf(parts[0]![1]! / world)]));
  return found;
}
