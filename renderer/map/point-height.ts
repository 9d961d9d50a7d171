/** The ground's height at a point of the walk, read from the profiles of the legs that meet there. */
import type { WalkFigures } from "../../core/legs/figures.ts";

/** @returns metres above the map's datum; null where unknown */
export function pointHeight(figures: WalkFigures | null, index: number): number | null {
  const after = figures?.legs[index]?.profile.elevationM[0];
  if (after !== undefined && Number.isFinite(after)) return after;
  const before = figures?.legs[index - 1]?.profile.elevationM.at(-1);
  return before !== undefined && Number.isFinite(before) ? before : null;
}
