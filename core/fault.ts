/**
 * The one error a person is meant to read: what is wrong, where, and what to do.
 * It crosses the worker and the bridge as a plain object, so no part of it lives in the message alone.
 */

/** What a caller may act on; never match on message text. */
export type FaultCode =
  | "bad-argument" // a value handed in makes no sense (NaN, latitude 91)
  | "bad-walk" // a walk file cannot be read
  | "newer-walk" // a walk file written by a newer version
  | "bad-archive" // a map archive is not one, or is damaged
  | "bad-tile" // one tile is damaged
  | "bad-elevation" // an elevation model cannot be read
  | "bad-features" // a file of features (OpenStreetMap, GeoJSON, shapefile, GPX, KML) or of rules cannot be read
  | "no-crs" // an elevation model or vector file does not say where on earth it is
  | "out-of-range" // outside what a model or a grid covers
  | "no-file"
  | "no-space"
  | "read-only"
  | "changed-on-disk"
  | "taken-over" // another window writes the file now
  | "exists" // a file of that name is there already
  | "not-allowed" // the host refuses (wrong origin, a path it was not given)
  | "unavailable" // something this host needs is not installed
  | "cancelled"
  | "no-course" // no practice course on this ground keeps the rules asked for
  | "internal";

/** A fault as it crosses a worker or the bridge. */
export interface FaultRecord {
  readonly code: FaultCode;
  readonly what: string;
  readonly where: string | null;
  readonly remedy: string | null;
}

export class Fault extends Error {
  override readonly name = "Fault";
  /**
   * @param code what a caller may act on
   * @param what one clear sentence: what is wrong
   * @param where file, line or byte, feature; null when there is no place
   * @param remedy what to do about it; null when nothing helps
   */
  constructor(
    readonly code: FaultCode,
    readonly what: string,
    readonly where: string | null = null,
    readonly remedy: string | null = null,
  ) {
    super([what, where && `(${where})`, remedy].filter(Boolean).join(" "));
  }

  toRecord(): FaultRecord {
    return { code: this.code, what: this.what, where: this.where, remedy: this.remedy };
  }

  static fromRecord(record: FaultRecord): Fault {
    return new Fault(record.code, record.what, record.where, record.remedy);
  }

  /** Any thrown value as a fault; what is not one already becomes "internal". */
  static from(thrown: unknown): Fault {
    if (thrown instanceof Fault) return thrown;
    return new Fault("internal", thrown instanceof Error ? thrown.message : String(thrown));
  }
}
