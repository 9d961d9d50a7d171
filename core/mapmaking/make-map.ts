/** From an elevation model, and features if there are any, to a map: vector tiles and terrain tiles. */
import { Fault } from "../fault.ts";
import { ROLES, type Role } from "../map/kinds.ts";
import type { LegwrightMetadata, RoleBinding } from "../map/metadata.ts";
import type { ModelGrid } from "../terrain/model-cells.ts";
import type { Bbox } from "../units/position.ts";
import { contourFeatures } from "./contour-features.ts";
import { type Derive, derivedFeatures } from "./derived-features.ts";
import { checkGrid, type ElevationGrid } from "./elevation/elevation-grid.ts";
import { placeGrid } from "./elevation/grid-placement.ts";
import { checkInterval, checkIntervalFor, type Interval } from "./interval.ts";
import { type MakeOptions, pace } from "./pace.ts";
import { type ArchiveCounts, joinPieces, pmtilesWriter } from "./pmtiles-writer.ts";
import { tileFeatureOf } from "./role-features.ts";
import { writeTerrainTiles } from "./terrain-tiles-writer.ts";
import { pixelM, type TerrainPlan, terrainPlan } from "./terrain-zoom.ts";
import type { RoleFeature, TileFeature } from "./tile-feature.ts";
import { writeVectorTiles } from "./vector-tiles.ts";

export interface AboutMap {
  readonly title: string;
  /** Stable identity; left out, it is made from title, source, date and bounds. */
  readonly id?: string;
  /** Where the data comes from, in words. */
  readonly source: string | null;
  /** Date of the data, YYYY-MM-DD or YYYY. */
  readonly date: string | null;
  readonly attribution: string | null;
  /** What heights are counted from. */
  readonly datum: string | null;
  /** The place does not exist. */
  readonly invented: boolean;
}

export interface MapRequest {
  readonly elevation: ElevationGrid;
  readonly features?: readonly RoleFeature[];
  /** More features, already in the units of the highest zoom and fit for tiles, as `readFeatures` gives them. */
  readonly prepared?: readonly TileFeature[];
  readonly interval: Interval;
  readonly about: AboutMap;
  /** Zooms of the vector tiles; 8 to 14 when left out. */
  readonly zooms?: { readonly min: number; readonly max: number };
  /** What to work out from the terrain besides contours; left out, what the features hold none of. */
  readonly derive?: Derive;
}

export interface MapReport {
  readonly bounds: Bbox;
  readonly cellM: number;
  readonly lowestM: number;
  readonly highestM: number;
  /** Share of the model's samples without a height. */
  readonly voidShare: number;
  /** Share of the model's samples whose height was made up to fill a void. */
  readonly filledShare: number;
  readonly contourLevels: number;
  /** Features by role at the highest zoom. */
  readonly features: Partial<Record<Role, number>>;
  readonly vertices: number;
  readonly archive: ArchiveCounts;
  readonly terrain: ArchiveCounts & TerrainPlan & { readonly pixelM: number };
}

export interface MadeMap {
  readonly archive: Uint8Array;
  readonly terrain: Uint8Array;
  readonly report: MapReport;
}

const DEFAULT_ZOOMS = { min: 8, max: 14 };
/** Tile coordinates are 32-bit: 4096 units a tile reach 2^30 at this zoom. */
const HIGHEST_ZOOM = 18;

/** Which fields our layers have. Source of the shape: TileJSON 3.0.0, vector_layers. */
function vectorLayers(features: readonly TileFeature[]): { id: string; fields: Record<string, string> }[] {
  const layers = new Map<string, Record<string, string>>();
  for (const { role, attributes } of features) {
    const fields = layers.get(role) ?? {};
    layers.set(role, fields);
    for (const [key, value] of Object.entries(attributes))
      fields[key] = typeof value === "number" ? "Number" : typeof value === "boolean" ? "Boolean" : "String";
  }
  return ROLES.filter((role) => layers.has(role)).map((id) => ({ id, fields: layers.get(id) ?? {} }));
}

