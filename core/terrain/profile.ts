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
  /**
   * ± metres on each height: from contours 0 where one is crossed, at most half an interval between two of them, up to
   * a whole one where it is left open how far the ground bulges; NaN where the height is. Nine true heights in ten lie
   * within. Null where not known.
   */
  readonly errorsM: Float64Array | null;
  /** Stretches with no height, metres from the start. */
  readonly blind: readonly { readonly fromM: number; readonly toM: number }[];
}

/** Stretches of a profile without heights, each from the last known height before it to the next known one. */
export function blindStretches(
  distanceM: Float64Array,
  elevationM: Float64Array,
): { fromM: number; toM: number }[] {
  const blind: { fromM: number; toM: number }[] = [];
  const n = distanceM.length;
  for (let i = 0; i < n; i++) {
    if (!Number.isNaN(elevationM[i])) continue;
    let j = i;
    while (j + 1 < n && Number.isNaN(elevationM[j + 1])) j++;
    blind.push({
      fromM: distanceM[Math.max(0, i - 1)] as number,
      toM: distanceM[Math.min(n - 1, j + 1)] as number,
    });
    i = j;
  }
  return blind;
}
