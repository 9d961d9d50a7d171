/** From an elevation model, and features if there are any, to a map: vector tiles and terrain tiles. */
import { Fault } from "../fault.ts";
import type { Role } from "../map/kinds.ts";
import { type ContourScan, scanContours } from "./contour-scan.ts";
import { type Crew, localCrew } from "./crew.ts";
import { checkGrid } from "./elevation/elevation-grid.ts";
import { type Placement, placeGrid } from "./elevation/grid-placement.ts";
import type { FeatureStore } from "./feature-store.ts";
import { filledFeatures } from "./filled-ground.ts";
import { gridSource, type HeightSource } from "./height-source.ts";
import { surveyHeights } from "./height-survey.ts";
import { checkInterval, checkIntervalFor, suitableInterval } from "./interval.ts";
import { blockZoom, inIdOrder, runAll, TERRAIN_BLOCK_ZOOMS } from "./map-blocks.ts";
import { archiveHeaders } from "./map-headers.ts";
import {
  DEFAULT_ZOOMS,
  type Made,
  type MadeMap,
  type MapRequest,
  type SourceRequest,
} from "./map-request.ts";
import { type MakeOptions, pace, type Pace } from "./pace.ts";
import type { Setup, TerrainPiece } from "./pieces.ts";
import { joinPieces, type PmtilesWriter, pmtilesWriter } from "./pmtiles-writer.ts";
import { nestRings } from "./features-in/rings.ts";
import { outlines } from "./outlines.ts";
import { tileFeatureOf } from "./role-features.ts";
import { terrainAbove, terrainRange } from "./terrain-tiles-writer.ts";
import { memorySpool } from "./spool.ts";
import { pixelM, type TerrainPlan, terrainPlan } from "./terrain-zoom.ts";
import { FILLED } from "./tile-feature.ts";
import { featuresFor, tilePieces } from "./tile-pieces.ts";

/** Share of a stage that working things out from the terrain takes; the rest is terrain tiles. Measured on one degree. */
const DERIVING = 0.6;

/**
 * Makes a map: contours from the model, streams, ridge and valley lines and spot heights worked out from it,
 * the features given, and terrain tiles. Tells how far it is, and can be cancelled between pieces.
 * @param store of the features given; receives those that are worked out
 * @param into receives the tiles; to be finished with the headers returned
 * @param startCrew lends workers once it is known what they work on
 * @throws Fault "bad-elevation" for a model that is none, "bad-argument" for an interval, zooms or a feature that
 *   make no sense, "cancelled"
 */
