/** What the thread that reads people's files and makes maps is asked, and what it says. */
import type { FaultRecord } from "../../core/fault.ts";
import type { Progress } from "../../core/mapmaking/pace.ts";
import type { DataLook, ElevationSurvey } from "../contract.ts";
import type { FilesOrder } from "./map-making/make-from-files.ts";
import type { MapFiles } from "./map-making/make-map-files.ts";

export type Task =
  | {
      readonly kind: "look";
      readonly path: string;
      readonly as: "elevation" | "features";
      readonly crs: string | undefined;
    }
  | {
      readonly kind: "survey";
      readonly order: Pick<FilesOrder, "elevation" | "crs" | "heightUnit" | "bounds">;
    }
  | { readonly kind: "make"; readonly order: FilesOrder; readonly into: MapFiles };

export interface TaskResults {
  readonly look: DataLook;
  readonly survey: ElevationSurvey;
  readonly make: { readonly notes: readonly string[] };
}

export type ToJob = { readonly task: Task } | { readonly cancel: true };
export type FromJob =
  | { readonly progress: Progress }
  | { readonly result: TaskResults[keyof TaskResults] }
  | { readonly fault: FaultRecord };
