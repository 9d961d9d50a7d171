/** From files of elevation and of features to the files of a map: what the command line and the window both do. */
import { basename } from "node:path";
import { placeGrid } from "../../../core/mapmaking/elevation/grid-placement.ts";
import { readBands } from "../../../core/mapmaking/elevation/read-elevation.ts";
import type { Derive } from "../../../core/mapmaking/derived-features.ts";
import { type FeaturesReport, readFeatures } from "../../../core/mapmaking/features-in/read-features.ts";
import type { Rule } from "../../../core/mapmaking/features-in/rule-schema.ts";
import type { Interval } from "../../../core/mapmaking/interval.ts";
import { type MakeOptions, pace } from "../../../core/mapmaking/pace.ts";
import { featuresFor } from "../../../core/mapmaking/tile-pieces.ts";
import type { Bbox } from "../../../core/units/position.ts";
import { epsgRegister } from "../epsg-register.ts";
import { wholeProgress } from "../map-progress.ts";
import { type MadeFiles, makeMapFiles, type MapFiles } from "./make-map-files.ts";
import { openElevation, openFeatures } from "./open-files.ts";
import { fileSpool, type ScratchFile, scratchFile } from "./scratch-file.ts";
import { type StoredHeights, storeHeights } from "./stored-heights.ts";

/** What OpenStreetMap asks whoever uses its data to say. Source: openstreetmap.org/copyright. */
const OSM_CREDIT = "© OpenStreetMap contributors, ODbL 1.0";
/** Zooms of the map's tiles. */
const ZOOMS = { min: 8, max: 14 };

export interface FilesOrder {
  /** Paths. */
  readonly elevation: readonly string[];
  readonly features: readonly string[];
  readonly interval: Interval | "auto";
  readonly title: string;
  /** Left out, the names of the files. */
  readonly source?: string | undefined;
  readonly date?: string | undefined;
  /** Left out, what OpenStreetMap asks for where its data is used. */
  readonly attribution?: string | undefined;
  readonly datum?: string | undefined;
  readonly crs?: string | undefined;
  readonly heightUnit?: "m" | "ft" | undefined;
  readonly bounds?: Bbox | undefined;
  readonly cellM?: number | undefined;
  readonly gridCrs?: string | undefined;
  readonly fillVoids?: number | undefined;
  readonly rules?: readonly Rule[] | undefined;
  readonly featuresCrs?: string | undefined;
  readonly derive?: Derive | undefined;
}

/** Told as soon as it is known, before the long part. */
export interface FilesTold {
  /** Sentences on the elevation that a person should read. */
  readonly notes?: (notes: readonly string[]) => void;
  readonly features?: (report: FeaturesReport) => void;
}

/** @throws Fault as reading the files and `makeMapFiles` do; nothing of the map is left then */
export async function makeMapFromFiles(
  order: FilesOrder,
  into: MapFiles,
  options: MakeOptions,
  told: FilesTold = {},
): Promise<MadeFiles> {
  const whole = wholeProgress(order.features.length > 0, (order.fillVoids ?? 0) > 0);
  const working: MakeOptions = { ...options, progress: (part) => options.progress?.(whole(part)) };
  const features = await openFeatures(order.features);
  const scratch: ScratchFile[] = [];
  const openScratch = (): ScratchFile => {
    const file = scratchFile(into.path);
    scratch.push(file);
    return file;
  };
  let elevation: Awaited<ReturnType<typeof openElevation>> | null = null;
  let heights: StoredHeights | null = null;
  try {
    elevation = await openElevation(order.elevation);
    const { crs, heightUnit, gridCrs, bounds, cellM, interval, derive } = order;
    const reading = pace(working);
    reading.stage("Reading elevation", 1);
    const model = await readBands(
      elevation.files,
      { crs, heightUnit, bounds, cellM, gridCrs, epsg: epsgRegister },
      reading,
    );
    heights = await storeHeights(model, into.path, order.fillVoids ?? 0, working);
    told.notes?.(heights.notes);
    const placement = placeGrid(model.frame);
    const waiting = openScratch();
    const store = featuresFor(placement, ZOOMS, fileSpool(waiting));
    const report = await readFeatures(
      {
        files: features.files,
        rules: order.rules,
        bounds: placement.bounds,
        zooms: ZOOMS,
        unit: interval === "auto" ? "m" : interval.unit,
        crs: order.featuresCrs,
        epsg: epsgRegister,
        openSpool: () => fileSpool(openScratch()),
      },
      (feature) => store.add(feature),
      working,
    );
    if (features.files.length > 0) told.features?.(report);
    const fromOsm = report.files.some(({ format }) => format === "osm" || format === "osm.pbf");
    const sources = [...order.elevation, ...order.features].map((name) => basename(name));
    return await makeMapFiles(
      heights,
      { store, fd: waiting.fd },
      {
        interval,
        ...(derive && { derive }),
        about: {
          title: order.title,
          source: order.source ?? sources.join(", "),
          date: order.date ?? null,
          attribution: order.attribution ?? (fromOsm ? OSM_CREDIT : null),
          datum: order.datum ?? null,
          invented: false,
        },
      },
      into,
      working,
    );
  } finally {
    heights?.close();
    for (const file of scratch) file.close();
    await elevation?.close();
    await features.close();
  }
}
