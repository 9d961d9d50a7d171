/** From an elevation model, and features if there are any, to a map: vector tiles and terrain tiles. */
import { Fault } from "../fault.ts";
import type { Role } from "../map/kinds.ts";
import type { LegwrightMetadata } from "../map/metadata.ts";
import type { Bbox } from "../units/position.ts";
import { plainCodecs } from "./codecs.ts";
import { CONTOUR_LABELS, tileKey } from "./contour-tiles.ts";
import { DATA_EDGE } from "./data-edge.ts";
import { type Crew, localCrew } from "./crew.ts";
import { type BandScan, BAND_MULTIPLE, hasEnds, joinBands } from "./depressions.ts";
import type { Derive } from "./derived-features.ts";
import { checkGrid, type ElevationGrid } from "./elevation/elevation-grid.ts";
import { placeGrid } from "./elevation/grid-placement.ts";
import { gridSource, type HeightSource } from "./height-source.ts";
import { bandRowsOf, surveyHeights } from "./height-survey.ts";
import { checkInterval, checkIntervalFor, type Interval, suitableInterval } from "./interval.ts";
import type { TileBlock } from "./line-cutter.ts";
import { BLOCK_ZOOMS, blockZoom, inIdOrder, runAll, TERRAIN_BLOCK_ZOOMS, tilesIn } from "./map-blocks.ts";
import {
  bindings,
  contourFields,
  extraLayers,
  gridMember,
  madeId,
  middleOf,
  vectorLayers,
} from "./map-metadata.ts";
import { type MakeOptions, pace } from "./pace.ts";
import { blockAt, type ScanPiece, type Setup, type TerrainPiece, type TilesPiece } from "./pieces.ts";
import {
  type ArchiveCounts,
  type ArchiveHeader,
  joinPieces,
  type PmtilesWriter,
  pmtilesWriter,
} from "./pmtiles-writer.ts";
import { tileFeatureOf } from "./role-features.ts";
import { terrainAbove, terrainRange } from "./terrain-tiles-writer.ts";
import { pixelM, type TerrainPlan, terrainPlan } from "./terrain-zoom.ts";
import type { RoleFeature, TileFeature } from "./tile-feature.ts";
import { featureTiles, type TileLayers } from "./vector-tiles.ts";

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
  /** "auto" takes one that suits the ground. */
  readonly interval: Interval | "auto";
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
  readonly interval: Interval;
  readonly contourLevels: number;
  /** Features by role; contours as whole lines. */
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

/** Roles of what can be worked out from the terrain. */
const DERIVED: ReadonlySet<Role> = new Set(["stream", "ridge", "valley", "spotHeight", "cliff"]);
const DEFAULT_ZOOMS = { min: 8, max: 14 };
/** Tile coordinates are 32-bit: 4096 units a tile reach 2^30 at this zoom. */
const HIGHEST_ZOOM = 18;

function checkZooms({ min, max }: { readonly min: number; readonly max: number }): void {
  if (!Number.isInteger(min) || !Number.isInteger(max) || min < 0 || max < min || max > HIGHEST_ZOOM)
    throw new Fault(
      "bad-argument",
      `Zooms ${min} to ${max} are not possible: they are whole numbers from 0 to ${HIGHEST_ZOOM}.`,
      "zooms",
    );
}

export interface Made {
  readonly archive: ArchiveHeader;
  readonly terrain: ArchiveHeader;
  readonly report: Omit<MapReport, "archive" | "terrain"> & {
    readonly terrain: TerrainPlan & { readonly pixelM: number };
  };
}

/**
 * Makes a map: contours from the model, streams, ridge and valley lines and spot heights worked out from it,
 * the features given, and terrain tiles. Tells how far it is, and can be cancelled between pieces.
 * @param into receives the tiles; to be finished with the headers returned
 * @param startCrew lends workers once it is known what they work on
 * @throws Fault "bad-elevation" for a model that is none, "bad-argument" for an interval, zooms or a feature that
 *   make no sense, "cancelled"
 */
