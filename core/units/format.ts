/**
 * Figures as a person reads them, on screen and on paper alike.
 * A figure and its unit are held together by a no-break space; an absent figure is an en dash; minus is U+2212.
 * Bearings are written without leading zeros ("51°") unless three figures are asked for ("051°").
 * Decimal sign, thousands and days are those of the style in force (figure-style.ts).
 * For spreadsheets see `csvNumber`: bare figures, ASCII only, absent means empty.
 */
import { normalise360 } from "./angle.ts";
import { figureStyle } from "./figure-style.ts";
import { fromMetres, type LengthUnitName, METRES } from "./length.ts";

export const ABSENT = "–";
const NBSP = "\u00a0";

export type LengthSystem = "metric" | "imperial";
/**
 * How lengths are written: "metric" in metres and kilometres, "imperial" in feet and miles, heights in metres or feet;
 * "metric:ch" the same with all distances in the one unit named.
 */
export type LengthUnit = LengthSystem | `${LengthSystem}:${LengthUnitName}`;

export const isMetric = (unit: LengthUnit): boolean => unit.startsWith("metric");
/** The one unit of all distances; null when it goes by the length. */
export const oneUnitOf = (unit: LengthUnit): LengthUnitName | null =>
  (unit.split(":")[1] as LengthUnitName | undefined) ?? null;
/** A figure that may be absent. */
export type Figure = number | null | undefined;

/** The international foot and mile, metres. */
export const FOOT_M = METRES.ft;
export const MILE_M = METRES.mi;

const present = (value: Figure): value is number =>
  value !== null && value !== undefined && Number.isFinite(value);

/** A number with a fixed count of decimals; "−0" is written "0". */
export function formatNumber(value: Figure, decimals = 0): string {
  if (!present(value)) return ABSENT;
  const plain = Math.abs(value).toFixed(decimals);
  return (value < 0 && Number(plain) !== 0 ? "−" : "") + figureStyle().number(plain);
}

/** A number with no more decimals than it needs: "41.7", "2000". */
export function formatUpTo(value: Figure, mostDecimals: number): string {
  if (!present(value)) return ABSENT;
  const part = value.toFixed(mostDecimals).split(".")[1]?.replace(/0+$/, "") ?? "";
  return formatNumber(value, part.length);
}

/** A figure as it would be typed into a field, to be read again: no thousands, no more decimals than it needs. */
export const typedNumber = (value: number, mostDecimals = 3): string =>
  String(Number(value.toFixed(mostDecimals))).replace(".", figureStyle().decimal);

/** A day, from YYYY-MM-DD. */
export const formatDay = (iso: string): string => figureStyle().day(iso);

/** A number with a unit, or the dash alone. */
export function formatQuantity(value: Figure, unit: string, decimals = 0): string {
  return present(value) ? formatNumber(value, decimals) + NBSP + unit : ABSENT;
}

/** A map or slope distance: "870 m", "1.25 km", "12.3 km"; "640 ft", "1.25 mi". */
export function formatLength(metres: Figure, unit: LengthUnit = "metric"): string {
  if (!present(metres)) return ABSENT;
  const one = oneUnitOf(unit);
  if (one) return formatLengthIn(metres, one);
  const [small, smallName, large, largeName] = isMetric(unit)
    ? [1, "m", 1000, "km"]
    : [FOOT_M, "ft", MILE_M, "mi"];
  // Decided by the rounded figure, so that 999.6 m becomes 1.00 km and not 1000 m.
  if (Math.round(Math.abs(metres) / small) < 1000) return formatQuantity(metres / small, smallName);
  const far = metres / large;
  return formatQuantity(far, largeName, Math.abs(far) < 9.995 ? 2 : 1);
}

/** Decimals that leave no unit coarser than about ten metres. */
const decimalsIn = (unit: LengthUnitName): number => (METRES[unit] > 100 ? 2 : METRES[unit] > 10 ? 1 : 0);

