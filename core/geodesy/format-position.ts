/**
 * Positions as text. Whatever is written here `parsePosition` reads back to the same place, within the rounding.
 */
import { Fault } from "../fault.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import { formatMgrs, type MgrsPrecision, spaceMgrs } from "./mgrs.ts";
import { toUtm } from "./utm.ts";

/**
 * "dd" degrees with decimals, "dm" degrees and minutes with decimals, "dms" degrees, minutes and seconds, "utm" (UPS
 * at the poles), "mgrs" (the United States National Grid is written the same).
 */
export type PositionNotation = "dd" | "dm" | "dms" | "utm" | "mgrs";

/** Decimals that hold a position to a metre or two: of a degree, a minute, a second, a metre; MGRS cuts at its square. */
export const DEFAULT_DECIMALS: Readonly<Record<Exclude<PositionNotation, "mgrs">, number>> = {
  dd: 5,
  dm: 3,
  dms: 1,
  utm: 0,
};

const NBSP = "\u00a0";

/**
 * A position as text:
 * - dd "47.37690° N 8.54170° E"
 * - dm "47° 22.614′ N 8° 32.502′ E"
 * - dms "47° 22′ 36.8″ N 8° 32′ 30.1″ E"
 * - utm "32 north 465403 5247151": the hemisphere as a word, since "32S" may mean the band S in the north as well
 * - mgrs "32T MT 65403 47150"
 *
 * Inside latitude and longitude the spaces do not break; between them and in grid references they do.
 * @param decimals figures after the point, 0 to 9; with "mgrs" the side of the square in metres
 * @throws Fault "bad-argument" for a position that is none or decimals outside 0–9
 */
export function formatPosition(lonLat: LonLat, notation: "mgrs", precisionM?: MgrsPrecision): string;
export function formatPosition(lonLat: LonLat, notation: PositionNotation, decimals?: number): string;
export function formatPosition(lonLat: LonLat, notation: PositionNotation, decimals?: number): string {
  checkLonLat(lonLat);
  if (notation === "mgrs") return spaceMgrs(formatMgrs(lonLat, decimals as MgrsPrecision | undefined));
  const figures = decimals ?? DEFAULT_DECIMALS[notation];
  if (!Number.isInteger(figures) || figures < 0 || figures > 9)
    throw new Fault("bad-argument", `A position has 0 to 9 decimals, not ${figures}.`);
  if (notation === "utm") return utmText(lonLat, figures);
  const [lon, lat] = lonLat;
  const parts = { dd: 1, dm: 2, dms: 3 }[notation] as 1 | 2 | 3;
  return [angleText(lat, "N", "S", parts, figures), angleText(lon, "E", "W", parts, figures)].join(" ");
}

function utmText(lonLat: LonLat, decimals: number): string {
  const { zone, hemisphere, eastingM, northingM } = toUtm(lonLat);
  const side = hemisphere === "N" ? "north" : "south";
  return `${zone === 0 ? "UPS" : zone} ${side} ${eastingM.toFixed(decimals)} ${northingM.toFixed(decimals)}`;
}

function angleText(degrees: number, plus: string, minus: string, parts: 1 | 2 | 3, decimals: number): string {
  // Rounded once, in units of the last figure: 59.9996′ carries into the next degree instead of showing 60.000′.
  const perDegree = 60 ** (parts - 1);
  const [whole = "0", fraction = ""] = (Math.abs(degrees) * perDegree).toFixed(decimals).split(".");
  const tail = fraction ? `.${fraction}` : "";
  const units = Number(whole);
  const rest = (n: number): string => String(n).padStart(2, "0");
  const texts =
    parts === 1
      ? [`${units}${tail}°`]
      : parts === 2
        ? [`${Math.floor(units / 60)}°`, `${rest(units % 60)}${tail}′`]
        : [
            `${Math.floor(units / 3600)}°`,
            `${rest(Math.floor(units / 60) % 60)}′`,
            `${rest(units % 60)}${tail}″`,
          ];
  // What is shown as nought is written north and east, whatever side it rounded from.
  return [...texts, degrees < 0 && Number(whole + tail) !== 0 ? minus : plus].join(NBSP);
}
