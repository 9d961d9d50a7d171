/** What the host asks of the thread that draws pages, and what comes back. */
import type { FaultRecord } from "../../../core/fault.ts";
import type { RememberedRoles } from "../../../core/map/set-roles.ts";
import type { SheetJob } from "../../../core/sheet/sheet-job.ts";
import type { CourseOrder, ReadySheets, WorksheetOrder } from "../../contract.ts";

/** A job with the files of its map. */
export interface PressOrder {
  readonly job: SheetJob;
  /** A worksheet instead of the job's own papers; null for those. */
  readonly worksheet: WorksheetOrder | null;
  /** Sheets of practice courses instead; null for those. */
  readonly course: CourseOrder | null;
  readonly map: {
    readonly path: string;
    readonly terrainPath: string | null;
    /** Roles a person set for maps of its id. */
    readonly roles: readonly RememberedRoles[];
  } | null;
}

/** Every question. Pages are counted from 0, and their sets go by keys that the asker gives. */
export interface PressCalls {
  make(sheets: string, order: PressOrder): ReadySheets;
  page(sheets: string, page: number): string;
  pdf(sheets: string): Uint8Array;
  /** All pages, each a whole file. */
  svgs(sheets: string): readonly string[];
}
export type PressCall = keyof PressCalls;

export type ToPress =
  | {
      [C in PressCall]: { readonly ask: number; readonly call: C; readonly args: Parameters<PressCalls[C]> };
    }[PressCall]
  | { readonly cancel: number };

export type FromPress =
  | { readonly ask: number; readonly done: number; readonly all: number }
  | { readonly ask: number; readonly value: unknown }
  | { readonly ask: number; readonly fault: FaultRecord };
