/** Reads elevation models from GeoTIFF files, by the loosely typed GeoTIFF library. */
import { GeoTIFF, type GeoTIFFImage } from "geotiff";
import { Fault } from "../../fault.ts";
import {
  type ElevationFile,
  type ElevationModel,
  FOOT_M,
  type GridWindow,
  MOST_SAMPLES,
  type ReadOptions,
} from "./elevation-model.ts";
import { crsOfKeys, type GeoKeys } from "./geotiff-crs.ts";
import { formatOf, unitOf } from "./geotiff-samples.ts";
import { findCrs } from "./grid-crs.ts";
import { tiffBlocks } from "./tiff-blocks.ts";
import { decodeBlock } from "./tiff-decode.ts";

const PIXEL_IS_POINT = 2;
/** No block of heights is larger: 64 million samples. No source. */
const MOST_BLOCK_SAMPLES = 2 ** 26;
/** Deflate packs at most 1032 to 1, LZW at most 2731 to 1 (4096 bytes in 12 bits). */
const MOST_PACKED = 2800;

interface Placement {
  readonly origin: readonly [number, number];
  readonly step: readonly [number, number];
}

/** Outer corner or centre of the first pixel, as the file gives it, and the steps. */
function placementOf(image: GeoTIFFImage, key: string): Placement {
  const numbers = (value: unknown, least: number): number[] | null =>
    value !== null && typeof value === "object" && "length" in value && Number(value.length) >= least
      ? Array.from(value as ArrayLike<number>, Number)
      : null;
  const m = numbers(image.fileDirectory.getValue("ModelTransformation"), 8);
  if (m) {
    if (m[1] !== 0 || m[4] !== 0)
      throw new Fault(
        "bad-elevation",
        "The model's rows do not run east and west: it is turned.",
        key,
        "Warp it north up first: gdalwarp FILE OUT.tif",
      );
    return { origin: [m[3]!, m[7]!], step: [m[0]!, m[5]!] };
  }
  const t = numbers(image.fileDirectory.getValue("ModelTiepoint"), 6);
  const s = numbers(image.fileDirectory.getValue("ModelPixelScale"), 2);
  if (t && s) return { origin: [t[3]! - t[0]! * s[0]!, t[4]! + t[1]! * s[1]!], step: [s[0]!, -s[1]!] };
  throw new Fault(
    "no-crs",
    "The file does not say where its pixels lie: it has neither a tie point with a pixel scale nor a transformation.",
    key,
    "Use the original GeoTIFF, or georeference it first.",
  );
}

/**
 * The elevation model in a GeoTIFF: nodata as NaN, in metres, rows from the north, read block by block.
 * A pixel that stands for an area is taken as a sample at its centre, as GDAL does.
 * @throws Fault "bad-elevation" when it is no GeoTIFF, is cut off, or does not hold one band of heights;
 *   "no-crs" when it does not say where on earth it lies
 */
export async function openGeotiff(file: ElevationFile, options: ReadOptions): Promise<ElevationModel> {
  const { key } = file;
  try {
    const blocks = await tiffBlocks(file);
    const image = await (await GeoTIFF.fromSource(sourceOf(file))).getImage(0);
    const columns = image.getWidth();
    const rows = image.getHeight();
    if (!(columns * rows <= MOST_SAMPLES))
      throw new Fault(
        "bad-elevation",
        `The file claims ${columns} by ${rows} pixels, more than can be worked on.`,
        key,
        "Cut it into smaller pieces.",
      );
    const predictor = (await image.fileDirectory.loadValue("Predictor")) ?? 1;
    const format = formatOf(image, predictor, blocks.littleEndian, key);
    const blockColumns = image.getTileWidth();
    const blockRows = image.getTileHeight();
    const across = Math.ceil(columns / blockColumns);
    checkBlocks(blocks, { columns, rows, blockColumns, blockRows, bytes: format.bytes }, key);

    const keys: GeoKeys | null = image.getGeoKeys();
    const crs =
      options.crs === undefined
        ? await crsOfKeys(keys, key, options.epsg)
        : await findCrs(options.crs, key, options.epsg);
    const { origin, step } = placementOf(image, key);
    const [xStep, yStep] = step;
    if (![...origin, xStep, yStep].every(Number.isFinite) || !(xStep > 0) || yStep === 0)
      throw new Fault(
        "bad-elevation",
        `Its origin ${origin.join(", ")} and pixel size ${step.join(", ")} place no model on the ground.`,
        key,
        "Georeference it anew: gdal_translate -a_ullr WEST NORTH EAST SOUTH FILE OUT.tif",
      );
    const noted = (await image.getGDALMetadata(0)) ?? {};
    const told = await unitOf(keys, noted["UNITTYPE"], options.epsg);
    const unitM = options.heightUnit ? (options.heightUnit === "ft" ? FOOT_M : 1) : (told ?? 1);
    const factor = finite(noted["SCALE"], 1) * unitM;
    const added = finite(noted["OFFSET"], 0) * unitM;
    const noData = image.getGDALNoData();
    // A nodata value written in decimal may not be what its float32 samples hold.
    const missing = noData === null ? Number.NaN : Math.fround(noData);
    const heightOf = (value: number): number =>
      value === noData || Math.fround(value) === missing || !Number.isFinite(value)
        ? Number.NaN
        : value * factor + added;

    const half = keys?.["GTRasterTypeGeoKey"] === PIXEL_IS_POINT ? 0 : 0.5;
    const flip = yStep > 0;
    return {
      key,
      columns,
      rows,
      origin: [origin[0] + half * xStep, origin[1] + half * yStep + (flip ? (rows - 1) * yStep : 0)],
      step: [xStep, -Math.abs(yStep)],
      crs,
      notes: [],
      async heights(window, tick) {
        const heights = new Float32Array(window.columns * window.rows).fill(Number.NaN);
        // In the file's own order of rows.
        const top = flip ? rows - window.row - window.rows : window.row;
        const firstRow = Math.floor(top / blockRows);
        const lastRow = Math.floor((top + window.rows - 1) / blockRows);
        const lastColumn = Math.floor((window.column + window.columns - 1) / blockColumns);
        for (let by = firstRow; by <= lastRow; by++) {
          for (let bx = Math.floor(window.column / blockColumns); bx <= lastColumn; bx++) {
            const index = by * across + bx;
            const length = blocks.lengths[index]!;
            if (length === 0) continue;
            // Tiles are whole at the lower edge as well; strips end with the picture.
            const rowsHere = blocks.tiled ? blockRows : Math.min(blockRows, rows - by * blockRows);
            const packed = await file.read(blocks.offsets[index]!, length);
            let values: Float32Array | Float64Array;
            try {
              values = decodeBlock(packed, format, blockColumns, rowsHere);
            } catch (thrown) {
              const reason = thrown instanceof Error ? thrown.message : String(thrown);
              throw new Fault(
                "bad-elevation",
                `Its ${blocks.tiled ? "tile" : "strip"} ${index} is damaged: ${reason}.`,
                key,
                "Copy or download it again.",
              );
            }
            const place = {
              column: bx * blockColumns,
              row: by * blockRows,
              columns: blockColumns,
              rows: rowsHere,
            };
            copyBlock(values, place, { ...window, row: top }, heights, flip, heightOf);
          }
          await tick?.((by - firstRow + 1) / (lastRow - firstRow + 1));
        }
        return heights;
      },
    };
  } catch (thrown) {
    if (thrown instanceof Fault) throw thrown;
    const reason = thrown instanceof Error ? thrown.message : String(thrown);
    throw new Fault(
      "bad-elevation",
      `This cannot be read as a GeoTIFF elevation model: ${reason}`,
      key,
      "Check that it is a complete GeoTIFF: gdalinfo FILE",
    );
  }
}

