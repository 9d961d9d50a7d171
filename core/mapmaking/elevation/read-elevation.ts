/** From the files people have to the one grid a map is made from. */
import { Fault } from "../../fault.ts";
import type { Bbox } from "../../units/position.ts";
import type { Pace } from "../pace.ts";
import { checkPlace } from "./check-place.ts";
import { looksLikeAscii, openAscii } from "./elevation-ascii.ts";
import { openGeotiff } from "./elevation-geotiff.ts";
import { checkGrid, type ElevationGrid } from "./elevation-grid.ts";
import { cornerOfName, openHgt } from "./elevation-hgt.ts";
import {
  type ElevationFile,
  type ElevationModel,
  type GridFrame,
  memoryFile,
  type ReadOptions,
} from "./elevation-model.ts";
import { fillGrid, fillNotes } from "./fill-voids.ts";
import { findCrs } from "./grid-crs.ts";
import { mosaic, mosaicBands } from "./mosaic.ts";
import { boundsOf, targetFrame } from "./target-frame.ts";
import { unzipModel } from "./zipped.ts";

export interface ModelsOptions extends ReadOptions {
  /** The area wanted, degrees WGS 84: the grid reaches just over it, as far as there are heights. */
  readonly bounds?: Bbox | undefined;
  /** North–south spacing of the grid, metres; that of the finest model when left out. */
  readonly cellM?: number | undefined;
  /** System of the grid, as `crs` names those of files; that of the finest model when left out. */
  readonly gridCrs?: string | undefined;
  /** Voids up to so many cells wide are filled and marked; none when left out. */
  readonly fillVoids?: number | undefined;
}

export interface ReadModels {
  readonly grid: ElevationGrid;
  /** Sentences a person should read. */
  readonly notes: readonly string[];
  /** Samples filled because they were void, and voids left. */
  readonly filled: number;
}

/**
 * Opens a model of any kind read here: GeoTIFF, .hgt, ASCII grid, or one of them in a zip file.
 * @throws Fault "bad-elevation" when it is none or damaged, or its place makes no sense; "no-crs" when it does not
 *   say where on earth it lies
 */
export async function openModel(file: ElevationFile, options: ReadOptions): Promise<ElevationModel> {
  const start = await file.read(0, 512);
  const is = (...bytes: number[]): boolean => bytes.every((byte, i) => start[i] === byte);
  if (is(0x50, 0x4b, 3, 4) || is(0x50, 0x4b, 5, 6)) {
    const inner = await unzipModel(file);
    // An .hgt file may have its corner in the outer name alone.
    const named = /\.hgt$/i.test(inner.key) && !cornerOfName(inner.key) ? { ...inner, key: file.key } : inner;
    return await openPlain(named, await named.read(0, 512), options);
  }
  return await openPlain(file, start, options);
}

async function openPlain(
  file: ElevationFile,
  start: Uint8Array,
  options: ReadOptions,
): Promise<ElevationModel> {
  const tiff = (start[0] === 0x49 && start[1] === 0x49) || (start[0] === 0x4d && start[1] === 0x4d);
  const hgt = /\.hgt(?:\.zip)?$/i.test(file.key);
  // Heights of an .hgt file may happen to begin with any two bytes.
  let model: ElevationModel;
  if (hgt) model = openHgt(file, options);
  else if (tiff) model = await openGeotiff(file, options);
  else if (looksLikeAscii(start)) model = await openAscii(file, options);
  else
    throw new Fault(
      "bad-elevation",
      file.sizeBytes === 0
        ? "The file is empty."
        : "This is no elevation model of a kind that is read here: GeoTIFF, .hgt, ASCII grid, or one of them in a zip file.",
      file.key,
      "Bring it into one of them, for example: gdal_translate FILE OUT.tif",
    );
  return checkPlace(model);
}

/** Models opened and laid out, their heights still to be read. */
interface OpenedModels {
  readonly frame: GridFrame;
  /** Sentences a person should read. */
  readonly notes: readonly string[];
  readonly models: readonly ElevationModel[];
}

/** @throws Fault as `openModel` and `targetFrame` do */
async function layOut(files: readonly ElevationFile[], options: ModelsOptions): Promise<OpenedModels> {
  if (files.length === 0) throw new Fault("bad-argument", "No elevation model was given.");
  const models: ElevationModel[] = [];
  for (const file of files) models.push(await openModel(file, options));
  const { bounds, cellM, gridCrs, epsg } = options;
  const crs = gridCrs === undefined ? undefined : await findCrs(gridCrs, "--grid-crs", epsg);
  const frame = targetFrame(models, { bounds, cellM, crs });
  const notes = models.flatMap(({ notes: said }) => [...said]);
  for (const { key, crs: system } of models)
    if (system.datumUnknown)
      notes.push(
        `${key}: how the datum of ${system.name} lies to WGS 84 is not known here; the map may be off by some hundred metres.`,
      );
  const have = boundsOf(frame);
  if (bounds && have && beyond(bounds, have))
    notes.push(
      `The area reaches beyond the elevation, which ends at ${have.map((n) => n.toFixed(5)).join(",")} (west,south,east,north).`,
    );
  return { frame, notes, models };
}

/**
 * The models joined, cut out, resampled and filled as asked, in metres.
 * @throws Fault as `openModel`, `targetFrame` and `checkGrid` do
 */
export async function readModels(
  files: readonly ElevationFile[],
  options: ModelsOptions = {},
  going?: Pace,
): Promise<ReadModels> {
  const { frame, notes, models } = await layOut(files, options);
  const read = checkGrid(await mosaic(models, frame, going && ((done) => going.step(done))));
  const most = options.fillVoids ?? 0;
  if (most <= 0) return { grid: read, notes, filled: 0 };
  const done = await fillGrid(read, most);
  return { grid: done.grid, notes: [...notes, ...fillNotes(done, read)], filled: done.filled };
}

/** Models whose heights come some rows at a time. */
export interface BandedModels {
  readonly frame: GridFrame;
  readonly notes: readonly string[];
  /** All rows from the north, some at a time, as in `ElevationGrid`; to be asked for once. */
  bands(): AsyncIterable<Float32Array> | Iterable<Float32Array>;
}

/**
 * As `readModels`, but the heights never lie in memory as a whole, and no voids are filled.
 * That heights are such as there are on earth is for the taker to check.
 * @throws Fault as `readModels` does, and while the bands are read
 */
export async function readBands(
  files: readonly ElevationFile[],
  options: Omit<ModelsOptions, "fillVoids"> = {},
  going?: Pace,
): Promise<BandedModels> {
  const { frame, notes, models } = await layOut(files, options);
  const tick = going && ((done: number) => going.step(done));
  return { frame, notes, bands: () => mosaicBands(models, frame, tick) };
}

/** Whether an area reaches a hundredth of its size or more beyond what there is. */
function beyond([west, south, east, north]: Bbox, have: Bbox): boolean {
  const [dx, dy] = [(east - west) / 100, (north - south) / 100];
  return west < have[0] - dx || south < have[1] - dy || east > have[2] + dx || north > have[3] + dy;
}

/** The model in one file that is in memory already. @throws Fault as `readModels` does */
export async function readElevation(bytes: ArrayBuffer, key: string, crs?: string): Promise<ElevationGrid> {
  return (await readModels([memoryFile(key, new Uint8Array(bytes))], { crs })).grid;
}
