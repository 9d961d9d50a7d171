import { type Archive, openArchive } from "../../core/map/archive.ts";
import { ROLES } from "../../core/map/kinds.ts";
import {
  layersOfRole,
  type LegwrightMetadata,
  type LayerBinding,
  type MapInfo,
} from "../../core/map/metadata.ts";
import { readInfo } from "../../core/map/read-info.ts";
import { Fault } from "../../core/fault.ts";
import { rolesSetFor } from "../services/archives/remembered-roles.ts";
import { settingsFolder } from "../services/folders.ts";
import { openFileSource } from "../services/file-source.ts";
import { GROUND_DECODERS } from "../services/ground-decoders.ts";
import { terrainPathOf } from "./map-files.ts";
import { deliver } from "./product.ts";
import { say } from "./say.ts";

export interface InspectOptions {
  readonly format?: "text" | "json";
  readonly out?: string;
}

interface Counts {
  readonly fileName: string;
  readonly sizeBytes: number;
  /** Tiles the archive answers for, and how many different ones it holds. */
  readonly tiles: number;
  readonly differentTiles: number;
}

interface Inspection extends MapInfo {
  readonly archive: Counts;
  readonly layers: readonly { readonly name: string; readonly fields: readonly string[] }[] | null;
  /** Share of the heights that were missing and are made up from those around them; 0 when none, or not told. */
  readonly filledShare: number;
  readonly terrain: (Counts & { readonly minZoom: number; readonly maxZoom: number }) | null;
}

/** `inspect MAP`: what an archive says of itself, what was found in it, and how. */
export async function inspect(path: string, options: InspectOptions): Promise<void> {
  const terrainPath = terrainPathOf(path);
  const source = await openFileSource(path);
  const read = await readInfo(source, GROUND_DECODERS);
  const { roles, notices } = read.pictures
    ? { roles: null, notices: [] }
    : await rolesSetFor(source, settingsFolder());
  const info: MapInfo = roles ? { ...read, roles, rolesFrom: "user" } : read;
  for (const notice of notices) say(`note: ${notice}`);
  const archive = await openArchive(source, GROUND_DECODERS);
  const inspection: Inspection = {
    ...info,
    archive: counts(archive, source.sizeBytes),
    layers: layersOf(archive.metadata),
    filledShare: filledShareOf(archive.metadata),
    terrain: await terrainAt(terrainPath),
  };
  await deliver(
    options.format === "json" ? `${JSON.stringify(inspection, null, 2)}\n` : asText(inspection),
    options.out,
  );
}

/** Layers and their fields as the archive's metadata lists them (`vector_layers`, MBTiles 1.3); null when it lists none. */
function layersOf(metadata: Readonly<Record<string, unknown>>): Inspection["layers"] {
  const listed: unknown = metadata["vector_layers"];
  if (!Array.isArray(listed)) return null;
  return (listed as unknown[]).flatMap((layer) => {
    const { id, fields } = (layer ?? {}) as { readonly id?: unknown; readonly fields?: unknown };
    return typeof id === "string" ? [{ name: id, fields: Object.keys(fields ?? {}) }] : [];
  });
}

function filledShareOf(metadata: Readonly<Record<string, unknown>>): number {
  const own = metadata["legwright"];
  const share: unknown = typeof own === "object" && own !== null ? (own as LegwrightMetadata).filledShare : 0;
  return typeof share === "number" && share > 0 && share <= 1 ? share : 0;
}

function counts({ key, header }: Archive, sizeBytes: number): Counts {
  return {
    fileName: key,
    sizeBytes,
    tiles: header.numAddressedTiles,
    differentTiles: header.numTileContents,
  };
}

async function terrainAt(path: string): Promise<Inspection["terrain"]> {
  try {
    const source = await openFileSource(path);
    const archive = await openArchive(source, GROUND_DECODERS);
    const { minZoom, maxZoom } = archive.header;
    return { ...counts(archive, source.sizeBytes), minZoom, maxZoom };
  } catch (error) {
    if (error instanceof Fault && error.code === "no-file") return null;
    throw error;
  }
}

