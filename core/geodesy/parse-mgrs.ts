/**
 * MGRS and United States National Grid references, whole or in part. A reference names a square; the position it
 * is read as is the square's centre.
 */
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";
import { inverse } from "./geodesic.ts";
import { formatMgrs, SQUARE_M } from "./mgrs.ts";
import { columnsOf, inSquare, rowOffset, type Square, upsSquare, utmSquare } from "./mgrs-square.ts";
import { quoted, unreadable } from "./position-text.ts";
import { bandOf, BANDS, utmZoneOf } from "./utm-zone.ts";

export interface ParsedMgrs {
  /** Centre of the square. */
  readonly lonLat: LonLat;
  /** Side of the square, metres. */
  readonly precisionM: number;
  /** The whole reference without spaces, what was left out filled in. */
  readonly reference: string;
}

const UTM_FORM = /^(\d+) ?([A-Z]) ?([A-Z]) ?([A-Z])([\d ]*)$/;
const UPS_FORM = /^([ABYZ]) ?([A-Z]) ?([A-Z])([\d ]*)$/;
const SQUARE_FORM = /^([A-Z]) ?([A-Z])((?: ?\d)+)$/;
const FIGURES_FORM = /^\d+ \d+$|^\d{4,}$/;

/** How far from the reference place a square without its zone may lie, metres: the next of that name is 1000 km off at least. */
const NEAR_M = 300_000;

const upper = (text: string): string =>
  text
    .toUpperCase()
    .replace(/^(?:MGRS|USNG)\b ?[:=]? ?/, "")
    .replace(/ ?[,;] ?| +/g, " ")
    .trim();

/** Whether text is meant as a grid reference with at least its two letters; figures alone are `isMgrsFigures`. */
export const isMgrs = (text: string): boolean =>
  [UTM_FORM, UPS_FORM, SQUARE_FORM].some((form) => form.test(upper(text)));

/** Whether text has the form of a reference without letters: two groups of figures, or one of four or more. */
export const isMgrsFigures = (text: string): boolean => FIGURES_FORM.test(text);

/**
 * @param text a reference after `tidyPosition`
 * @param near where the map is: completes a reference without zone (the nearest square of that name) or without
 *   any letters (the very square `near` lies in)
 * @throws Fault "bad-argument" with the reason
 */
export function parseMgrs(text: string, near: LonLat | null): ParsedMgrs {
  const typed = upper(text);
  const utm = UTM_FORM.exec(typed);
  if (utm) {
    const [, zone = "", band = "", column = "", row = "", figures = ""] = utm;
    return cell(
      wholeSquare(Number(zone), band, column, row, text),
      `${zone.padStart(2, "0")}${band}${column}${row}`,
      figures,
      text,
    );
  }
  const ups = UPS_FORM.exec(typed);
  if (ups) {
    const [, area = "A", column = "", row = "", figures = ""] = ups;
    return cell(
      known(upsSquare(area as "A" | "B" | "Y" | "Z", column, row), text),
      area + column + row,
      figures,
      text,
    );
  }
  const square = SQUARE_FORM.exec(typed);
  if (square) {
    const [, column = "", row = "", figures = ""] = square;
    return nearestSquare(column, row, figures, text, near);
  }
  if (!near)
    throw unreadable(
      "The figures alone do not say which grid square they are in.",
      text,
      "Write the zone and the square before them, such as 32T MT.",
    );
  return parseMgrs(`${formatMgrs(near, SQUARE_M)} ${typed}`, null);
}

function known(square: Square | string, text: string): Square {
  if (typeof square === "string") throw new Fault("bad-argument", square, quoted(text), "Check the letters.");
  return square;
}

