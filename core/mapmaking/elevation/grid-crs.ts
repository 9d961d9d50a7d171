/** Which coordinate reference systems an elevation model may be in: by EPSG code, PROJ definition or WKT. */
import proj4 from "proj4";
import type { Bbox } from "../../units/position.ts";
import { Fault } from "../../fault.ts";
import { type GridCrs, WGS84 } from "./elevation-grid.ts";
import { shiftedDatum } from "./old-datums.ts";

const utm = (code: number, zone: number, rest: string): GridCrs => ({
  name: `EPSG:${code}`,
  proj: `+proj=utm +zone=${zone} ${rest} +units=m +no_defs`,
});

/** What a register of coordinate systems says of a code. */
export interface EpsgEntry {
  readonly name: string;
  /** PROJ definition; null where the register has none. */
  readonly proj: string | null;
  /** Where the system is used; null when that is not told, or reaches across 180°. */
  readonly area: Bbox | null;
  /** Unit of its axes, as "metre", "foot", "US survey foot", "degree"; for heights too. */
  readonly unit: string | null;
}

/** Lent by the host: the register is too large to be carried everywhere. Null for a code it does not have. */
export type EpsgLookup = (code: number) => Promise<EpsgEntry | null>;

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
 * The system of an EPSG code, with the area it is used in where the register tells it.
 * @returns null for a code known neither here nor to the register, and for systems of heights
 */
export async function findEpsg(code: number, epsg?: EpsgLookup): Promise<GridCrs | null> {
  const known = crsOfEpsg(code);
  const entry = (await epsg?.(code)) ?? null;
  const area = entry?.area ? { area: entry.area } : {};
  if (known) return { ...known, ...area };
  if (!entry?.proj) return null;
  const { proj, datumKnown } = shiftedDatum(entry.proj, entry.area);
  return understood(proj)
    ? { name: `EPSG:${code}`, proj, ...area, ...(!datumKnown && { datumUnknown: true }) }
    : null;
}

/** Whether proj4 can work with it: it knows fewer projections than PROJ. */
export function understood(proj: string): boolean {
  try {
    proj4(proj, WGS84.proj);
    return true;
  } catch {
    return false;
  }
}

/** Whether a system counts in degrees of latitude and longitude. */
export const inDegrees = ({ proj }: GridCrs): boolean => read(proj).projName === "longlat";

/** Metres in one unit of a projected system; 1 for degrees, where it is not asked. */
export const unitOf = ({ proj }: GridCrs): number => read(proj).to_meter ?? 1;

/** What is used of a definition as proj4 has read it; its own types leave these out. */
const read = (proj: string): { readonly projName?: string; readonly to_meter?: number } =>
  new proj4.Proj(proj) as unknown as ReturnType<typeof read>;

/**
 * The system a person or a .prj file names: "EPSG:32611", a PROJ definition ("+proj=…") or WKT 1 ("PROJCS[…").
 * @throws Fault "no-crs" when none of them is understood
 */
export async function findCrs(text: string, where: string, epsg?: EpsgLookup): Promise<GridCrs> {
  const trimmed = text.trim();
  const code = /^(?:EPSG:)?(\d{4,6})$/i.exec(trimmed)?.[1] ?? codeOfWkt(trimmed);
  const known = code === undefined ? null : await findEpsg(Number(code), epsg);
  if (known) return known;
  if (trimmed.startsWith("+proj=")) {
    const { proj, datumKnown } = shiftedDatum(trimmed, null);
    if (understood(proj)) return { name: trimmed, proj, ...(!datumKnown && { datumUnknown: true }) };
  }
  const wkt = /^(?:PROJCS|GEOGCS|PROJCRS|GEOGCRS|COMPD_CS)\s*\[\s*"([^"]*)"/i.exec(trimmed);
  if (wkt && understood(trimmed)) return { name: wkt[1] ?? "WKT", proj: trimmed };
  const short = trimmed.length > 60 ? `${trimmed.slice(0, 60)}…` : trimmed;
  throw new Fault(
    "no-crs",
    `“${short.replaceAll(/\s+/g, " ")}” is no coordinate system known here.`,
    where,
    "Name it by an EPSG code such as EPSG:32611, or by a PROJ definition that begins with +proj=.",
  );
}

/** The code WKT gives for the system as a whole: its last AUTHORITY, right before the end. */
const codeOfWkt = (wkt: string): string | undefined =>
  /(?:AUTHORITY|ID)\s*\[\s*"EPSG"\s*,\s*"?(\d{4,6})"?\s*\]\s*\]\s*$/i.exec(wkt)?.[1];
