/** Reads elevation models from GeoTIFF files. Only this file imports the loosely typed GeoTIFF library. */
import { fromArrayBuffer, type GeoTIFFImage } from "geotiff";
import { Fault } from "../../fault.ts";
import { checkGrid, type ElevationGrid, type GridCrs } from "./elevation-grid.ts";
import { crsOfEpsg, crsOfText } from "./grid-crs.ts";

/** "Undefined" and "user-defined" in GeoTIFF keys. Source: OGC 19-008r4 (GeoTIFF 1.1), annex B. */
const NO_CODE = new Set([0, 32767]);
const PIXEL_IS_POINT = 2;
/** Vertical units by EPSG code: metre, foot, US survey foot. */
const METRES_PER_VERTICAL_UNIT = new Map([
  [9001, 1],
  [9002, 0.3048],
  [9003, 1200 / 3937],
]);
/** Refused before anything is reserved for it: a header can claim any size. */
const MOST_SAMPLES = 4e8;

type Keys = Readonly<Record<string, unknown>>;

function crsOfKeys(keys: Keys | null, key: string): GridCrs {
  const remedy =
    "Give it one, for example: gdal_edit.py -a_srs EPSG:32611 FILE, or name the system when making the map.";
  if (!keys)
    throw new Fault(
      "no-crs",
      "The file does not say where on earth it lies: it has no GeoTIFF keys.",
      key,
      remedy,
    );
  const code = (name: string): number | null => {
    const value = keys[name];
    return typeof value === "number" && !NO_CODE.has(value) ? value : null;
  };
  const model = keys["GTModelTypeGeoKey"];
  const projected = code("ProjectedCSTypeGeoKey");
  // A projected file also names its geographic base: reading that as its own system would misplace it entirely.
  const epsg = projected ?? (model === 1 ? null : code("GeographicTypeGeoKey"));
  if (epsg === null)
    throw new Fault("no-crs", "The file names no coordinate system by an EPSG code.", key, remedy);
  const crs = crsOfEpsg(epsg);
  if (!crs)
    throw new Fault(
      "no-crs",
      `The file is in EPSG:${epsg}, which is not known here.`,
      key,
      "Bring it into degrees first: gdalwarp -r bilinear -t_srs EPSG:4326 FILE OUT.tif, or give a proj4 definition of the system.",
    );
  return crs;
}

interface Placement {
  readonly origin: readonly [number, number];
  readonly step: readonly [number, number];
}

/** Outer corner or centre of the first pixel, as the file gives it, and the steps. */
function placementOf(image: GeoTIFFImage, key: string): Placement {
  const tie: unknown = image.fileDirectory.getValue("ModelTiepoint");
  const scale: unknown = image.fileDirectory.getValue("ModelPixelScale");
  const matrix: unknown = image.fileDirectory.getValue("ModelTransformation");
  const numbers = (value: unknown, least: number): number[] | null =>
    value !== null && typeof value === "object" && "length" in value && Number(value.length) >= least
      ? Array.from(value as ArrayLike<number>, Number)
      : null;
  const m = numbers(matrix, 8);
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
  const t = numbers(tie, 6);
  const s = numbers(scale, 2);
  if (t && s) return { origin: [t[3]! - t[0]! * s[0]!, t[4]! + t[1]! * s[1]!], step: [s[0]!, -s[1]!] };
  throw new Fault(
    "no-crs",
    "The file does not say where its pixels lie: it has neither a tie point with a pixel scale nor a transformation.",
    key,
    "Use the original GeoTIFF, or georeference it first.",
  );
}

/** A strip or tile beyond the end of the file means the file was cut off; the library would read zeros there. */
async function checkComplete(image: GeoTIFFImage, size: number, key: string): Promise<void> {
  const kind = image.isTiled ? "Tile" : "Strip";
  const offsets: unknown = await image.fileDirectory.loadValue(`${kind}Offsets`);
  const counts: unknown = await image.fileDirectory.loadValue(`${kind}ByteCounts`);
  const all = (v: unknown): number[] =>
    typeof v === "number" ? [v] : Array.from((v ?? []) as ArrayLike<number>, Number);
  const lengths = all(counts);
  const broken = all(offsets).findIndex((offset, i) => offset + (lengths[i] ?? 0) > size);
  if (broken >= 0)
    throw new Fault(
      "bad-elevation",
      `The file ends before its ${kind.toLowerCase()} ${broken} does: it was cut off.`,
      key,
      "Copy or download it again.",
    );
}

/** Turns a grid whose rows run northwards upside down, and heights into metres. */
function northUp(
  values: ArrayLike<number>,
  columns: number,
  rows: number,
  flip: boolean,
  noData: number | null,
  unitM: number,
): Float32Array {
  const heights = new Float32Array(columns * rows);
  // A nodata value written in decimal may not be what its float32 samples hold.
  const missing = noData === null ? Number.NaN : Math.fround(noData);
  for (let row = 0; row < rows; row++) {
    const from = (flip ? rows - 1 - row : row) * columns;
    const to = row * columns;
    for (let column = 0; column < columns; column++) {
      const value = values[from + column]!;
      heights[to + column] =
        value === noData || Math.fround(value) === missing || !Number.isFinite(value)
          ? Number.NaN
          : value * unitM;
    }
  }
  return heights;
}

/**
 * The elevation model in a GeoTIFF: its first band, nodata as NaN, in metres, rows from the north.
 * A pixel that stands for an area is taken as a sample at its centre, as GDAL does.
 * @param key the file's name, for messages
 * @param crs "EPSG:…" or a proj4 definition, used instead of what the file says
 * @throws Fault "bad-elevation" when it is no GeoTIFF, is cut off, or holds no heights;
 *   "no-crs" when it does not say where on earth it lies
 */
export async function readElevation(bytes: ArrayBuffer, key: string, crs?: string): Promise<ElevationGrid> {
  try {
    const image = await (await fromArrayBuffer(bytes)).getImage();
    const columns = image.getWidth();
    const rows = image.getHeight();
    if (columns * rows > MOST_SAMPLES)
      throw new Fault(
        "bad-elevation",
        `The file claims ${columns} by ${rows} pixels, more than can be worked on.`,
        key,
        "Cut it into smaller pieces.",
      );
    const keys: Keys | null = image.getGeoKeys();
    const system = crs === undefined ? crsOfKeys(keys, key) : crsOfText(crs, key);
    const { origin, step } = placementOf(image, key);
    await checkComplete(image, bytes.byteLength, key);
    const raster = await image.readRasters({ samples: [0], interleave: true });
    const half = keys?.["GTRasterTypeGeoKey"] === PIXEL_IS_POINT ? 0 : 0.5;
    const flip = step[1] > 0;
    const x = origin[0] + half * step[0];
    const y = origin[1] + half * step[1] + (flip ? (rows - 1) * step[1] : 0);
    const unitM = METRES_PER_VERTICAL_UNIT.get(Number(keys?.["VerticalUnitsGeoKey"])) ?? 1;
    return checkGrid({
      key,
      columns,
      rows,
      heights: northUp(raster, columns, rows, flip, image.getGDALNoData(), unitM),
      origin: [x, y],
      step: [step[0], -Math.abs(step[1])],
      crs: system,
    });
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
