/**
 * References of Great Britain's National Grid with its two letters.
 * Source: Ordnance Survey, A Guide to Coordinate Systems in Great Britain: squares of 500 km and of 100 km, each
 * lettered A to Z without I from the north-west, row by row; digits are cut off.
 */
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";
import { britishGrid, fromGrid, type Grid } from "./grid.ts";
import type { EastNorth } from "./projection.ts";

const LETTERS = "ABCDEFGHJKLMNOPQRSTUVWXYZ";
const SQUARE_M = 100_000;
/** The grid's origin lies in the square S, 1000 km east and 500 km north of the lettering's south-west corner. */
const ORIGIN = { east: 10, north: 5 } as const;
const EAST_SQUARES = 7;
const NORTH_SQUARES = 13;

let grid: Grid | null = null;

/**
 * The reference of the square a place of the grid lies in: "TG 5140 1317".
 * @param precisionM side of the square, metres: a power of ten up to 100 km
 * @throws Fault "out-of-range" off the grid (0 to 700 km east, 0 to 1300 km north), "bad-argument" for a precision
 *   that is not one
 */
export function formatBritish([eastingM, northingM]: EastNorth, precisionM = 1): string {
  const digits = 5 - Math.log10(precisionM);
  if (!Number.isInteger(digits) || digits < 0 || digits > 5)
    throw new Fault(
      "bad-argument",
      `A grid reference has no precision of ${precisionM} m.`,
      null,
      "Use 1, 10, 100, 1000, 10000 or 100000.",
    );
  const column = Math.floor(eastingM / SQUARE_M);
  const row = Math.floor(northingM / SQUARE_M);
  if (!(column >= 0 && column < EAST_SQUARES && row >= 0 && row < NORTH_SQUARES))
    throw new Fault("out-of-range", "The place lies off the British grid.", `${eastingM}, ${northingM}`);
  const [e, n] = [column + ORIGIN.east, row + ORIGIN.north];
  const letter = (east: number, north: number): string => LETTERS.charAt((4 - north) * 5 + east);
  const square = letter(Math.floor(e / 5), Math.floor(n / 5)) + letter(e % 5, n % 5);
  const cut = (m: number): string =>
    String(Math.floor(m % SQUARE_M))
      .padStart(5, "0")
      .slice(0, digits);
  return [square, cut(eastingM), cut(northingM)].filter(Boolean).join(" ");
}

export interface ParsedBritish {
  /** Centre of the square, WGS 84, within the datum's stated 3.5 m. */
  readonly lonLat: LonLat;
  /** Centre of the square in the grid, metres. */
  readonly eastNorth: EastNorth;
  readonly precisionM: number;
}

/**
 * Reads "TG 5140 1317", "TG51401317". Not part of `parsePosition`: two letters and figures are an MGRS reference there.
 * @throws Fault "bad-argument" with the reason
 */
export function parseBritish(text: string): ParsedBritish {
  const form = /^([A-Z])([A-Z]) ?(\d*) ?(\d*)$/.exec(text.replace(/\s+/g, " ").trim().toUpperCase());
  const fault = (what: string): Fault =>
    new Fault("bad-argument", what, `“${text}”`, "Write two letters and figures, such as TG 514 131.");
  if (!form) throw fault("This is not a reference of the British grid.");
  const [, first = "", second = "", one = "", two = ""] = form;
  if (two !== "" && one.length !== two.length)
    throw fault(`The easting has ${one.length} figures and the northing ${two.length}.`);
  const figures = one + two;
  if (figures.length % 2 === 1)
    throw fault(`${figures.length} figures cannot be halved into easting and northing.`);
  if (figures.length > 10) throw fault("The reference has figures below a metre.");
  const [a, b] = [LETTERS.indexOf(first), LETTERS.indexOf(second)];
  if (a < 0 || b < 0) throw fault("The British grid does not use the letter I.");
  const column = (a % 5) * 5 + (b % 5) - ORIGIN.east;
  const row = (4 - Math.floor(a / 5)) * 5 + 4 - Math.floor(b / 5) - ORIGIN.north;
  if (column < 0 || column >= EAST_SQUARES || row < 0 || row >= NORTH_SQUARES)
    throw fault(`There is no square ${first}${second} on the British grid.`);
  const half = figures.length / 2;
  const precisionM = SQUARE_M / 10 ** half;
  const centre = (square: number, digits: string): number =>
    square * SQUARE_M + (Number(digits || "0") + 0.5) * precisionM;
  const eastNorth: EastNorth = [centre(column, figures.slice(0, half)), centre(row, figures.slice(half))];
  grid ??= britishGrid();
  return { lonLat: fromGrid(grid, eastNorth), eastNorth, precisionM };
}