/** A length in one named unit, such as chains or yards: "12.4 ch". */
export function formatLengthIn(metres: Figure, unit: LengthUnitName, decimals = decimalsIn(unit)): string {
  return formatQuantity(present(metres) ? fromMetres(metres, unit) : null, unit, decimals);
}

/** A height, a climb or any other vertical measure: never in km or miles. */
export function formatHeight(metres: Figure, unit: LengthUnit = "metric"): string {
  return isMetric(unit)
    ? formatQuantity(metres, "m")
    : formatQuantity(present(metres) ? metres / FOOT_M : null, "ft");
}

export interface BearingFormat {
  /** Mark spacing of the compass, degrees: the bearing is rounded to it. */
  readonly graduationDeg?: number;
  readonly threeFigures?: boolean;
}

/** A bearing from 0 up to, but never showing, 360: "51°", with three figures "051°". */
export function formatBearing(
  degrees: Figure,
  { graduationDeg = 1, threeFigures = false }: BearingFormat = {},
): string {
  if (!present(degrees)) return ABSENT;
  const rounded = normalise360(Math.round(normalise360(degrees) / graduationDeg) * graduationDeg);
  const decimals = Math.min(2, decimalsOf(graduationDeg));
  const text = rounded.toFixed(decimals);
  // A graduation finer than the figures shown may round up to 360 in the last of them.
  const shown = Number(text) >= 360 ? (0).toFixed(decimals) : text;
  const figures = threeFigures ? shown.padStart(decimals ? 4 + decimals : 3, "0") : shown;
  return `${figures.replace(".", figureStyle().decimal)}°`;
}

function decimalsOf(step: number): number {
  for (let d = 0; d < 4; d++) if (Math.abs(step * 10 ** d - Math.round(step * 10 ** d)) < 1e-9) return d;
  return 4;
}

/** An angle that may be negative, such as a slope: "12°", "−3.4°". */
export function formatAngle(degrees: Figure, decimals = 0): string {
  return present(degrees) ? `${formatNumber(degrees, decimals)}°` : ABSENT;
}

/** An angle to east or west, such as declination or convergence: "3.4° E", "0.0°". */
export function formatEastWest(degrees: Figure, decimals = 1): string {
  if (!present(degrees)) return ABSENT;
  const size = Math.abs(degrees).toFixed(decimals);
  const shown = figureStyle().number(size);
  return Number(size) === 0 ? `${shown}°` : `${shown}°${NBSP}${degrees > 0 ? "E" : "W"}`;
}

/** A duration rounded to the minute: "35 min", "1 h 05 min". */
export function formatDuration(seconds: Figure): string {
  if (!present(seconds)) return ABSENT;
  const minutes = Math.round(Math.abs(seconds) / 60);
  const sign = seconds < 0 && minutes > 0 ? "−" : "";
  const [h, min] = [Math.floor(minutes / 60), minutes % 60];
  return h === 0
    ? `${sign}${min}${NBSP}min`
    : `${sign}${h}${NBSP}h${NBSP}${String(min).padStart(2, "0")}${NBSP}min`;
}

/** A time of day by its seconds after midnight, rounded down to the minute: "07:05"; the next day "01:10 +1". */
export function formatClock(secondsOfDay: Figure): string {
  if (!present(secondsOfDay)) return ABSENT;
  const minutes = Math.floor(secondsOfDay / 60);
  const days = Math.floor(minutes / 1440);
  const two = (n: number): string => String(n).padStart(2, "0");
  const within = minutes - days * 1440;
  const clock = `${two(Math.floor(within / 60))}:${two(within % 60)}`;
  return days === 0 ? clock : `${clock}${NBSP}${days > 0 ? "+" : "−"}${Math.abs(days)}`;
}

/** A share of 1 in percent: "87 %". */
export function formatShare(share: Figure, decimals = 0): string {
  return formatQuantity(present(share) ? share * 100 : null, "%", decimals);
}

/** A bare figure for a spreadsheet cell: decimal point, no thousands, ASCII minus, empty when absent. */
export function csvNumber(value: Figure, decimals = 0): string {
  if (!present(value)) return "";
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text;
}
