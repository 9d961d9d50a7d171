/** A walk in the format that a file's ending names. */
import { Fault } from "../fault.ts";
import type { Walk } from "../walk/walk.ts";
import { type Dialect, writeCsv } from "./write-csv.ts";
import { writeGeoJson } from "./write-geojson.ts";
import { type GpxParts, writeGpx } from "./write-gpx.ts";
import { writeKml, writeKmz } from "./write-kml.ts";

export const EXCHANGE_FORMATS = ["gpx", "kml", "kmz", "geojson", "csv", "tsv"] as const;
export type ExchangeFormat = (typeof EXCHANGE_FORMATS)[number];

/**
 * @param dialect of CSV; TSV has a tab between columns whatever it says
 * @throws Fault "bad-argument" for a walk without points, or a dialect that cannot be read again
 */
export function writeExchange(
  walk: Walk,
  format: ExchangeFormat,
  parts: GpxParts,
  dialect: Dialect,
): string | Uint8Array {
  if (walk.points.length === 0)
    throw new Fault("bad-argument", "The walk has no points: there is nothing to write.");
  if (format === "gpx") return writeGpx(walk, parts);
  if (format === "kml") return writeKml(walk);
  if (format === "kmz") return writeKmz(walk);
  if (format === "geojson") return writeGeoJson(walk);
  return writeCsv(walk, format === "tsv" ? { ...dialect, separator: "\t" } : dialect);
}

/** What of a walk no other format carries, as one sentence for the person. */
export const NOT_CARRIED =
  "Day, pace, times, declination, aiming off and your own instructions stay in the walk file: no other format carries them.";
