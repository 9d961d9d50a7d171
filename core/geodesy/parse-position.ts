/** One reader for whatever a person types or pastes where a position is asked for. */
import { Fault } from "../fault.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import type { PositionNotation } from "./format-position.ts";
import { parseLatLon } from "./parse-lat-lon.ts";
import { isMgrs, isMgrsFigures, parseMgrs } from "./parse-mgrs.ts";
import { isUtm, parseUtm } from "./parse-utm.ts";
import { tidyPosition, unreadable } from "./position-text.ts";

export interface ParsedPosition {
  readonly lonLat: LonLat;
  readonly notation: PositionNotation;
  /** MGRS only: side of the square named, metres; `lonLat` is its centre. */
  readonly precisionM: number | null;
  /** MGRS only: the whole reference, with what `near` supplied. */
  readonly reference: string | null;
}

/**
 * Reads latitude and longitude (decimal degrees, minutes or seconds; letters or signs; primes, colons or spaces;
 * decimal points or, where they are plain, commas), UTM and UPS, MGRS and USNG whole or in part.
 * @param near a place on the map in use: completes a reference without zone or square; null when there is none
 * @throws Fault "bad-argument" with the reason when the text is wrong or can be read in two ways, "out-of-range"
 *   for grid coordinates no place has
 */
export function parsePosition(text: string, near: LonLat | null = null): ParsedPosition {
  if (near) checkLonLat(near);
  const tidy = tidyPosition(text);
  if (tidy === "")
    throw new Fault(
      "bad-argument",
      "There is nothing to read.",
      null,
      "Write a position such as 47.3769 N 8.5417 E.",
    );
  if (isMgrs(tidy)) return { ...parseMgrs(tidy, near), notation: "mgrs" };
  if (isUtm(tidy))
    return { lonLat: parseUtm(tidy, near), notation: "utm", precisionM: null, reference: null };
  if (isMgrsFigures(tidy)) {
    const [one = "", two] = tidy.split(" ");
    const equal = two === undefined || one.length === two.length;
    const degrees =
      two !== undefined && one.length < 4 && two.length < 4 && (!equal || couldBeDegrees(one, two));
    // "12 34" on a map with a grid: both readings are usual.
    if (degrees && equal && near)
      throw unreadable(
        "These may be latitude and longitude or a grid reference.",
        tidy,
        "Write a comma between latitude and longitude, or the square's letters before a reference.",
      );
    if (!degrees) return { ...parseMgrs(tidy, near), notation: "mgrs" };
  }
  return { ...parseLatLon(tidy), precisionM: null, reference: null };
}

const couldBeDegrees = (lat: string, lon: string): boolean => Number(lat) <= 90 && Number(lon) <= 180;
