/** A walk in the format that a file's ending names. */
import { Fault } from "../fault.ts";
import type { Walk } from "../walk/walk.ts";
import type { ExchangeParts } from "./parts.ts";
import { type Dialect, writeCsv } from "./write-csv.ts";
import { writeGeoJson } from "./write-geojson.ts";
import { writeGpx } from "./write-gpx.ts";
import { packKml, writeKml } from "./write-kml.ts";

export const EXCHANGE_FORMATS = ["gpx", "kml", "kmz", "geojson", "csv", "tsv"] as const;
export type ExchangeFormat = (typeof EXCHANGE_FORMATS)[number];

/**
 * The text of a walk in a format; of KMZ that of the KML to be packed.
 * @param dialect of CSV; TSV has a tab between columns whatever it says
 * @throws Fault "bad-argument" for a walk without points, nothing to go along, or a dialect that cannot be read again
 */
export function exchangeText(
  walk: Walk,
  format: ExchangeFormat,
  parts: ExchangeParts,
  dialect: Dialect,
): string {
  if (walk.points.length === 0)
    throw new Fault("bad-argument", "The walk has no points: there is nothing to write.");
  // One point has no line; a route may have it.
  const legs = parts.legs && (format === "gpx" || walk.points.length > 1);
  if (!parts.points && !legs && !parts.track && format !== "csv" && format !== "tsv")
    throw new Fault(
      "bad-argument",
      "Nothing is to go along.",
      null,
      "Choose the points, the legs or the ground along them.",
    );
  if (format === "gpx") return writeGpx(walk, parts);
  if (format === "kml" || format === "kmz") return writeKml(walk, parts);
  if (format === "geojson") return writeGeoJson(walk, parts);
  return writeCsv(walk, parts, format === "tsv" ? { ...dialect, separator: "\t" } : dialect);
}

/** The same as a file holds it. */
export function writeExchange(
  walk: Walk,
  format: ExchangeFormat,
  parts: ExchangeParts,
  dialect: Dialect,
): string | Uint8Array {
  const text = exchangeText(walk, format, parts, dialect);
  return format === "kmz" ? packKml(text) : text;
}
