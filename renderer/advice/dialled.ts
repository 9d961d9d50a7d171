/** A true bearing near a leg as it is dialled on the person's compass. */
import { dialledNorth, formatOn, type North } from "../../core/legs/norths/bearing-to-set.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { normalise360 } from "../../core/units/angle.ts";
import { settings } from "../app/settings.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";

/** From true to the north that is dialled; null where its difference is not known. */
export function onNorth(
  trueDeg: number,
  north: North,
  { declinationDeg, gridConvergenceDeg }: Pick<LegFigures, "declinationDeg" | "gridConvergenceDeg">,
): number | null {
  const less = { true: 0, magnetic: declinationDeg, grid: gridConvergenceDeg }[north];
  return less === null ? null : normalise360(trueDeg - less);
}

/** "51° magnetic": what to dial, with its north. */
export function dialled(
  trueDeg: number,
  leg: Pick<LegFigures, "declinationDeg" | "gridConvergenceDeg">,
): string {
  const { compass } = settings.value;
  const north = dialledNorth(compass, walk.value.north);
  return `${formatOn(compass, onNorth(trueDeg, north, leg))} ${words.north[north]}`;
}
