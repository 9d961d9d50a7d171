/** What a map is made from, and what is told of it when it is made. */
import { Fault } from "../fault.ts";
import type { Role } from "../map/kinds.ts";
import type { Bbox } from "../units/position.ts";
import type { Derive } from "./derived-features.ts";
import type { ElevationGrid } from "./elevation/elevation-grid.ts";
import type { Interval } from "./interval.ts";
import type { ArchiveCounts, ArchiveHeader } from "./pmtiles-writer.ts";
import type { TerrainPlan } from "./terrain-zoom.ts";
import type { RoleFeature, TileFeature } from "./tile-feature.ts";

export interface AboutMap {
  readonly title: string;
  /** Stable identity; left out, it is made from title, source, date and bounds. */
  readonly id?: string;
  /** Where the data comes from, in words. */
  readonly source: string | null;
  /** Date of the data, YYYY-MM-DD or YYYY. */
  readonly date: string | null;
  readonly attribution: string | null;
  /** What heights are counted from. */
  readonly datum: string | null;
  /** The place does not exist. */
  readonly invented: boolean;
}

export interface Zooms {
  readonly min: number;
  readonly max: number;
}

export interface MapRequest {
  readonly elevation: ElevationGrid;
  readonly features?: readonly RoleFeature[];
  /** More features, already in the units of the highest zoom and fit for tiles, as `readFeatures` gives them. */
  readonly prepared?: readonly TileFeature[];
  /** "auto" takes one that suits the ground. */
  readonly interval: Interval | "auto";
  readonly about: AboutMap;
  /** Zooms of the vector tiles; 8 to 14 when left out. */
  readonly zooms?: Zooms;
  /** What to work out from the terrain besides contours; left out, what the features hold none of. */
  readonly derive?: Derive;
}

/** The same where heights come from a source, and features and zooms from a store. */
export type SourceRequest = Omit<MapRequest, "elevation" | "features" | "prepared" | "zooms"> & {
  /** Share of the heights that were made up, and where: areas in columns and rows, as `FilledVoids` has them. */
  readonly filledShare?: number;
  readonly filledAreas?: readonly (readonly Float64Array[])[];
};

export interface MapReport {
  readonly bounds: Bbox;
  readonly cellM: number;
  readonly lowestM: number;
  readonly highestM: number;
  /** Share of the model's samples without a height. */
  readonly voidShare: number;
  /** Share of the model's samples whose height was made up to fill a void. */
  readonly filledShare: number;
  readonly interval: Interval;
  readonly contourLevels: number;
  /** Features by role; contours as whole lines. */
  readonly features: Partial<Record<Role, number>>;
  readonly vertices: number;
  readonly archive: ArchiveCounts;
  readonly terrain: ArchiveCounts & TerrainPlan & { readonly pixelM: number };
}

export interface MadeMap {
  readonly archive: Uint8Array;
  readonly terrain: Uint8Array;
  readonly report: MapReport;
}

/** A map whose tiles are all with the writers: headers to finish them with. */
export interface Made {
  readonly archive: ArchiveHeader;
  readonly terrain: ArchiveHeader;
  readonly report: Omit<MapReport, "archive" | "terrain"> & {
    readonly terrain: TerrainPlan & { readonly pixelM: number };
  };
}

export const DEFAULT_ZOOMS: Zooms = { min: 8, max: 14 };
/** Tile coordinates are 32-bit: 4096 units a tile reach 2^30 at this zoom. */
const HIGHEST_ZOOM = 18;

/** @throws Fault "bad-argument" */
export function checkZooms({ min, max }: Zooms): void {
  if (!Number.isInteger(min) || !Number.isInteger(max) || min < 0 || max < min || max > HIGHEST_ZOOM)
    throw new Fault(
      "bad-argument",
      `Zooms ${min} to ${max} are not possible: they are whole numbers from 0 to ${HIGHEST_ZOOM}.`,
      "zooms",
    );
}
