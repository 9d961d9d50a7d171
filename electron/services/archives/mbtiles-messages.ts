/** What the thread that reads an MBTiles archive is asked, and what it answers. */
import type { FaultRecord } from "../../../core/fault.ts";
import type { MbtilesRows } from "../../../core/mapmaking/archive-copy-mbtiles.ts";

/** Tiles in one array of bytes; rows already counted from the north. */
export interface TileBatch {
  /** Zoom, column, row and length in bytes of each. */
  readonly index: Float64Array;
  readonly bytes: Uint8Array;
}

export type MbtilesAnswer =
  | { readonly about: { readonly rows: MbtilesRows; readonly tiles: number | null } }
  | { readonly batch: TileBatch | null }
  | { readonly fault: FaultRecord };