function wholeSquare(zone: number, band: string, column: string, row: string, text: string): Square {
  if (zone < 1 || zone > 60)
    throw unreadable(
      `UTM zone ${zone} does not exist: zones run from 1 to 60.`,
      text,
      "Check the figures before the first letter.",
    );
  if ([band, column, row].some((letter) => "IO".includes(letter)))
    throw unreadable("Grid references do not use the letters I and O.", text, "Check for 1 and 0.");
  if (!BANDS.includes(band))
    throw unreadable(
      `There is no band ${band}: bands run from C to X without I and O.`,
      text,
      "Check the first letter.",
    );
  return known(utmSquare(zone, band, column, row), text);
}

/** The square's cell that the figures name. */
function cell(square: Square, letters: string, figures: string, text: string): ParsedMgrs {
  const [east, north] = halves(figures, text);
  const precisionM = SQUARE_M / 10 ** east.length;
  const at = (digits: string): number => (Number(digits || "0") + 0.5) * precisionM;
  return { lonLat: inSquare(square, at(east), at(north)), precisionM, reference: letters + east + north };
}

function halves(figures: string, text: string): readonly [east: string, north: string] {
  const groups = figures.split(" ").filter(Boolean);
  const [one = "", two] = groups;
  if (groups.length > 2)
    throw unreadable("The figures are in more than two groups.", text, "Write easting and northing.");
  if (two !== undefined && one.length !== two.length)
    throw unreadable(
      `The easting has ${one.length} figures and the northing ${two.length}: they need the same number.`,
      text,
      "Write noughts in front where they are missing.",
    );
  const all = one + (two ?? "");
  if (all.length % 2 === 1)
    throw unreadable(
      `${all.length} figures cannot be halved into easting and northing.`,
      text,
      "Write as many figures for the one as for the other.",
    );
  if (all.length > 16)
    throw unreadable("The reference has figures below a millimetre.", text, "Ten figures name a metre.");
  return [all.slice(0, all.length / 2), all.slice(all.length / 2)];
}

/** The square of that name nearest to the reference place: its own zone or one beside it. */
function nearestSquare(
  column: string,
  row: string,
  figures: string,
  text: string,
  near: LonLat | null,
): ParsedMgrs {
  if (!near)
    throw unreadable(
      `The zone of square ${column}${row} is missing.`,
      text,
      "Write it before the square, such as 32T.",
    );
  const own = utmZoneOf(near);
  if (own === 0)
    return parseMgrs(`${formatMgrs(near, SQUARE_M).charAt(0)} ${column}${row} ${figures.trim()}`, null);
  let best: ParsedMgrs | null = null;
  let bestM = NEAR_M;
  for (const zone of [own - 1, own, own + 1].map((z) => ((z + 59) % 60) + 1)) {
    const columnIndex = columnsOf(zone).indexOf(column);
    const offset = rowOffset(zone, row);
    if (columnIndex < 0 || offset < 0) continue;
    for (const hemisphere of ["N", "S"] as const)
      for (let northingM = offset; northingM < 10_000_000; northingM += 2_000_000) {
        if (hemisphere === "N" ? northingM > 9_400_000 : northingM < 1_100_000) continue;
        const square: Square = { zone, hemisphere, eastingM: (columnIndex + 1) * SQUARE_M, northingM };
        const middle = inSquare(square, SQUARE_M / 2, SQUARE_M / 2);
        if (middle[1] < 0 !== (hemisphere === "S") || Math.abs(middle[1] - near[1]) > 5) continue;
        const found = cell(
          square,
          `${String(zone).padStart(2, "0")}${bandOf(middle[1])}${column}${row}`,
          figures,
          text,
        );
        const distanceM = inverse(near, found.lonLat).distanceM;
        if (distanceM < bestM) [best, bestM] = [found, distanceM];
      }
  }
  if (!best)
    throw unreadable(
      `There is no square ${column}${row} within 300 km of the map.`,
      text,
      "Write the zone before it, such as 32T.",
    );
  // The cell's own latitude gives its band, which may differ from that of the square's middle.
  const [, lat] = best.lonLat;
  return { ...best, reference: best.reference.slice(0, 2) + bandOf(lat) + best.reference.slice(3) };
}