export async function makeMapInto(
  source: HeightSource,
  request: Omit<MapRequest, "elevation"> & { readonly filledShare?: number },
  into: { readonly archive: PmtilesWriter; readonly terrain: PmtilesWriter },
  startCrew: (setup: Setup) => Promise<Crew>,
  options: MakeOptions = {},
): Promise<Made> {
  const {
    features = [],
    prepared = [],
    about,
    zooms = DEFAULT_ZOOMS,
    derive = {},
    filledShare = 0,
  } = request;
  checkZooms(zooms);
  if (request.interval !== "auto") checkInterval(request.interval);
  const placement = placeGrid(source);
  const { min: minZoom, max: maxZoom } = zooms;
  const going = pace(options);
  const latDeg = (placement.bounds[1] + placement.bounds[3]) / 2;
  const drawn: TileFeature[] = features.map((feature, i) => tileFeatureOf(feature, i, maxZoom));
  for (const feature of prepared) drawn.push(feature);

  going.stage("Looking over the heights", 0.02);
  const survey = await surveyHeights(source, placement, going);
  const { lowestM, highestM, voidShare } = survey;
  const interval =
    request.interval === "auto" ? suitableInterval(survey.steepTangent, placement.cellM) : request.interval;
  checkIntervalFor(interval, highestM - lowestM);
  const plan = await terrainPlan(source, placement, going);
  const { key, columns, rows, origin, step, crs } = source;
  const crew = await startCrew({
    frame: { key, columns, rows, origin, step, crs },
    interval,
    maxZoom,
    terrain: plan,
  });

  going.stage("Drawing contours", 0.05);
  const bandRows = bandRowsOf(columns, BAND_MULTIPLE);
  const bands: ScanPiece[] = [];
  for (let row = 0; row + 1 < rows; row += bandRows)
    bands.push({ kind: "scan", row, rows: Math.min(bandRows + 1, rows - row), asked: null });
  const scans: { readonly scan: BandScan; readonly band: ScanPiece }[] = [];
  await runAll(
    crew,
    bands,
    (scan, band) => void scans.push({ scan, band }),
    (done) => going.step(0.8 * done),
  );
  const { ends, lines } = joinBands(scans.map(({ scan }) => scan));
  const depressions = new Set(scans.flatMap(({ scan }) => [...scan.mesh]));
  await runAll(
    crew,
    scans.filter(({ scan }) => hasEnds(scan, ends)).map(({ band }) => ({ ...band, asked: ends })),
    ({ mesh }) => {
      for (const key of mesh) depressions.add(key);
    },
    (done) => going.step(0.8 + 0.2 * done),
  );
  const levels = new Set(scans.flatMap(({ scan }) => scan.levels));

  going.stage("Following streams and ridges, writing terrain tiles", 0.48);
  const topZoom = blockZoom(placement, latDeg, Math.min(minZoom, plan.zoom), plan.zoom, TERRAIN_BLOCK_ZOOMS);
  const lowest = Math.min(minZoom, plan.zoom);
  const above = terrainAbove(
    placement,
    topZoom,
    lowest,
    plan.quantumM,
    plainCodecs,
    ({ zoom, x, y, bytes }) => into.terrain.add(zoom, x, y, bytes),
  );
  const ground: TerrainPiece[] = inIdOrder(terrainRange(placement, topZoom)).map(([x, y]) => ({
    kind: "terrain",
    zoom: topZoom,
    x,
    y,
  }));
  const known = drawn.filter(({ role }) => DERIVED.has(role) || role === "peak");
  const { streams, ridges, spotHeights, cliffs } = derive;
  const wanted = [streams, ridges, spotHeights, cliffs].some((flag) => flag !== false);
  const given = new Map<string, TileLayers[]>();
  const top = blockZoom(placement, latDeg, minZoom, maxZoom, BLOCK_ZOOMS);
  const isLow = (zoom: number): boolean => zoom < top;
  const keyOf = (zoom: number, x: number, y: number): string =>
    isLow(zoom) ? "low" : tileKey(x >> (zoom - top), y >> (zoom - top));
  /** Streams and ridges first, as they are one long piece; their tiles are cut here while workers go on with terrain. */
  const cutFeatures = async (): Promise<void> => {
    if (wanted) drawn.push(...(await crew.run({ kind: "derive", derive, known })));
    const take = (tile: TileLayers): void => {
      const block = keyOf(tile.zoom, tile.x, tile.y);
      const tiles = given.get(block);
      if (tiles) tiles.push(tile);
      else given.set(block, [tile]);
    };
    await featureTiles(drawn, { minZoom, maxZoom }, take, going.part(0, 0));
  };
  const cutting = cutFeatures();
  await Promise.all([
    cutting,
    runAll(
      crew,
      ground,
      ({ pack, half }, { x, y }) => {
        into.terrain.addPack(pack);
        above.add(x, y, half);
      },
      (done) => going.step(done),
    ),
  ]);

  if (drawn.length === 0 && lines === 0)
    throw new Fault(
      "bad-argument",
      `Between ${lowestM} m and ${highestM} m there is no contour every ${interval.value} ${interval.unit}, and nothing else to draw.`,
      key,
      "Take a smaller interval.",
    );

  going.stage("Cutting the map into tiles", 0.4);
  const world = (zoom: number): TileBlock => terrainRange(placement, zoom);
  const tiles: TilesPiece[] = [];
  const pieceOf = (from: number, to: number, block: TileBlock, name: string): void => {
    const blocks = Array.from({ length: to - from + 1 }, (_, k) => blockAt(block, from + k, world(from + k)));
    tiles.push({ kind: "tiles", blocks, given: given.get(name) ?? [], low: from < top, depressions });
    given.delete(name);
  };
  if (minZoom < top) pieceOf(minZoom, top - 1, world(minZoom), "low");
  for (const [x, y] of tilesIn(world(top)))
    pieceOf(top, maxZoom, { zoom: top, x0: x, y0: y, x1: x, y1: y }, tileKey(x, y));
  // Features beyond the model: tiles without contours.
  for (const more of given.values())
    tiles.push({ kind: "tiles", blocks: [], given: more, low: false, depressions });
  await runAll(
    crew,
    tiles,
    ({ pack }) => into.archive.addPack(pack),
    (done) => going.step(done),
  );

  const layers = vectorLayers(drawn, levels.size > 0 ? contourFields() : null);
  const { title, source: from, date, attribution, datum, invented } = about;
  const id =
    about.id ?? madeId([title, from, date, placement.bounds.join(), interval.value, interval.unit].join("|"));
  const legwright: LegwrightMetadata = {
    version: 1,
    id,
    title,
    roles: bindings(layers, interval.unit),
    interval: { value: interval.value, unit: interval.unit },
    source: from,
    date,
    attribution,
    datum,
    invented,
    elevationCellM: placement.cellM,
    ...(filledShare > 0 && { filledShare }),
    dataEdge: DATA_EDGE,
    ...(levels.size > 0 && { contourLabels: CONTOUR_LABELS }),
  };
  going.stage("Writing the files", 0.05);
  const byRole: Partial<Record<Role, number>> = lines > 0 ? { contour: lines } : {};
  for (const { role } of drawn) byRole[role] = (byRole[role] ?? 0) + 1;
  return {
    archive: {
      bounds: placement.bounds,
      centre: middleOf(placement.bounds, maxZoom),
      metadata: {
        name: title,
        description: `${invented ? "An invented place. " : ""}Topographic map with contours every ${interval.value} ${interval.unit}.`,
        attribution: attribution ?? "",
        type: "baselayer",
        vector_layers: [...layers, ...extraLayers(levels.size > 0)].map((layer) => ({
          ...layer,
          minzoom: minZoom,
          maxzoom: maxZoom,
        })),
        legwright,
      },
    },
    terrain: {
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
          ...(plan.exact && { grid: gridMember(source) }),
        },
      },
    },
    report: {
      bounds: placement.bounds,
      cellM: placement.cellM,
      lowestM,
      highestM,
      voidShare,
      filledShare,
      interval,
      contourLevels: levels.size,
      features: byRole,
      vertices: scans.reduce((sum, { scan }) => sum + scan.vertices, 0),
      terrain: { ...plan, pixelM: pixelM(plan.zoom, latDeg) },
    },
  };
}

/** The same, all in memory and on this thread: for small models, scripts and tests. */
export async function makeMap(request: MapRequest, options: MakeOptions = {}): Promise<MadeMap> {
  const { elevation } = request;
  checkGrid(elevation);
  const source = gridSource(elevation);
  const writers = { archive: pmtilesWriter("mvt"), terrain: pmtilesWriter("png") };
  const { filled } = elevation;
  const filledShare = filled ? filled.reduce((n, mark) => n + mark, 0) / filled.length : 0;
  const made = await makeMapInto(
    source,
    { ...request, filledShare },
    writers,
    async (setup) => localCrew(setup, source),
    options,
  );
  const archive = writers.archive.finish(made.archive);
  const terrain = writers.terrain.finish(made.terrain);
  options.progress?.({ stage: "Done", done: 1, leftS: 0 });
  return {
    archive: joinPieces(archive.pieces),
    terrain: joinPieces(terrain.pieces),
    report: {
      ...made.report,
      archive: archive.counts,
      terrain: { ...terrain.counts, ...made.report.terrain },
    },
  };
}