const finite = (value: unknown, otherwise: number): number => {
  const number = typeof value === "string" && value.trim() !== "" ? Number(value) : Number.NaN;
  return Number.isFinite(number) && (number !== 0 || otherwise === 0) ? number : otherwise;
};

/** What the library reads through: never more than the file has. */
function sourceOf(file: ElevationFile): Parameters<typeof GeoTIFF.fromSource>[0] {
  const fetch = async (slices: readonly { offset: number; length: number }[]): Promise<ArrayBufferLike[]> =>
    await Promise.all(
      slices.map(async ({ offset, length }) => {
        const bytes = await file.read(offset, Math.max(0, Math.min(length, file.sizeBytes - offset)));
        return bytes.slice().buffer;
      }),
    );
  return { fetch, fileSize: file.sizeBytes } as unknown as Parameters<typeof GeoTIFF.fromSource>[0];
}

/** @throws Fault "bad-elevation" when the blocks do not hold what the header claims */
function checkBlocks(
  { offsets, lengths }: { readonly offsets: Float64Array; readonly lengths: Float64Array },
  size: { columns: number; rows: number; blockColumns: number; blockRows: number; bytes: number },
  key: string,
): void {
  const { columns, rows, blockColumns, blockRows, bytes } = size;
  const fail = (what: string): never => {
    throw new Fault("bad-elevation", what, key, "Copy or download it again, and check it: gdalinfo FILE");
  };
  if (!(columns >= 1 && rows >= 1 && blockColumns >= 1 && blockRows >= 1))
    fail("The file's sizes make no sense.");
  if (blockColumns * blockRows > MOST_BLOCK_SAMPLES)
    fail(
      `Its strips or tiles claim ${blockColumns} by ${blockRows} pixels each, more than can be worked on.`,
    );
  const needed = Math.ceil(columns / blockColumns) * Math.ceil(rows / blockRows);
  if (offsets.length < needed)
    fail(
      `The file has ${offsets.length} strips or tiles where ${needed} are needed for ${columns} by ${rows} pixels.`,
    );
  const stored = lengths.subarray(0, needed).reduce((sum, length) => sum + length, 0);
  const present = lengths.subarray(0, needed).reduce((sum, length) => sum + (length > 0 ? 1 : 0), 0);
  // Blocks left out are void; but a model that is nearly all void is no model, and its size only a claim.
  if (
    present * 1000 < needed ||
    stored * MOST_PACKED < present * Math.min(blockRows, rows) * blockColumns * bytes * 0.5
  )
    fail(`The file claims ${columns} by ${rows} pixels, and holds ${stored} bytes of them: it is damaged.`);
}

/** Copies what a block and a window have in common, both in the file's order of rows. */
function copyBlock(
  values: Float32Array | Float64Array,
  block: GridWindow,
  window: GridWindow,
  heights: Float32Array,
  flip: boolean,
  heightOf: (value: number) => number,
): void {
  const west = Math.max(block.column, window.column);
  const east = Math.min(block.column + block.columns, window.column + window.columns);
  const top = Math.max(block.row, window.row);
  const bottom = Math.min(block.row + block.rows, window.row + window.rows);
  for (let row = top; row < bottom; row++) {
    const from = (row - block.row) * block.columns - block.column;
    const down = row - window.row;
    const to = (flip ? window.rows - 1 - down : down) * window.columns - window.column;
    for (let column = west; column < east; column++) heights[to + column] = heightOf(values[from + column]!);
  }
}
