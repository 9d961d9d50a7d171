/**
 * Flat valley floors: ground close above a stream is brought nearer to the stream's own level, the more the larger the
 * stream, as sediment would. Height above the nearest drained-to channel: A. D. Nobre et al., "Height Above the Nearest
 * Drainage", J. Hydrology 404, 2011.
 */
import type { Drainage } from "./drainage.ts";
import type { HeightGrid } from "./height-grid.ts";

/** Smallest catchment that has a floor, square metres. */
const CHANNEL_M2 = 600_000;

/** Height of the floor's influence above a stream that drains an area, metres. */
function floorReachM(areaM2: number): number {
  return Math.min(24, 2.6 * Math.sqrt(areaM2 / 1e6));
}

/** Flattens in place. */
export function layValleyFloors(grid: HeightGrid, drainage: Drainage): void {
  const { order, receiver, areaM2 } = drainage;
  const channel = new Int32Array(order.length);
  const bed = Float64Array.from(grid.z);
  for (const cell of order) {
    const to = receiver[cell] as number;
    channel[cell] = (areaM2[cell] as number) >= CHANNEL_M2 || to === cell ? cell : (channel[to] as number);
  }
  for (const cell of order) {
    const below = channel[cell] as number;
    const area = areaM2[below] as number;
    if (area < CHANNEL_M2) continue;
    const reach = floorReachM(area);
    const above = (bed[cell] as number) - (bed[below] as number);
    if (above <= 0 || above >= reach) continue;
    const t = above / reach;
    // 2t² − t³: level at the stream, and joins the hillside at t = 1 without a crease.
    grid.z[cell] = (bed[below] as number) + reach * t * t * (2 - t);
  }
}
