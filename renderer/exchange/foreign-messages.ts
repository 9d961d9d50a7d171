/** What the window asks the worker about a file of another program; plain data. */
import type { Candidate, Exchange, ReadOptions } from "../../core/exchange/exchange.ts";
import type { TableLook } from "../../core/exchange/csv-columns.ts";
import type { FaultRecord } from "../../core/fault.ts";
import type { Walk } from "../../core/walk/walk.ts";

/** How a file is to be read, as far as a person may say. */
export type ForeignOptions = Omit<ReadOptions, "mostBytes" | "mostPositions" | "axes">;

export interface CandidateLook extends Pick<
  Candidate,
  "kind" | "name" | "lengthM" | "bounds" | "times" | "heights"
> {
  readonly positions: number;
}

/** What is in a file. */
export interface ForeignLook {
  readonly format: Exchange["format"] | null;
  readonly candidates: readonly CandidateLook[];
  /** How a table was, or would be, taken. */
  readonly table: TableLook | null;
  /** Why there are no candidates. */
  readonly fault: FaultRecord | null;
}

export interface ForeignChoice {
  readonly pick: number;
  /** Null keeps every position. */
  readonly toleranceM: number | null;
  readonly date: string;
  readonly fallbackTitle: string;
}

/** The walk that would come of a choice. */
export interface ForeignWalk {
  readonly walk: Walk | null;
  readonly report: readonly string[];
  /** Positions there were, and how far off the farthest of those left out lies, metres. */
  readonly of: number;
  readonly largestM: number;
  /** The line of the file, longitude and latitude in turn, drawn with no more positions than a picture shows. */
  readonly line: Float64Array;
  readonly fault: FaultRecord | null;
}