function bindings(
  layers: ReturnType<typeof vectorLayers>,
  unit: Interval["unit"],
): Partial<Record<Role, RoleBinding>> {
  const roles: Partial<Record<Role, RoleBinding>> = {};
  for (const { id, fields } of layers)
    roles[id as Role] = {
      layer: id,
      ...("name" in fields && { name: "name" }),
      ...("ele" in fields && { elevation: "ele", unit }),
      ...("index" in fields && { index: "index" }),
    };
  return roles;
}

/** A short name for equal inputs. FNV-1a, 32 bits, twice. */
function madeId(text: string): string {
  let a = 0x811c9dc5;
  let b = 0x01234567;
  for (let i = 0; i < text.length; i++) {
    a = Math.imul(a ^ text.charCodeAt(i), 0x01000193);
    b = Math.imul(b ^ text.charCodeAt(i), 0x85ebca6b);
  }
  return [a, b].map((n) => (n >>> 0).toString(16).padStart(8, "0")).join("");
}

function heightRange(grid: ElevationGrid): { lowestM: number; highestM: number; voidShare: number } {
  let lowestM = Infinity;
  let highestM = -Infinity;
  let voids = 0;
  for (let i = 0; i < grid.heights.length; i++) {
    const h = grid.heights[i]!;
    if (h !== h) voids++;
    else {
      if (h < lowestM) lowestM = h;
      if (h > highestM) highestM = h;
    }
  }
  return { lowestM, highestM, voidShare: voids / grid.heights.length };
}

function checkZooms({ min, max }: { readonly min: number; readonly max: number }): void {
  if (!Number.isInteger(min) || !Number.isInteger(max) || min < 0 || max < min || max > HIGHEST_ZOOM)
    throw new Fault(
      "bad-argument",
      `Zooms ${min} to ${max} are not possible: they are whole numbers from 0 to ${HIGHEST_ZOOM}.`,
      "zooms",
    );
}

/**
 * Makes a map: contours from the model, streams, ridge and valley lines and spot heights worked out from it,
 * the features given, and terrain tiles.
 * Long work: it lets other work on the thread run in between, tells how far it is, and can be cancelled.
 * @returns both archives as bytes, and what is in them
 * @throws Fault "bad-elevation" for a model that is none, "bad-argument" for an interval, zooms or a feature that
 *   make no sense, "cancelled"
 */
