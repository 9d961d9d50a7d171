/** A bar of a round length, with the paces it takes. */
import { pacesFor } from "../../core/travel/paces.ts";
import {
  FOOT_M,
  formatNumber,
  formatQuantity,
  isMetric,
  type LengthUnit,
  MILE_M,
} from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";
import { scaleLength } from "./scale-length.ts";
import { metresPerPixel } from "./view-state.ts";

const WIDEST_PX = 150;

/** A round length without the decimals that measured ones have: "2 km". */
export function roundLength(metres: number, unit: LengthUnit): string {
  const [small, smallName, large, largeName] = isMetric(unit)
    ? ([1, "m", 1000, "km"] as const)
    : ([FOOT_M, "ft", MILE_M, "mi"] as const);
  return metres >= large * 0.999
    ? formatQuantity(metres / large, largeName)
    : formatQuantity(metres / small, smallName);
}

export function ScaleBar() {
  const { per100m, steps } = walk.value.pace;
  const length = scaleLength(WIDEST_PX * metresPerPixel.value, lengthUnit.value);
  return (
    <p class="scale-bar">
      <span class="scale-line" style={{ width: `${length / metresPerPixel.value}px` }} />
      {words.map.scale(
        roundLength(length, lengthUnit.value),
        formatNumber(pacesFor(length, per100m)),
        words.pace(steps),
      )}
    </p>
  );
}
