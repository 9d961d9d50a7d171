/** What the lines of the map and the shape of the ground are to a leg: met on the way, followed, stopped at. */
import type { Kind } from "../map/kinds.ts";

export interface Crossing {
  readonly kind: Kind;
  readonly name: string | null;
  readonly atM: number;
  /** Of a contour its own height, else the ground's. */
  readonly elevationM: number | null;
  /** Paces from the start of the leg. */
  readonly paces: number;
  /** Angle at which the leg meets the line, 0–90°: 90 is straight across. Null for what is no line of the map. */
  readonly crossingDeg: number | null;
  /** What the map or the terrain says of it besides: "2 m wide, dry in summer", "into the wood", "the ground levels out". */
  readonly detail: string | null;
  /** Of the edge of an area: whether the leg goes into it (true) or out of it (false); null when not known or no edge. */
  readonly enters: boolean | null;
}

export interface Handrail {
  readonly kind: Kind;
  readonly name: string | null;
  readonly side: "left" | "right";
  readonly fromM: number;
  readonly toM: number;
  readonly meanOffsetM: number;
  readonly minOffsetM: number;
  readonly maxOffsetM: number;
  /** Share of the leg it runs beside. */
  readonly coverage: number;
  /** The stretch as drawn, for the map: longitude, latitude … */
  readonly stretches: readonly Float64Array[];
}

export interface Backstop {
  readonly kind: Kind;
  readonly name: string | null;
  /** Beyond the target along the leg's bearing or, if the line is off that, the mean over the walkers stopped. */
  readonly beyondM: number;
  /** Angle at which walkers meet it, 0–90°. */
  readonly crossingDeg: number;
  readonly stoppedShare: number;
  readonly stretches: readonly Float64Array[];
}