export async function makeMap(request: MapRequest, options: MakeOptions = {}): Promise<MadeMap> {
  const { elevation: grid, features = [], prepared = [], about, zooms = DEFAULT_ZOOMS, derive = {} } = request;
  const interval = checkInterval(request.interval);
  checkGrid(grid);
  checkZooms(zooms);
  const placement = placeGrid(grid);
  const { lowestM, highestM, voidShare } = heightRange(grid);
  const filledShare = grid.filled ? grid.filled.reduce((n, mark) => n + mark, 0) / grid.filled.length : 0;
  checkIntervalFor(interval, highestM - lowestM);
  const { min: minZoom, max: maxZoom } = zooms;
  const going = pace(options);

  const drawn: TileFeature[] = features.map((feature, i) => tileFeatureOf(feature, i, maxZoom));
  for (const feature of prepared) drawn.push(feature);
  going.stage("Drawing contours", 0.1);
  const counts = await contourFeatures(grid, placement, interval, { minZoom, maxZoom }, drawn, going);

  going.stage("Following streams and ridges", 0.15);
  await derivedFeatures(grid, placement, interval, derive, maxZoom, drawn, going);

  if (drawn.length === 0)
    throw new Fault(
      "bad-argument",
      `Between ${lowestM} m and ${highestM} m there is no contour every ${interval.value} ${interval.unit}, and nothing else to draw.`,
      grid.key,
      "Take a smaller interval.",
    );

  going.stage("Cutting the map into tiles", 0.35);
  const writer = pmtilesWriter("mvt");
  await writeVectorTiles(drawn, { minZoom, maxZoom }, writer, going);
  const layers = vectorLayers(drawn);
  const { title, source, date, attribution, datum, invented } = about;
  const id =
    about.id ??
    madeId([title, source, date, placement.bounds.join(), interval.value, interval.unit].join("|"));
  const legwright: LegwrightMetadata = {
    version: 1,
    id,
    title,
    roles: bindings(layers, interval.unit),
    interval: { value: interval.value, unit: interval.unit },
    source,
    date,
    attribution,
    datum,
    invented,
    elevationCellM: placement.cellM,
    ...(filledShare > 0 && { filledShare }),
  };
  const archive = writer.finish({
    bounds: placement.bounds,
    centre: middleOf(placement.bounds, maxZoom),
    metadata: {
      name: title,
      description: `${invented ? "An invented place. " : ""}Topographic map with contours every ${interval.value} ${interval.unit}.`,
      attribution: attribution ?? "",
      type: "baselayer",
      vector_layers: layers.map((layer) => ({ ...layer, minzoom: minZoom, maxzoom: maxZoom })),
      legwright,
    },
  });

  going.stage("Writing terrain tiles", 0.4);
  const plan = await terrainPlan(grid, placement, going);
  const terrainWriter = pmtilesWriter("png");
  const terrainOptions = { ...plan, minZoom: Math.min(minZoom, plan.zoom), maxZoom: plan.zoom };
  await writeTerrainTiles(grid, placement, terrainOptions, terrainWriter, going);
  const terrain = terrainWriter.finish({
    bounds: placement.bounds,
    metadata: {
      name: `${title}: heights`,
      description: "Heights above the map's datum as terrarium pictures; black stands for no height.",
      attribution: attribution ?? "",
      type: "baselayer",
      encoding: "terrarium",
      legwright: {
        version: 1,
        id,
        encoding: "terrarium",
        tileSize: 512,
        quantumM: plan.quantumM,
        elevationCellM: placement.cellM,
        datum,
        invented,
        // Told only where pixels are fine enough to work out the model's own surface from them.
        ...(plan.exact && { grid: gridMember(grid) }),
      },
    },
  });
  going.stage("Done", 0);

  const byRole: Partial<Record<Role, number>> = {};
  for (const { role } of drawn) byRole[role] = (byRole[role] ?? 0) + 1;
  return {
    archive: joinPieces(archive.pieces),
    terrain: joinPieces(terrain.pieces),
    report: {
      bounds: placement.bounds,
      cellM: placement.cellM,
      lowestM,
      highestM,
      voidShare,
      filledShare,
      contourLevels: counts.levels,
      features: byRole,
      vertices: counts.vertices,
      archive: archive.counts,
      terrain: {
        ...terrain.counts,
        ...plan,
        pixelM: pixelM(plan.zoom, (placement.bounds[1] + placement.bounds[3]) / 2),
      },
    },
  };
}

/** The grid as `ModelGrid` of the terrain reader wants it. */
const gridMember = ({ crs, origin, step, columns, rows }: ElevationGrid): ModelGrid => ({
  proj: crs.proj,
  origin,
  step,
  columns,
  rows,
});

/** Where to look first: the middle, at a zoom that shows most of the map on a screen of about 1000 pixels. */
function middleOf(bounds: Bbox, maxZoom: number): { lonLat: readonly [number, number]; zoom: number } {
  const [west, south, east, north] = bounds;
  const fits = Math.floor(Math.log2((360 / Math.max(east - west, north - south, 1e-6)) * 2));
  return { lonLat: [(west + east) / 2, (south + north) / 2], zoom: Math.min(maxZoom, Math.max(0, fits)) };
}
