/** How a GeoTIFF file stores its heights, and the unit they are in. */
import type { GeoTIFFImage } from "geotiff";
import { Fault } from "../../fault.ts";
import { FOOT_M } from "./elevation-model.ts";
import type { GeoKeys } from "./geotiff-crs.ts";
import type { EpsgLookup } from "./grid-crs.ts";
import { COMPRESSIONS, type SampleFormat } from "./tiff-decode.ts";

/** Vertical units by EPSG code: metre, foot, US survey foot. */
const METRES_PER_VERTICAL_UNIT = new Map([
  [9001, 1],
  [9002, FOOT_M],
  [9003, 1200 / 3937],
]);

/** How samples are stored. @throws Fault "bad-elevation" when they are no heights, or stored in a way not read here */
export function formatOf(
  image: GeoTIFFImage,
  predictor: number,
  littleEndian: boolean,
  key: string,
): SampleFormat {
  const fail = (what: string, remedy: string): never => {
    throw new Fault("bad-elevation", what, key, remedy);
  };
  const tag = (name: "Compression" | "PhotometricInterpretation"): number =>
    image.fileDirectory.getValue(name) ?? 1;
  const bands = image.getSamplesPerPixel();
  if (bands !== 1)
    fail(
      `The file has ${bands} bands: it is a picture, or holds more than heights.`,
      "Take the band with the heights: gdal_translate -b 1 FILE OUT.tif",
    );
  if (tag("PhotometricInterpretation") === 3)
    fail(
      "The file's values are numbers of colours, not heights.",
      "Use the model the picture was made from.",
    );
  const compression = COMPRESSIONS.get(tag("Compression"));
  if (!compression)
    return fail(
      `The file is compressed by method ${tag("Compression")}, which is not read here.`,
      "Compress it otherwise: gdal_translate -co COMPRESS=DEFLATE FILE OUT.tif",
    );
  const bits = image.getBitsPerSample();
  const kind = (["uint", "int", "float"] as const)[image.getSampleFormat() - 1];
  const bytes = bits / 8;
  const known = kind === "float" ? bytes === 4 || bytes === 8 : bytes === 1 || bytes === 2 || bytes === 4;
  if (!kind || !known)
    return fail(
      `Its samples of ${bits} bits${kind ? "" : " in a format not known"} are not read here.`,
      "Bring them into 32-bit floats: gdal_translate -ot Float32 FILE OUT.tif",
    );
  if (![1, 2, 3].includes(predictor) || (predictor === 3 && kind !== "float"))
    fail(`The file's predictor ${predictor} is not read here.`, "Write it anew: gdal_translate FILE OUT.tif");
  return {
    compression,
    // Libraries look at the predictor only where there is compression that has one.
    predictor: compression === "lzw" || compression === "deflate" ? predictor : 1,
    kind,
    bytes: bytes as SampleFormat["bytes"],
    littleEndian,
  };
}

/** Metres in a unit of height, by the file's keys, GDAL's note of the unit, or the height system; null when none says. */
export async function unitOf(
  keys: GeoKeys | null,
  note: unknown,
  epsg: EpsgLookup | undefined,
): Promise<number | null> {
  const byKey = METRES_PER_VERTICAL_UNIT.get(Number(keys?.["VerticalUnitsGeoKey"]));
  if (byKey !== undefined) return byKey;
  const system = keys?.["VerticalCSTypeGeoKey"];
  const named =
    typeof system === "number" && system > 0 && system < 32767
      ? ((await epsg?.(system))?.unit ?? null)
      : null;
  const word = (typeof note === "string" && note.trim() !== "" ? note : (named ?? "")).trim().toLowerCase();
  if (/survey/.test(word) || word === "us-ft" || word === "ftus") return 1200 / 3937;
  if (/^(?:ft|foot|feet|international foot|intl foot)$/.test(word)) return FOOT_M;
  return /^(?:m|metre|meter|metres|meters)$/.test(word) ? 1 : null;
}
