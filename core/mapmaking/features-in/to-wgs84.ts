/** Positions of a file brought to degrees WGS 84, and refused where they cannot be any. */
import proj4 from "proj4";
import { Fault } from "../../fault.ts";
import { type EpsgLookup, findCrs } from "../elevation/grid-crs.ts";
import { badFeatures } from "../../files/feature-file.ts";

/** A coordinate system as text: what a message calls it, and what proj4 makes of it. */
export interface FileCrs {
  readonly name: string;
  /** Null where positions are degrees WGS 84 already. */
  readonly proj: string | null;
  /** How its datum lies to WGS 84 is not known: everything may be off by hundreds of metres. */
  readonly datumUnknown?: true;
}
export const DEGREES: FileCrs = { name: "WGS 84", proj: null };

/** Finds a system by a name such as "urn:ogc:def:crs:EPSG::2193", "EPSG:2193" or "+proj=…". @throws Fault "no-crs" */
export type CrsNamed = (name: string, where: string) => Promise<FileCrs>;

/** By EPSG code, PROJ definition or WKT. @param epsg the register of codes, when the host lends one */
export function crsNames(epsg?: EpsgLookup): CrsNamed {
  return async (text, where) => {
    const name = text.trim();
    if (/CRS:?:?84$/i.test(name)) return DEGREES;
    const code = /^(?:urn:ogc:def:crs:)?EPSG:[\d.]*:?(\d{4,6})$/i.exec(name)?.[1];
    if (code === "4326") return DEGREES;
    const found = await findCrs(code === undefined ? name : `EPSG:${code}`, where, epsg).catch(() => null);
    if (!found) throw unknownCrs(name, where);
    const datumUnknown = found.datumUnknown === true || (found.proj === name && !saysDatum(name));
    return { name: found.name, proj: found.proj, ...(datumUnknown && { datumUnknown }) };
  };
}

/** Whether WKT or a PROJ definition says how its datum lies to WGS 84, or names one that lies on it to about 2 m. */
const saysDatum = (crs: string): boolean =>
  /TOWGS84|WGS_?(19)?84|North_American_(Datum_)?1983|NAD_?83|ETRS|European_Terrestrial|GRS_?(19)?80|\+(datum|towgs84)=/i.test(
    crs,
  );

/** Changes longitude, latitude or easting, northing pairs in place. @throws Fault naming the feature */
export type ToWgs84 = (coords: Float64Array, where: string) => Float64Array;

/** Beyond 180° by rounding, degrees. */
const ROUNDING = 1e-6;

/**
 * @throws Fault "no-crs" when proj4 does not understand the system
 */
export function toWgs84(crs: FileCrs, file: string): ToWgs84 {
  const { proj } = crs;
  if (proj === null) return (coords, where) => checked(coords, `${file}, ${where}`, crs);
  let forward: (position: [number, number]) => [number, number];
  try {
    const converter = proj4(proj, "+proj=longlat +datum=WGS84 +no_defs");
    forward = (position) => converter.forward(position);
  } catch {
    throw unknownCrs(crs.name, file);
  }
  const inDegrees = /^\s*(GEOGCS|GEOGCRS|\+proj=longlat)/i.test(proj);
  return (coords, where) => {
    const place = `${file}, ${where}`;
    // Degrees that cannot be any are told before they are converted, while one can still see what they were.
    if (inDegrees) checked(coords, place, crs);
    for (let i = 0; i + 1 < coords.length; i += 2) {
      let position: [number, number];
      try {
        position = forward([coords[i]!, coords[i + 1]!]);
      } catch {
        position = [Number.NaN, Number.NaN];
      }
      if (!Number.isFinite(position[0]) || !Number.isFinite(position[1]))
        throw badFeatures(
          `${coords[i]}, ${coords[i + 1]} is no place in the coordinate system of the file, ${crs.name}.`,
          place,
          "Check the file's coordinate system (the .prj of a shapefile).",
        );
      coords[i] = position[0];
      coords[i + 1] = position[1];
    }
    return checked(coords, place, crs);
  };
}

export const unknownCrs = (name: string, file: string): Fault =>
  new Fault(
    "no-crs",
    `The coordinate system of the file, “${name.slice(0, 120)}”, is not known here.`,
    file,
    "Name it by --features-crs, or save the file in WGS 84.",
  );

function checked(coords: Float64Array, where: string, crs: FileCrs): Float64Array {
  for (let i = 0; i + 1 < coords.length; i += 2) {
    const lon = coords[i]!;
    const lat = coords[i + 1]!;
    if (!Number.isFinite(lon) || !Number.isFinite(lat))
      throw badFeatures(`A position is no pair of numbers: ${lon}, ${lat}.`, where);
    if (Math.abs(lat) > 90 + ROUNDING || Math.abs(lon) > 180 + ROUNDING) {
      if (Math.abs(lat) <= 180 && Math.abs(lon) <= 90)
        throw swapped(`Latitude ${lat}° does not exist`, where);
      if (crs.proj === null && (Math.abs(lat) > 360 || Math.abs(lon) > 360))
        throw new Fault(
          "no-crs",
          `${lon}, ${lat} are no degrees, and the file names no other coordinate system.`,
          where,
          "Name it by --features-crs, or save the file in WGS 84.",
        );
      throw badFeatures(
        `${lon}, ${lat} is no place on earth.`,
        where,
        "Check the file's coordinate system (the .prj of a shapefile).",
      );
    }
    coords[i] = Math.max(-180, Math.min(180, lon));
    coords[i + 1] = Math.max(-90, Math.min(90, lat));
  }
  return coords;
}

/** Both coordinates are fine, each in the other's place. */
export const swapped = (sign: string, where: string): Fault =>
  badFeatures(
    `${sign}: the file has latitude first, longitude second.`,
    where,
    "Save it again with longitude first, as its format asks.",
  );
