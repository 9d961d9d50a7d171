/**
 * Lines in short runs of segments, each with its bounding box: what lies far from a leg is passed over sixteen
 * segments at a time.
 */
import type { LineFeature } from "./features.ts";

export const RUN_SEGMENTS = 16;

const kept = new WeakMap<Float64Array, Float64Array>();

/**
 * West, south, east, north of each run; run k covers vertices 16k to 16k + 16 (or the last), ends shared.
 * Worked out once for each array of coordinates.
 */
export function runBoxesOf(line: Pick<LineFeature, "coords">): Float64Array {
  let boxes = kept.get(line.coords);
  if (!boxes) kept.set(line.coords, (boxes = runBoxes(line.coords)));
  return boxes;
}

export function runBoxes(coords: Float64Array): Float64Array {
  const vertices = coords.length / 2;
  const runs = Math.max(1, Math.ceil((vertices - 1) / RUN_SEGMENTS));
  const boxes = new Float64Array(4 * runs);
  for (let run = 0; run < runs; run++) {
    let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
    const last = Math.min(vertices - 1, (run + 1) * RUN_SEGMENTS);
    for (let i = run * RUN_SEGMENTS; i <= last; i++) {
      const lon = coords[2 * i] as number;
      const lat = coords[2 * i + 1] as number;
      if (lon < west) west = lon;
      if (lon > east) east = lon;
      if (lat < south) south = lat;
      if (lat > north) north = lat;
    }
    boxes.set([west, south, east, north], 4 * run);
  }
  return boxes;
}
