/** What the map case says of a map, in sentences. */
import { declinationAt } from "../../core/geodesy/declination.ts";
import { inverse } from "../../core/geodesy/geodesic.ts";
import {
  formatDay,
  formatLengthIn,
  formatQuantity,
  isMetric,
  type LengthUnit,
} from "../../core/units/format.ts";
import type { Bbox, LonLat } from "../../core/units/position.ts";
import type { MapEntry, ShownNotation } from "../../electron/contract.ts";
import type { GridChoice } from "../find/known-grids.ts";
import { textOrReason } from "../find/position-texts.ts";
import { mapWords } from "../words/map-words.ts";

export interface Wording {
  readonly notation: ShownNotation;
  readonly grids: GridChoice;
  readonly unit: LengthUnit;
  /** YYYY-MM-DD */
  readonly today: string;
}

/** Corners to a hundred metres, and how far it is across and down. */
export function placeText([west, south, east, north]: Bbox, { notation, grids, unit }: Wording): string {
  const corner = (at: LonLat): string => textOrReason(at, notation, grids, 100);
  const middle = (south + north) / 2;
  const across = inverse([west, middle], [east, middle]).distanceM;
  const down = inverse([west, south], [west, north]).distanceM;
  const name = isMetric(unit) ? "km" : "mi";
  const side = (metres: number): string =>
    formatLengthIn(metres, name, metres < (name === "km" ? 10_000 : 16_093) ? 1 : 0);
  return mapWords.between(corner([west, south]), corner([east, north]), `${side(across)} × ${side(down)}`);
}

/** "data of 2014, 12 years old"; of a year alone only its years are told. */
export function ageText({ date, fileDay }: MapEntry, today: string): string | null {
  const day = date ?? fileDay;
  if (day === null || !/^\d{4}/.test(day)) return null;
  const [year = 0, month = 1] = day.split("-").map(Number);
  const [nowYear = 0, nowMonth = 1] = today.split("-").map(Number);
  const months = (nowYear - year) * 12 + (/^\d{4}-\d\d/.test(day) ? nowMonth - month : 0);
  const age = mapWords.age(Math.floor(months / 12), months);
  return date === null ? mapWords.written(formatDay(day), age) : mapWords.data(formatDay(date), age);
}

/** Whether declination can be worked out in the middle of a map today. */
export function modelText(
  [west, south, east, north]: Bbox,
  today: string,
): {
  readonly text: string;
  readonly warns: boolean;
} {
  try {
    const { model, zone } = declinationAt([(west + east) / 2, (south + north) / 2], 0, today);
    if (zone !== "ok") return { text: mapWords.model[zone](model), warns: true };
    // Each model covers the five years from its own. Source: NOAA/NCEI, World Magnetic Model.
    const last = Number(/\d{4}/.exec(model)?.[0]) + 4;
    return { text: mapWords.model.ok(model, String(last)), warns: false };
  } catch {
    return { text: mapWords.model.none, warns: true };
  }
}

export const sizeText = (bytes: number): string =>
  bytes < 1e5 ? formatQuantity(Math.ceil(bytes / 1e3), "kB") : formatQuantity(bytes / 1e6, "MB", 1);
