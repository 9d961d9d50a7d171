/** Which contours are drawn at which zoom, and what they are called. */
import type { Attributes } from "../map/features.ts";
import { type Interval, metresPer } from "./interval.ts";
import { pixelM } from "./terrain-zoom.ts";

/** Least distance of two contours on a hillside of one in three, pixels: closer they run into one another. */
const APART_PX = 2.5;
/** A cell of the model a contour is drawn from at lower zooms is about this wide, pixels. */
const CELL_PX = 2.5;

/**
 * Every how many contours there is an index contour. Common practice on topographic maps, no source: every fifth;
 * every fourth where the interval is a quarter of a round number, as 25 feet are of 100.
 */
export function indexEvery({ value }: Interval): number {
  const digits = value / 10 ** Math.floor(Math.log10(value));
  return Math.abs(digits - 2.5) < 1e-9 ? 4 : 5;
}

/** The lowest zoom at which contours that many metres apart in height can still be told apart. */
const zoomFor = (intervalM: number, latDeg: number): number =>
  Math.ceil(Math.log2((APART_PX * pixelM(0, latDeg)) / (intervalM * 3)));

/** Every how many contours one is drawn at a zoom: all, the index contours, or every index-th of those. */
export function drawnEvery(interval: Interval, zoom: number, maxZoom: number, latDeg: number): number {
  const stepM = interval.value * metresPer(interval.unit);
  const every = indexEvery(interval);
  if (zoom >= Math.min(maxZoom, zoomFor(stepM, latDeg))) return 1;
  return zoom >= Math.min(maxZoom, zoomFor(stepM * every, latDeg)) ? every : every ** 2;
}

/** How often the model is halved before contours for a zoom are drawn from it. */
export const halvingsAt = (zoom: number, cellM: number, latDeg: number): number =>
  Math.max(0, Math.floor(Math.log2((CELL_PX * pixelM(zoom, latDeg)) / cellM)));

/** Attributes of a level's contours; the same object each time, as equal objects become one feature. */
export function levelAttributes(interval: Interval): (level: number, depression: boolean) => Attributes {
  const known = new Map<number, Attributes>();
  const every = indexEvery(interval);
  return (level, depression) => {
    const key = 2 * level + (depression ? 1 : 0);
    let attributes = known.get(key);
    if (!attributes) {
      // Rounded to a ten-thousandth: 7 · 0.1 should read 0.7.
      const ele = Math.round(level * interval.value * 1e4) / 1e4;
      attributes = { ele, index: level % every === 0, ...(depression && { depression }) };
      known.set(key, attributes);
    }
    return attributes;
  };
}
