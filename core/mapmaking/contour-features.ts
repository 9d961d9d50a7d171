/** Contours as features of the map: in its unit, with index contours marked, thinned out at small scales. */
import { contours } from "./contours.ts";
import type { ElevationGrid } from "./elevation/elevation-grid.ts";
import type { Placement } from "./elevation/grid-placement.ts";
import { type Interval, metresPer } from "./interval.ts";
import type { Pace } from "./pace.ts";
import { unitsOf } from "./role-features.ts";
import { pixelM } from "./terrain-zoom.ts";
import { LINE, type TileFeature } from "./tile-feature.ts";

/** Every fifth contour is an index contour. Common practice on topographic maps. */
export const INDEX_EVERY = 5;
/** Least distance of two contours on a hillside of one in three, pixels: closer they run into one another. */
const APART_PX = 2.5;

/** The lowest zoom at which contours that many metres apart in height can still be told apart. */
function zoomFor(intervalM: number, latDeg: number): number {
  return Math.ceil(Math.log2((APART_PX * pixelM(0, latDeg)) / (intervalM * 3)));
}

export interface ContourCounts {
  readonly lines: number;
  readonly vertices: number;
  readonly levels: number;
}

/**
 * All contours at the interval.
 * @param into receives the features, in the units of `maxZoom`
 * @throws Fault "cancelled"
 */
export async function contourFeatures(
  grid: ElevationGrid,
  placement: Placement,
  interval: Interval,
  { minZoom, maxZoom }: { readonly minZoom: number; readonly maxZoom: number },
  into: TileFeature[],
  pace: Pace,
): Promise<ContourCounts> {
  const stepM = interval.value * metresPer(interval.unit);
  const latDeg = (placement.bounds[1] + placement.bounds[3]) / 2;
  const fits = (zoom: number): number => Math.min(maxZoom, Math.max(minZoom, zoom));
  const every = [1, INDEX_EVERY, INDEX_EVERY ** 2].map((n) => zoomFor(stepM * n, latDeg));
  // One value object a level: a map has a hundred thousand contours but a hundred levels.
  const byLevel = new Map<number, Pick<TileFeature, "attributes" | "minZoom">>();
  const ofLevel = (level: number): Pick<TileFeature, "attributes" | "minZoom"> => {
    let known = byLevel.get(level);
    if (!known) {
      const index = level % INDEX_EVERY === 0;
      // Rounded to a ten-thousandth: 7 · 0.1 should read 0.7.
      const ele = Math.round(level * interval.value * 1e4) / 1e4;
      const coarse = level % INDEX_EVERY ** 2 === 0;
      known = { attributes: { ele, index }, minZoom: coarse ? minZoom : fits(every[index ? 1 : 0]!) };
      byLevel.set(level, known);
    }
    return known;
  };
  let lines = 0;
  let vertices = 0;
  await contours(
    grid,
    stepM,
    ({ level, coords, closed }) => {
      placement.toWorld(coords, coords);
      const units = new Int32Array(coords.length);
      let kept = 0;
      for (let i = 0; i < coords.length; i += 2) {
        const x = unitsOf(coords[i]!, maxZoom);
        const y = unitsOf(coords[i + 1]!, maxZoom);
        if (kept > 0 && units[kept - 2] === x && units[kept - 1] === y) continue;
        units[kept++] = x;
        units[kept++] = y;
      }
      // What is smaller than the map's finest unit cannot be drawn.
      if (kept < (closed ? 8 : 4)) return;
      lines++;
      vertices += kept / 2;
      into.push({ role: "contour", type: LINE, parts: [units.slice(0, kept)], ...ofLevel(level) });
    },
    pace,
  );
  return { lines, vertices, levels: byLevel.size };
}