const ROLES_FROM = {
  metadata: "as the map says",
  guess: "guessed from the names of layers and fields",
  user: "as set by hand",
} as const;

/** A line for each use of a layer, in columns. */
function roleTable({ roles }: MapInfo): string[] {
  const found = ROLES.flatMap((role) => {
    const binding = roles[role];
    return binding
      ? layersOfRole(binding).map((one) => [role, one.layer, fieldsOf(one), conditionsOf(one)])
      : [];
  });
  if (found.length === 0) return [];
  const rows = [["role", "layer", "fields", ""], ...found];
  const widths = [0, 1, 2].map((column) => Math.max(0, ...rows.map((cells) => cells[column]?.length ?? 0)));
  return rows.map((cells) => `  ${cells.map((cell, i) => cell.padEnd(widths[i] ?? 0)).join("  ")}`.trimEnd());
}

const fieldsOf = ({ name, elevation, unit, index }: LayerBinding): string =>
  [
    name && `name ${name}`,
    elevation && `elevation ${elevation}${unit ? ` in ${unit}` : ""}`,
    index && `index ${index}`,
  ]
    .filter(Boolean)
    .join(", ");

function conditionsOf({ where, orWhere }: LayerBinding): string {
  const each = [...(where ? [where] : []), ...(orWhere ?? [])].map(
    ({ field, in: values }) => `${field} is ${[...new Set(values.map(String))].join(", ")}`,
  );
  return each.length > 0 ? `where ${each.join("; or ")}` : "";
}

function asText(map: Inspection): string {
  const [west, south, east, north] = map.bounds;
  const line = (name: string, value: string | number | null): string => `${name.padEnd(14)}${value ?? "–"}`;
  const size = ({ sizeBytes, tiles, differentTiles }: Counts): string =>
    `${(sizeBytes / 1e6).toFixed(2)} MB, ${tiles} tiles, ${differentTiles} different`;
  const roles = roleTable(map);
  const lines = [
    line("Title", map.title),
    ...(map.invented ? [line("Place", "invented: it does not exist")] : []),
    line("Id", map.id),
    line(
      "Bounds",
      `${west.toFixed(5)} ${south.toFixed(5)} to ${east.toFixed(5)} ${north.toFixed(5)} (lon lat, WGS 84)`,
    ),
    line("Zooms", `${map.minZoom}–${map.maxZoom}`),
    line("Interval", map.interval && `${map.interval.value} ${map.interval.unit}`),
    line("Source", map.source),
    line("Date", map.date),
    line("Attribution", map.attribution),
    line("Height datum", map.datum),
    line("Archive", size(map.archive)),
    line(
      "Terrain",
      map.terrain &&
        `${size(map.terrain)}, zooms ${map.terrain.minZoom}–${map.terrain.maxZoom}${map.elevationCellM ? `, cell ${Number(map.elevationCellM.toPrecision(3))} m` : ""}`,
    ),
    ...(map.filledShare > 0
      ? [
          line(
            "Made up",
            `${(100 * map.filledShare).toPrecision(2)} % of the heights, filled in where the model had none: do not trust the ground there`,
          ),
        ]
      : []),
    line(
      "Layers",
      map.layers ? `${map.layers.length}: ${map.layers.map(({ name }) => name).join(", ")}` : null,
    ),
    ...(map.pictures
      ? [`Pictures      ${map.pictures}: a scanned sheet, which gives no figures`]
      : [`Roles, ${ROLES_FROM[map.rolesFrom]}:`, ...(roles.length > 0 ? roles : ["  none found"])]),
  ];
  // Text from the archive must not steer a terminal.
  // eslint-disable-next-line no-control-regex
  return lines.map((text) => `${text.replaceAll(/[\u0000-\u001f\u007f-\u009f]+/g, " ")}\n`).join("");
}
