/** Which coordinate reference systems an elevation model may be in, by EPSG code or proj4 definition. */
import proj4 from "proj4";
import { Fault } from "../../fault.ts";
import { type GridCrs, WGS84 } from "./elevation-grid.ts";

const utm = (code: number, zone: number, rest: string): GridCrs => ({
  name: `EPSG:${code}`,
  proj: `+proj=utm +zone=${zone} ${rest} +units=m +no_defs`,
});

/**
 * The system of an EPSG code: WGS 84, NAD83 and ETRS89 in degrees or in UTM, New Zealand Transverse Mercator,
 * Web Mercator, and what proj4 knows besides. NAD83 and ETRS89 are taken as equal to WGS 84, which holds to about 2 m.
 * Source of the definitions: EPSG geodetic parameter registry.
 * @returns null for a code not known here
 */
export function crsOfEpsg(code: number): GridCrs | null {
  const zone = code % 100;
  if (code === 4326) return WGS84;
  if (code === 4269 || code === 4258)
    return { name: `EPSG:${code}`, proj: "+proj=longlat +ellps=GRS80 +no_defs" };
  if (code >= 32601 && code <= 32660) return utm(code, zone, "+datum=WGS84");
  if (code >= 32701 && code <= 32760) return utm(code, zone, "+south +datum=WGS84");
  if (code >= 26901 && code <= 26923) return utm(code, zone, "+ellps=GRS80");
  if (code >= 25828 && code <= 25838) return utm(code, zone, "+ellps=GRS80");
  if (code === 2193)
    return {
      name: "EPSG:2193",
      proj: "+proj=tmerc +lat_0=0 +lon_0=173 +k=0.9996 +x_0=1600000 +y_0=10000000 +ellps=GRS80 +units=m +no_defs",
    };
  const name = `EPSG:${code}`;
  return proj4.defs(name) ? { name, proj: name } : null;
}

/**
 * The system a person names: "EPSG:32611" or a proj4 definition ("+proj=…").
 * @throws Fault "no-crs" when neither is understood
 */
export function crsOfText(text: string, where: string): GridCrs {
  const trimmed = text.trim();
  const code = /^(?:EPSG:)?(\d{4,6})$/i.exec(trimmed)?.[1];
  const known = code === undefined ? null : crsOfEpsg(Number(code));
  if (known) return known;
  if (trimmed.startsWith("+proj=")) {
    try {
      proj4(trimmed, WGS84.proj);
      return { name: trimmed, proj: trimmed };
    } catch {
      // Falls through to the one fault below.
    }
  }
  throw new Fault(
    "no-crs",
    `“${trimmed}” is no coordinate system known here.`,
    where,
    "Name it by an EPSG code such as EPSG:32611, or by a proj4 definition that begins with +proj=.",
  );
}
