/** Ground along a leg. Parallel arrays, in order of distance from the leg's start. */
export interface Profile {
  /** Where heights come from; null when there are none. */
  readonly from: "terrain" | "contours" | null;
  /** Map distance from the start, metres; first 0, last the leg's length. */
  readonly distanceM: Float64Array;
  /** Metres above the map's datum; NaN where unknown. */
  readonly elevationM: Float64Array;
  /** ± metres on any one height: half the contour interval from contours; null where not known. */
  readonly errorM: number | null;
  /** Stretches with no height, metres from the start. */
  readonly blind: readonly { readonly fromM: number; readonly toM: number }[];
}
