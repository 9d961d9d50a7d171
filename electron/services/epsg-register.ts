/** The register of coordinate systems, one small file a code, as the package epsg-index brings it. */
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { EpsgEntry, EpsgLookup } from "../../core/mapmaking/elevation/grid-crs.ts";

const require = createRequire(import.meta.url);

/** What an entry has; its area is north, west, south, east. */
interface Told {
  readonly name?: unknown;
  readonly proj4?: unknown;
  readonly bbox?: unknown;
  readonly unit?: unknown;
}

export const epsgRegister: EpsgLookup = async (code) => {
  if (!Number.isInteger(code) || code < 1024 || code > 99_999_999) return null;
  let told: Told;
  try {
    told = JSON.parse(await readFile(require.resolve(`epsg-index/s/${code}.json`), "utf8")) as Told;
  } catch {
    return null;
  }
  const text = (value: unknown): string | null => (typeof value === "string" && value !== "" ? value : null);
  return {
    name: text(told.name) ?? `EPSG:${code}`,
    proj: text(told.proj4),
    area: areaOf(told.bbox),
    unit: text(told.unit),
  };
};

function areaOf(box: unknown): EpsgEntry["area"] {
  if (!Array.isArray(box) || box.length !== 4 || !box.every((n) => Number.isFinite(n))) return null;
  const [north, west, south, east] = box as [number, number, number, number];
  return west < east && south < north ? [west, south, east, north] : null;
}
