/** The walk as a sheet draws it. */
import type { LegFigures } from "../../legs/figures.ts";
import type { LonLat } from "../../units/position.ts";

export interface SheetWalk {
  /** In order; a leg runs from each to the next. */
  readonly points: readonly { readonly label: string; readonly lonLat: LonLat }[];
  /** What helps and what endangers on each leg; fewer, or none, where it is not known. */
  readonly aids: readonly (LegAids | null)[];
  /** Half-angle of the drift cone, degrees. */
  readonly driftDeg: number;
  /** Ways out: from a place on the walk to where it leads. */
  readonly escapes?: readonly { readonly from: LonLat; readonly to: LonLat }[];
}

export type LegAids = Pick<LegFigures, "handrails" | "backstop" | "hazards">;

export interface WalkWish {
  readonly handrails: boolean;
  readonly backstops: boolean;
  readonly hazards: boolean;
  readonly cone: boolean;
  readonly escapes?: boolean;
  /** Labels and numbers of at least 14 points instead of 9. */
  readonly large?: boolean;
  /** Only these legs, counting from 0, with their points; left out, all. */
  readonly legs?: readonly number[];
}
