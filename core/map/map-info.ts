/** What an archive says of itself, read from its header and its metadata JSON. */
import type { Bbox } from "../units/position.ts";
import type { Archive } from "./archive.ts";
import { guessRoles, type LayerFields } from "./guess-roles.ts";
import { ROLES, type Role } from "./kinds.ts";
import type { LayerBinding, MapInfo, RoleBinding, RoleCondition } from "./metadata.ts";
import { MERCATOR_MAX_LAT } from "./tile-grid.ts";

type Json = Readonly<Record<string, unknown>>;

const isRecord = (value: unknown): value is Json =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const text = (value: unknown): string | null =>
  typeof value === "string" && value.trim() !== "" ? value : null;
const positive = (value: unknown): number | null =>
  typeof value === "number" && Number.isFinite(value) && value > 0 ? value : null;

/** Layers and their fields as `vector_layers` lists them. */
export function listedLayers(metadata: Json): LayerFields[] {
  const listed = Array.isArray(metadata["vector_layers"]) ? metadata["vector_layers"].filter(isRecord) : [];
  return listed.map((l) => ({
    name: text(l["id"]) ?? "",
    fields: isRecord(l["fields"]) ? Object.keys(l["fields"]) : [],
  }));
}

/** Layers as the metadata lists them, and as they were seen in tiles. */
export function mergeLayers(listed: readonly LayerFields[], seen: readonly LayerFields[]): LayerFields[] {
  const names = new Set([...listed, ...seen].map((l) => l.name));
  return Array.from(names, (name) => {
    const there = seen.find((l) => l.name === name);
    const fields = new Set([
      ...(listed.find((l) => l.name === name)?.fields ?? []),
      ...(there?.fields ?? []),
    ]);
    return {
      name,
      fields: [...fields],
      ...(there?.seen && { seen: there.seen }),
      ...(there?.features !== undefined && { features: there.features }),
    };
  });
}

/** Text without the markup that attributions often carry. */
const plain = (value: string | null): string | null =>
  text(
    value
      ?.replace(/<[^>]*>/g, " ")
      .replace(/\s+/g, " ")
      .trim(),
  );

/** Whether the archive itself says which layer plays which role. */
export const declaresRoles = ({ metadata }: Archive): boolean =>
  isRecord(metadata["legwright"]) && parseRoles(metadata["legwright"]["roles"]) !== null;

/**
 * @param seen layers as seen in tiles, for an archive that does not declare roles
 * @param set roles set by a person, in place of those declared or guessed
 */
export function mapInfo(
  archive: Archive,
  seen: readonly LayerFields[],
  set: MapInfo["roles"] | null = null,
): MapInfo {
  const { metadata, header } = archive;
  const own = isRecord(metadata["legwright"]) ? metadata["legwright"] : {};
  const declared = parseRoles(own["roles"]);
  const dataEdge = text(own["dataEdge"]);
  const filled = text(own["filled"]);
  const contourLabels = text(own["contourLabels"]);
  return {
    id: text(own["id"]) ?? idFromHeader(archive),
    title: text(own["title"]) ?? text(metadata["name"]) ?? archive.key.replace(/\.pmtiles$/i, ""),
    bounds: boundsOf(archive),
    minZoom: header.minZoom,
    maxZoom: header.maxZoom,
    roles: set ?? declared ?? guessRoles(mergeLayers(listedLayers(metadata), seen)),
    rolesFrom: set ? "user" : declared ? "metadata" : "guess",
    interval: intervalFrom(own["interval"]),
    source: text(own["source"]) ?? text(metadata["description"]),
    date: text(own["date"]),
    attribution: plain(text(own["attribution"]) ?? text(metadata["attribution"])),
    datum: text(own["datum"]),
    invented: own["invented"] === true,
    elevationCellM: positive(own["elevationCellM"]),
    ...(dataEdge !== null && { dataEdge }),
    ...(filled !== null && { filled }),
    ...(contourLabels !== null && { contourLabels }),
  };
}

/** Bindings read from JSON, as far as they make sense; null when there are none. */
export function parseRoles(value: unknown): Partial<Record<Role, RoleBinding>> | null {
  if (!isRecord(value)) return null;
  const roles: Partial<Record<Role, RoleBinding>> = {};
  for (const role of ROLES) {
    const binding = value[role];
    if (!isRecord(binding)) continue;
    const [first, ...also] = [binding, ...list(binding["also"])].map(layerBinding).filter((b) => b !== null);
    if (first) roles[role] = also.length > 0 ? { ...first, also } : first;
  }
  return Object.keys(roles).length > 0 ? roles : null;
}

const list = (value: unknown): Json[] => (Array.isArray(value) ? value.filter(isRecord) : []);

/** What makes sense of a layer's binding; null without a layer. */
function layerBinding(value: Json): LayerBinding | null {
  const layer = text(value["layer"]);
  if (!layer) return null;
  const [where, ...orWhere] = [value["where"], ...list(value["orWhere"])].filter(isCondition);
  const field = (name: "name" | "elevation" | "index"): object => {
    const own = text(value[name]);
    return own === null ? {} : { [name]: own };
  };
  return {
    layer,
    ...(where && { where }),
    ...(orWhere.length > 0 && { orWhere }),
    ...field("name"),
    ...field("elevation"),
    ...(value["unit"] === "ft" || value["unit"] === "m" ? { unit: value["unit"] } : {}),
    ...field("index"),
  };
}

const isCondition = (value: unknown): value is RoleCondition =>
  isRecord(value) && text(value["field"]) !== null && Array.isArray(value["in"]);

function intervalFrom(value: unknown): MapInfo["interval"] {
  if (!isRecord(value)) return null;
  const number = positive(value["value"]);
  const unit = value["unit"];
  return number !== null && (unit === "m" || unit === "ft") ? { value: number, unit } : null;
}

/** The header's bounds; where it leaves them zero the metadata's, else the whole square world. */
export function boundsOf({ header, metadata }: Archive): Bbox {
  const fromHeader: Bbox = [header.minLon, header.minLat, header.maxLon, header.maxLat];
  if (isBox(fromHeader)) return fromHeader;
  const written = metadata["bounds"];
  const numbers = (
    typeof written === "string" ? written.split(",") : Array.isArray(written) ? written : []
  ).map(Number);
  const box = numbers as unknown as Bbox;
  return numbers.length === 4 && isBox(box) ? box : [-180, -MERCATOR_MAX_LAT, 180, MERCATOR_MAX_LAT];
}

function isBox([west, south, east, north]: Bbox): boolean {
  return (
    west < east &&
    south < north &&
    Math.abs(west) <= 180 &&
    Math.abs(east) <= 180 &&
    Math.abs(south) <= 90 &&
    Math.abs(north) <= 90
  );
}

/** FNV-1a over the header's figures: the same archive has the same id wherever it lies. */
function idFromHeader({ header, metadata }: Archive): string {
  const figures = [
    header.tileDataLength,
    header.numAddressedTiles,
    header.numTileEntries,
    header.numTileContents,
    header.minZoom,
    header.maxZoom,
    header.minLon,
    header.minLat,
    header.maxLon,
    header.maxLat,
    text(metadata["name"]) ?? "",
  ].join("|");
  let hash = 0x811c9dc5;
  for (let i = 0; i < figures.length; i++) hash = Math.imul(hash ^ figures.charCodeAt(i), 0x01000193) >>> 0;
  return `archive-${hash.toString(16).padStart(8, "0")}`;
}
