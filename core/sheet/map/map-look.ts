/** How heavy things are drawn, by the scale: legible close up, not clogged far off. Common practice, no source. */
import type { MapInfo } from "../../map/metadata.ts";

export interface MapWish {
  /** Figures and names of at least 14 points instead of 9. */
  readonly large?: boolean;
}

export interface MapLook {
  readonly scale: number;
  /** Factor on line widths and marks: 1 at 1:25 000. */
  readonly weight: number;
  /** Least size of names and figures, points. */
  readonly pt: number;
  readonly pathNames: boolean;
  readonly buildingNames: boolean;
  /** Factor on the widths of roads, which crowd a small scale. */
  readonly roads: number;
  /** Marks along walls and fences are shown. */
  readonly smallMarks: boolean;
}

const MID_SCALE = 25_000;
const SMALL_SCALE = 40_000;
const LARGE_SCALE = 18_000;

export function mapLook(scale: number, { large = false }: MapWish): MapLook {
  return {
    scale,
    weight: Math.min(1.25, Math.max(0.7, (MID_SCALE / scale) ** 0.3)),
    pt: large ? 14 : 9,
    pathNames: scale < SMALL_SCALE,
    buildingNames: scale < LARGE_SCALE,
    roads: scale < SMALL_SCALE ? 1 : 0.8,
    smallMarks: scale < 2 * SMALL_SCALE,
  };
}

export interface DrawnContours {
  /** Every how many of the map's intervals a contour is drawn. */
  readonly every: number;
  /** As printed under the map, in the map's own unit. */
  readonly interval: { readonly value: number; readonly unit: "m" | "ft" } | null;
}

/** Contours nearer than this on a steep hillside run together, millimetres. */
const LEAST_APART_MM = 0.3;
const STEEP_HILLSIDE = Math.tan(Math.PI / 6);
const METRES_PER_FOOT = 0.3048;

/** Which of the map's contours a scale has room for: all, or every second, fourth, fifth, tenth. */
export function drawnContours(info: Pick<MapInfo, "interval">, scale: number): DrawnContours {
  const { interval } = info;
  if (!interval) return { every: 1, interval };
  const stepM = interval.value * (interval.unit === "ft" ? METRES_PER_FOOT : 1);
  const apartMm = ((stepM / STEEP_HILLSIDE) * 1000) / scale;
  const every = [1, 2, 4, 5, 10].find((n) => n * apartMm >= LEAST_APART_MM) ?? 10;
  return { every, interval: { ...interval, value: interval.value * every } };
}
