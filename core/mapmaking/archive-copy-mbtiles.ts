/**
 * What an MBTiles archive says of itself, in the words of a PMTiles archive.
 * Source: MBTiles specification, version 1.3, section "Metadata"; PMTiles specification, version 3, sections
 * "Header" and "JSON Metadata".
 */
import { Fault } from "../fault.ts";
import type { Bbox, LonLat } from "../units/position.ts";
import type { CopiedType, CopyCounts } from "./archive-copy.ts";
import type { ArchiveHeader } from "./pmtiles-writer.ts";

/** The rows of the table `metadata`; both columns are text. */
export type MbtilesRows = readonly (readonly [name: string, value: string])[];

/** What stands in a PMTiles header, and so not in its metadata. */
const IN_HEADER: ReadonlySet<string> = new Set(["bounds", "center", "minzoom", "maxzoom", "json"]);

const FORMATS: Readonly<Record<string, CopiedType>> = {
  pbf: "mvt",
  mvt: "mvt",
  png: "png",
  jpg: "jpeg",
  jpeg: "jpeg",
  webp: "webp",
};

/**
 * The kind of tiles by the row `format`; null when there is none, which older archives leave to be seen from the tiles.
 * @throws Fault "bad-archive" for a format that is no map tile
 */
export function mbtilesType(rows: MbtilesRows, name: string): CopiedType | null {
  const format = valueOf(rows, "format")?.trim().toLowerCase();
  if (!format) return null;
  // IETF media types are allowed as well.
  const type =
    FORMATS[
      format.replace(/^image\//, "").replace(/^application\/(x-protobuf|vnd\.mapbox-vector-tile)$/, "pbf")
    ];
  if (type) return type;
  throw new Fault(
    "bad-archive",
    `The archive holds tiles of the format “${format.slice(0, 40)}”, which cannot be drawn here.`,
    name,
    "Vector tiles (pbf) and pictures (png, jpg, webp) can.",
  );
}

/**
 * Header and metadata of the PMTiles archive.
 * @param seen what was found in the tiles: it stands where the rows say nothing, or nothing that can be
 * @param title for the archive in place of its own name
 */
export function mbtilesHeader(
  rows: MbtilesRows,
  type: CopiedType,
  seen: Pick<CopyCounts, "bounds" | "minZoom" | "maxZoom">,
  title: string | null = null,
): ArchiveHeader {
  const metadata: Record<string, unknown> = {};
  for (const [key, value] of rows) if (!IN_HEADER.has(key)) metadata[key] = value;
  Object.assign(metadata, jsonMember(rows), { format: type === "mvt" ? "pbf" : type });
  if (title !== null) metadata["name"] = title;
  // PMTiles 3, "JSON Metadata": vector_layers must be there for vector tiles; here nobody said which there are.
  if (type === "mvt" && !Array.isArray(metadata["vector_layers"])) metadata["vector_layers"] = [];
  const bounds = boxOf(valueOf(rows, "bounds")) ?? seen.bounds;
  return { bounds, centre: centreOf(valueOf(rows, "center"), seen), metadata };
}

const valueOf = (rows: MbtilesRows, name: string): string | null =>
  rows.find(([key]) => key === name)?.[1] ?? null;

/** The row `json` holds what is no text: above all `vector_layers`. What is no JSON object says nothing. */
function jsonMember(rows: MbtilesRows): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(valueOf(rows, "json") ?? "{}");
    return typeof value === "object" && value !== null && !Array.isArray(value) ? { ...value } : {};
  } catch {
    return {};
  }
}

function numbersOf(text: string | null, count: number): number[] | null {
  const numbers = (text ?? "").split(",").map((part) => (part.trim() === "" ? Number.NaN : Number(part)));
  return numbers.length === count && numbers.every(Number.isFinite) ? numbers : null;
}

function boxOf(text: string | null): Bbox | null {
  const [west = 0, south = 0, east = 0, north = 0] = numbersOf(text, 4) ?? [];
  const isBox = west >= -180 && west < east && east <= 180 && south >= -90 && south < north && north <= 90;
  return isBox ? [west, south, east, north] : null;
}

function centreOf(
  text: string | null,
  { minZoom, maxZoom }: Pick<CopyCounts, "minZoom" | "maxZoom">,
): { lonLat: LonLat; zoom: number } | null {
  const [lon, lat, zoom] = numbersOf(text, 3) ?? [];
  if (lon === undefined || lat === undefined || zoom === undefined) return null;
  if (Math.abs(lon) > 180 || Math.abs(lat) > 90) return null;
  return { lonLat: [lon, lat], zoom: Math.max(minZoom, Math.min(maxZoom, Math.round(zoom))) };
}
