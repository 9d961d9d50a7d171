/** Figures as sums give them: enough to see the working, no more than the ruler bears. */
import { formatQuantity, formatUpTo } from "../../core/units/format.ts";
import { fromMetres, type LengthUnitName } from "../../core/units/length.ts";

/** Four figures that count, without noughts at the end: "41.67", "2000", "0.6336". */
export function figure(value: number): string {
  if (value === 0) return "0";
  const decimals = Math.max(0, Math.min(6, 3 - Math.floor(Math.log10(Math.abs(value)))));
  return formatUpTo(value, decimals);
}

export const lengthIn = (metres: number, unit: LengthUnitName): string =>
  `${figure(fromMetres(metres, unit))}\u00a0${unit}`;

/** "925 m", "3.425 km". */
export const metric = (metres: number): string => lengthIn(metres, metres < 1000 ? "m" : "km");

/** "3035 ft", "2.13 mi". */
export const imperial = (metres: number): string => lengthIn(metres, metres < 1609.344 ? "ft" : "mi");

/** "137 mm", "5.394 in": lengths of a ruler. */
export const onRuler = (metres: number, unit: "mm" | "in"): string =>
  unit === "mm"
    ? `${formatUpTo(fromMetres(metres, unit), 1)}\u00a0${unit}`
    : formatQuantity(fromMetres(metres, unit), unit, 2);
