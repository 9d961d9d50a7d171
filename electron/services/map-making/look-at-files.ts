/** What a person should know of a file before a map is made of it. */
import { Fault } from "../../../core/fault.ts";
import { openModel, readModels } from "../../../core/mapmaking/elevation/read-elevation.ts";
import { latOf, lonOf, placeGrid } from "../../../core/mapmaking/elevation/grid-placement.ts";
import { readFeatures } from "../../../core/mapmaking/features-in/read-features.ts";
import { gridSource } from "../../../core/mapmaking/height-source.ts";
import { surveyHeights } from "../../../core/mapmaking/height-survey.ts";
import { suitableInterval } from "../../../core/mapmaking/interval.ts";
import { type MakeOptions, pace } from "../../../core/mapmaking/pace.ts";
import { boxOf } from "../../../core/mapmaking/tile-clip.ts";
import type { TileFeature } from "../../../core/mapmaking/tile-feature.ts";
import type { Bbox } from "../../../core/units/position.ts";
import type { DataLook, ElevationSurvey } from "../../contract.ts";
import { epsgRegister } from "../epsg-register.ts";
import { openElevation, openFeatures } from "./open-files.ts";

/** Larger ones take too long to be read only to be looked at. No source. */
const MOST_FEATURE_BYTES = 24 * 2 ** 20;
const MOST_SAMPLES = 32e6;
/** Any zoom gives the place of features; at this one a unit is some metres. */
const ZOOM = 10;
const UNITS = 4096 * 2 ** ZOOM;
const WORLD: Bbox = [-180, -85, 180, 85];

const untold = { cellM: null, heights: null, features: null, onMap: {}, unknown: 0 } as const;

/** @throws Fault of the file; "no-crs" when it does not say where on earth it lies */
export async function lookAtElevation(path: string, crs: string | undefined): Promise<DataLook> {
  const { files, close } = await openElevation([path]);
  try {
    const [file] = files;
    if (!file) throw new Fault("internal", "No file was given.");
    const model = await openModel(file, { crs, epsg: epsgRegister });
    const { key, columns, rows, origin, step } = model;
    const { bounds, cellM } = placeGrid({ key, columns, rows, origin, step, crs: model.crs });
    return {
      ...untold,
      as: "elevation",
      kind: null,
      sizeBytes: file.sizeBytes,
      crs: model.crs.name,
      bounds,
      cellM,
      samples: [columns, rows],
      notes: model.notes,
    };
  } finally {
    await close();
  }
}

/** @throws Fault as `readModels` and `surveyHeights` do */
export async function surveyElevation(
  paths: readonly string[],
  options: {
    readonly crs?: string | undefined;
    readonly heightUnit?: "m" | "ft" | undefined;
    readonly bounds?: Bbox | undefined;
  },
  working: MakeOptions,
): Promise<ElevationSurvey> {
  const { files, close } = await openElevation(paths);
  try {
    let samples = 0;
    for (const file of files) {
      const { columns, rows } = await openModel(file, { ...options, epsg: epsgRegister });
      samples += columns * rows;
    }
    if (samples > MOST_SAMPLES) return { heights: null, automatic: null, notes: [] };
    const going = pace(working);
    const { grid, notes } = await readModels(files, { ...options, epsg: epsgRegister }, going);
    const placement = placeGrid(grid);
    const { lowestM, highestM, voidShare, steepTangent } = await surveyHeights(
      gridSource(grid),
      placement,
      going,
    );
    return {
      heights: { lowestM, highestM, voidShare },
      automatic: {
        m: suitableInterval(steepTangent, placement.cellM, "m").value,
        ft: suitableInterval(steepTangent, placement.cellM, "ft").value,
      },
      notes,
    };
  } finally {
    await close();
  }
}

/** @throws Fault of the file; "no-crs" … */
export async function lookAtFeatures(
  path: string,
  crs: string | undefined,
  working: MakeOptions,
): Promise<DataLook> {
  const { files, close } = await openFeatures([path]);
  try {
    const [file] = files;
    if (!file) throw new Fault("internal", "No file was given.");
    const look = { ...untold, as: "features" as const, sizeBytes: file.sizeBytes, samples: null };
    if (file.sizeBytes > MOST_FEATURE_BYTES)
      return { ...look, kind: null, crs: null, bounds: null, notes: [] };
    const zooms = { min: ZOOM, max: ZOOM };
    const place = placeOfFeatures();
    const report = await readFeatures(
      { files, bounds: WORLD, zooms, unit: "m", crs, epsg: epsgRegister },
      (feature) => place.see(feature),
      working,
    );
    const [one] = report.files;
    return {
      ...look,
      kind: one?.format ?? null,
      crs: one?.crs ?? null,
      bounds: place.bounds(),
      features: report.files.reduce((sum, { features: count }) => sum + count, 0),
      onMap: report.roles,
      unknown: report.unmapped.reduce((sum, { count }) => sum + count, 0),
      notes: report.files.some(({ datumUnknown }) => datumUnknown)
        ? ["How its datum lies is not known here: all of it may be off by hundreds of metres."]
        : [],
    };
  } finally {
    await close();
  }
}

function placeOfFeatures(): { see(feature: TileFeature): void; bounds(): Bbox | null } {
  let [west, north, east, south] = [Infinity, Infinity, -Infinity, -Infinity];
  return {
    see({ parts }) {
      for (const part of parts) {
        const { x0, y0, x1, y1 } = boxOf(part);
        west = Math.min(west, x0);
        north = Math.min(north, y0);
        east = Math.max(east, x1);
        south = Math.max(south, y1);
      }
    },
    bounds: () =>
      west > east
        ? null
        : [lonOf(west / UNITS), latOf(south / UNITS), lonOf(east / UNITS), latOf(north / UNITS)],
  };
}