export async function makeMapInto(
  source: HeightSource,
  store: FeatureStore,
  request: SourceRequest,
  into: { readonly archive: PmtilesWriter; readonly terrain: PmtilesWriter },
  startCrew: (setup: Setup) => Promise<Crew>,
  options: MakeOptions = {},
): Promise<Made> {
  const { about, filledShare = 0, filledAreas = [] } = request;
  const { zooms } = store;
  if (request.interval !== "auto") checkInterval(request.interval);
  const placement = placeGrid(source);
  const going = pace(options);
  for (const feature of filledFeatures(filledAreas, placement, zooms.max)) store.add(feature);

  going.stage("Looking over the heights", 0.02);
  const survey = await surveyHeights(source, placement, going);
  const { lowestM, highestM, voidShare } = survey;
  const interval =
    request.interval === "auto" ? suitableInterval(survey.steepTangent, placement.cellM) : request.interval;
  checkIntervalFor(interval, highestM - lowestM);
  const plan = await terrainPlan(source, placement, going);
  const { key, columns, rows, origin, step, crs } = source;
  const frame = { key, columns, rows, origin, step, crs };
  const crew = await startCrew({ frame, interval, maxZoom: zooms.max, terrain: plan });

  going.stage("Drawing contours", 0.08);
  const { lines, levels, vertices, depressions }: ContourScan = await scanContours(crew, frame, going);

  going.stage("Following streams and ridges, writing terrain tiles", 0.5);
  const { derive = {} } = request;
  const { streams, ridges, spotHeights, cliffs } = derive;
  const wanted = [streams, ridges, spotHeights, cliffs].some((flag) => flag !== false);
  const shares = { deriving: 0, terrain: 0 };
  const tell = (what: keyof typeof shares, done: number): Promise<void> => {
    shares[what] = done;
    const deriving = wanted ? DERIVING : 0;
    return going.step(deriving * shares.deriving + (1 - deriving) * shares.terrain);
  };
  const [derived] = await Promise.all([
    // First, as it is one long piece; the other workers go on with terrain.
    wanted
      ? crew.run(
          { kind: "derive", derive, known: store.known() },
          (done) => void tell("deriving", done).catch(() => {}),
        )
      : null,
    writeTerrain(crew, placement, plan, zooms.min, into.terrain, (done) => tell("terrain", done)),
  ]);
  if (derived) store.addRecords(derived.records);

  if (store.layers.size === 0 && lines === 0)
    throw new Fault(
      "bad-argument",
      `Between ${lowestM} m and ${highestM} m there is no contour every ${interval.value} ${interval.unit}, and nothing else to draw.`,
      key,
      "Take a smaller interval.",
    );

  going.stage("Cutting the map into tiles", 0.37);
  await runAll(
    crew,
    tilePieces(placement, store, depressions),
    ({ pack }) => into.archive.addPack(pack),
    (done) => going.step(done),
  );

  going.stage("Writing the files", 0.03);
  const byRole: Partial<Record<Role, number>> = lines > 0 ? { contour: lines } : {};
  for (const [role, { count }] of store.layers)
    if (role !== FILLED) byRole[role] = (byRole[role] ?? 0) + count;
  const hasContours = levels > 0;
  const latDeg = (placement.bounds[1] + placement.bounds[3]) / 2;
  return {
    ...archiveHeaders({
      about,
      source,
      placement,
      interval,
      zooms,
      layers: store.layers,
      hasContours,
      filledShare,
      plan,
    }),
    report: {
      bounds: placement.bounds,
      cellM: placement.cellM,
      lowestM,
      highestM,
      voidShare,
      filledShare,
      interval,
      contourLevels: levels,
      features: byRole,
      vertices,
      terrain: { ...plan, pixelM: pixelM(plan.zoom, latDeg) },
    },
  };
}

/** Terrain tiles of the plan's zoom and of those above, down to the map's lowest. */
async function writeTerrain(
  crew: Crew,
  placement: Placement,
  plan: TerrainPlan,
  minZoom: number,
  into: PmtilesWriter,
  step: Pace["step"],
): Promise<void> {
  const latDeg = (placement.bounds[1] + placement.bounds[3]) / 2;
  const lowest = Math.min(minZoom, plan.zoom);
  const zoom = blockZoom(placement, latDeg, lowest, plan.zoom, TERRAIN_BLOCK_ZOOMS);
  const above = terrainAbove(placement, zoom, lowest, plan.quantumM, crew.codecs, (tile) =>
    into.add(tile.zoom, tile.x, tile.y, tile.bytes),
  );
  const pieces = inIdOrder(terrainRange(placement, zoom)).map(([x, y]): TerrainPiece => ({
    kind: "terrain",
    zoom,
    x,
    y,
  }));
  await runAll(
    crew,
    pieces,
    ({ pack, half }, { x, y }) => {
      into.addPack(pack);
      above.add(x, y, half);
    },
    step,
  );
}

/** The same, all in memory and on this thread: for small models, scripts and tests. */
export async function makeMap(request: MapRequest, options: MakeOptions = {}): Promise<MadeMap> {
  const { elevation } = request;
  checkGrid(elevation);
  const source = gridSource(elevation);
  const { features = [], prepared = [], zooms = DEFAULT_ZOOMS } = request;
  const spool = memorySpool();
  const store = featuresFor(placeGrid(source), zooms, spool);
  features.forEach((feature, i) => store.add(tileFeatureOf(feature, i, zooms.max)));
  for (const feature of prepared) store.add(feature);
  const writers = { archive: pmtilesWriter("mvt"), terrain: pmtilesWriter("png") };
  const { filled, columns, rows } = elevation;
  const filledShare = filled ? filled.reduce((n, mark) => n + mark, 0) / filled.length : 0;
  const filledAreas = filled ? nestRings(outlines(filled, columns, rows)) : [];
  const made = await makeMapInto(
    source,
    store,
    { ...request, filledShare, filledAreas },
    writers,
    async (setup) => localCrew(setup, source, spool),
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
