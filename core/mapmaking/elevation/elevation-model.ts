/** An elevation model that has been opened but not yet read: where it lies is known, its heights are read by parts. */
import type { ByteSource } from "../../map/source.ts";
import type { GridCrs } from "./elevation-grid.ts";
import type { EpsgLookup } from "./grid-crs.ts";

/** A file as the host lends it. */
export interface ElevationFile extends ByteSource {
  readonly sizeBytes: number;
  /** Text of the .prj file beside it, when there is one. */
  readonly prj?: string | null;
}

/** What a person says about the files besides what they say themselves. */
export interface ReadOptions {
  /** "EPSG:…", a PROJ string or WKT: used instead of what the file says. Files of the .hgt kind are always in degrees. */
  readonly crs?: string | undefined;
  /** Unit of the heights, used instead of what the file says. A foot is the international one. */
  readonly heightUnit?: "m" | "ft" | undefined;
  /** The register of coordinate systems, if the host has one. */
  readonly epsg?: EpsgLookup | undefined;
}

/** Where the samples of a regular grid lie; as in `ElevationGrid`. */
export interface GridFrame {
  readonly key: string;
  readonly columns: number;
  readonly rows: number;
  readonly origin: readonly [x: number, y: number];
  readonly step: readonly [x: number, y: number];
  readonly crs: GridCrs;
}

/** A rectangle of samples, counted from the north-western one. */
export interface GridWindow {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
}

export interface ElevationModel extends GridFrame {
  /** Sentences a person should read: what was taken for granted. */
  readonly notes: readonly string[];
  /** A part can only be read by reading everything before it. */
  readonly sequential?: true;
  /**
   * Heights of a part, metres, laid out as in `ElevationGrid`, NaN for voids.
   * @param step called now and then with the share done
   * @throws Fault "bad-elevation" when the file is damaged there
   */
  heights(window: GridWindow, step?: (done: number) => Promise<void>): Promise<Float32Array>;
}

export const FOOT_M = 0.3048;

/** Refused before anything is reserved for it, as a header can claim any size: 400 million heights take 1.6 GB. */
export const MOST_SAMPLES = 4e8;

export const wholeOf = ({ columns, rows }: GridFrame): GridWindow => ({ column: 0, row: 0, columns, rows });

/** A file over bytes already in memory. */
export const memoryFile = (key: string, bytes: Uint8Array, prj: string | null = null): ElevationFile => ({
  key,
  sizeBytes: bytes.length,
  prj,
  read: async (offset, length) => bytes.subarray(offset, offset + length),
});
