/**
 * The coordinate system a GeoTIFF file's keys tell: by its EPSG code, as WKT in a citation, or parameter by parameter.
 * Source: OGC 19-008r4 (GeoTIFF 1.1), annexes B and C; projection codes of GeoTIFF 1.0, section 6.3.3.3.
 */
import { Fault } from "../../fault.ts";
import type { GridCrs } from "./elevation-grid.ts";
import { type EpsgLookup, findCrs, findEpsg, understood } from "./grid-crs.ts";

export type GeoKeys = Readonly<Record<string, unknown>>;

/** "Undefined" and "user-defined". */
const NO_CODE = new Set([0, 32767]);
const GEOGRAPHIC = 2;
const PROJECTED = 1;

const REMEDY =
  "Give it one, for example: gdal_edit.py -a_srs EPSG:32611 FILE, or name the system with --crs when making the map.";

const numberOf = (keys: GeoKeys, name: string): number | null => {
  const value = keys[name];
  return typeof value === "number" && Number.isFinite(value) ? value : null;
};

const codeOf = (keys: GeoKeys, name: string): number | null => {
  const value = numberOf(keys, name);
  return value !== null && !NO_CODE.has(value) ? value : null;
};

/** @throws Fault "no-crs" when the keys name no system known here */
export async function crsOfKeys(keys: GeoKeys | null, key: string, epsg?: EpsgLookup): Promise<GridCrs> {
  const fail = (what: string, remedy = REMEDY): never => {
    throw new Fault("no-crs", what, key, remedy);
  };
  if (!keys) return fail("The file does not say where on earth it lies: it has no GeoTIFF keys.");
  const projected = codeOf(keys, "ProjectedCSTypeGeoKey");
  const model = keys["GTModelTypeGeoKey"];
  // A projected file also names its geographic base: reading that as its own system would misplace it entirely.
  const code = projected ?? (model === PROJECTED ? null : codeOf(keys, "GeographicTypeGeoKey"));
  if (code !== null) {
    const crs = await findEpsg(code, epsg);
    return (
      crs ??
      fail(
        `The file is in EPSG:${code}, which is not known here.`,
        "Bring it into degrees first: gdalwarp -r bilinear -t_srs EPSG:4326 FILE OUT.tif, or give a PROJ definition of the system with --crs.",
      )
    );
  }
  const wkt = ["PCSCitationGeoKey", "GTCitationGeoKey", "GeogCitationGeoKey"]
    .map((name) => keys[name])
    .find((text): text is string => typeof text === "string" && /(?:PROJCS|GEOGCS)\s*\[/.test(text));
  if (wkt !== undefined) return await findCrs(wkt.slice(wkt.search(/(?:PROJCS|GEOGCS)\s*\[/)), key, epsg);
  const base = await datumOf(keys, epsg);
  const projection = model === GEOGRAPHIC || model === undefined ? "+proj=longlat" : projectionOf(keys);
  if (base !== null && projection !== null) {
    const proj = `${projection} ${base.proj} +no_defs`;
    if (understood(proj))
      return { name: "the system its keys describe", proj, ...(base.unknown && { datumUnknown: true }) };
  }
  return fail("The file names no coordinate system by an EPSG code, and describes none that is known here.");
}

/** Ellipsoid and datum as PROJ writes them. */
async function datumOf(
  keys: GeoKeys,
  epsg?: EpsgLookup,
): Promise<{ readonly proj: string; readonly unknown: boolean } | null> {
  const code = codeOf(keys, "GeographicTypeGeoKey");
  const crs = code === null ? null : await findEpsg(code, epsg);
  if (crs) {
    const proj = crs.proj.replaceAll(/\+(?:proj|no_defs|units|title)\S*\s*/g, "").trim();
    return { proj: proj.startsWith("EPSG:") ? "+datum=WGS84" : proj, unknown: crs.datumUnknown ?? false };
  }
  const a = numberOf(keys, "GeogSemiMajorAxisGeoKey");
  const rf = numberOf(keys, "GeogInvFlatteningGeoKey");
  if (a !== null && rf !== null) return { proj: `+a=${a} +rf=${rf}`, unknown: true };
  return null;
}

/** PROJ parameter, and the keys it may be under. */
const PARAMETERS: readonly (readonly [string, readonly string[]])[] = [
  ["lat_1", ["ProjStdParallel1GeoKey"]],
  ["lat_2", ["ProjStdParallel2GeoKey"]],
  ["lat_0", ["ProjNatOriginLatGeoKey", "ProjFalseOriginLatGeoKey", "ProjCenterLatGeoKey"]],
  [
    "lon_0",
    [
      "ProjNatOriginLongGeoKey",
      "ProjFalseOriginLongGeoKey",
      "ProjCenterLongGeoKey",
      "ProjStraightVertPoleLongGeoKey",
    ],
  ],
  ["k_0", ["ProjScaleAtNatOriginGeoKey", "ProjScaleAtCenterGeoKey"]],
  ["x_0", ["ProjFalseEastingGeoKey", "ProjFalseOriginEastingGeoKey", "ProjCenterEastingGeoKey"]],
  ["y_0", ["ProjFalseNorthingGeoKey", "ProjFalseOriginNorthingGeoKey", "ProjCenterNorthingGeoKey"]],
];
/** Projections by the code of ProjCoordTransGeoKey; those that need more than the parameters above are left out. */
const PROJECTIONS: ReadonlyMap<number, string> = new Map([
  [1, "tmerc"],
  [7, "merc"],
  [8, "lcc"],
  [9, "lcc"],
  [10, "laea"],
  [11, "aea"],
  [12, "aeqd"],
  [16, "sterea"],
  [17, "eqc"],
  [24, "sinu"],
]);
const LINEAR_UNITS: ReadonlyMap<number, number> = new Map([
  [9001, 1],
  [9002, 0.3048],
  [9003, 1200 / 3937],
]);

function projectionOf(keys: GeoKeys): string | null {
  const projection = PROJECTIONS.get(codeOf(keys, "ProjCoordTransGeoKey") ?? -1);
  const code = codeOf(keys, "ProjLinearUnitsGeoKey");
  const unitM = code === null ? (numberOf(keys, "ProjLinearUnitSizeGeoKey") ?? 1) : LINEAR_UNITS.get(code);
  // Angles in grads or about another meridian than Greenwich are rare enough to be named by hand.
  const plainAngles = [null, 9102].includes(codeOf(keys, "GeogAngularUnitsGeoKey"));
  const greenwich = [null, 8901].includes(codeOf(keys, "GeogPrimeMeridianGeoKey"));
  if (projection === undefined || unitM === undefined || !plainAngles || !greenwich) return null;
  const words = PARAMETERS.flatMap(([name, from]) => {
    const value = from.map((each) => numberOf(keys, each)).find((each) => each !== null) ?? null;
    if (value === null) return [];
    // PROJ counts false eastings in metres whatever the unit of the axes.
    return [`+${name}=${name === "x_0" || name === "y_0" ? value * unitM : value}`];
  });
  if (keys["ProjCoordTransGeoKey"] === 9) {
    // With one standard parallel, that is the latitude of origin.
    const lat = words.find((word) => word.startsWith("+lat_0="));
    if (lat) words.push(lat.replace("lat_0", "lat_1"));
  }
  return [`+proj=${projection}`, ...words, unitM === 1 ? "+units=m" : `+to_meter=${unitM}`].join(" ");
}
