/** Reads a typed position: any notation, the British grid, easting and northing in a grid the person chose. */
import { Fault } from "../../core/fault.ts";
import { parseBritish } from "../../core/geodesy/british-reference.ts";
import { fromGrid } from "../../core/geodesy/grid.ts";
import { spaceMgrs } from "../../core/geodesy/mgrs.ts";
import { inOfferedArea, OFFERED_GRIDS } from "../../core/geodesy/offered-grids.ts";
import { parsePosition } from "../../core/geodesy/parse-position.ts";
import { checkLonLat, type LonLat } from "../../core/units/position.ts";
import type { ShownNotation } from "../../electron/contract.ts";
import { findWords } from "../words/find-words.ts";
import { type GridChoice, type KnownGrid, knownGrid } from "./known-grids.ts";

export interface ReadTyped {
  readonly lonLat: LonLat;
  readonly notation: ShownNotation;
  /** How it was read, in words. */
  readonly readAs: string;
  /** Side of the square a reference names, metres, the position being its middle; null in other notations. */
  readonly precisionM: number | null;
}

export interface Reading extends GridChoice {
  /** Middle of the map: completes a reference without its zone or square. */
  readonly near: LonLat | null;
  /** The notation chosen: how bare figures are meant. */
  readonly notation: ShownNotation;
}

const PAIR =
  /^(?:e\s*)?([+-]?\d+(?:\.\d+)?)\s*(?:m?e)?(?:\s*[,;]\s*|\s+)(?:n\s*)?([+-]?\d+(?:\.\d+)?)\s*(?:m?n)?$/i;
const BRITISH_WORD = /^(?:british|osgb(?:36)?|gb)\b\s*:?\s*/i;
const LETTERED = /^[A-HJ-Z]{2}\s*\d[\d\s]*$/i;

/** @throws Fault "bad-argument", "out-of-range" with the reason */
export function readTyped(text: string, reading: Reading): ReadTyped {
  const typed = text.trim();
  if (BRITISH_WORD.test(typed)) return british(typed.replace(BRITISH_WORD, ""));
  const [named, rest] = gridSaid(typed, reading);
  if (named) return inGrid(rest, named, reading.near);
  if (LETTERED.test(typed) && lettersAreBritish(typed, reading)) return british(typed);
  // Bare figures with thousands of metres in them are meant in the grid that is chosen.
  const pair = PAIR.exec(typed);
  if (reading.notation === "grid" && reading.gridName !== null && pair && isEastNorth(pair)) {
    const grid = knownGrid(reading.gridName, reading.grids);
    if (grid) return inGrid(typed, grid, reading.near);
  }
  const { lonLat, notation, precisionM, reference } = parsePosition(typed, reading.near);
  return {
    lonLat,
    notation,
    precisionM,
    readAs: reference
      ? findWords.readAs.square(spaceMgrs(reference), findWords.side(precisionM ?? 1))
      : findWords.readAs[notation as "dd" | "dm" | "dms" | "utm"],
  };
}

const isEastNorth = ([, east = "", north = ""]: RegExpExecArray): boolean =>
  [east, north].every((figure) => Math.abs(Number(figure)) >= 1000);

function british(text: string): ReadTyped {
  const { lonLat, precisionM } = parseBritish(text);
  return {
    lonLat,
    notation: "british",
    precisionM,
    readAs: findWords.readAs.british(text.trim().toUpperCase(), findWords.side(precisionM)),
  };
}

/**
 * Two letters and figures may be a British reference or an MGRS one without its zone.
 * @throws Fault "bad-argument" when both are there to be meant
 */
function lettersAreBritish(text: string, { near, notation }: Reading): boolean {
  const asBritish = attempt(() => parseBritish(text).lonLat);
  if (notation === "british") return asBritish !== null;
  if (!asBritish || (near && !inOfferedArea("british", near))) return false;
  if (near && attempt(() => parsePosition(text, near)) === null) return true;
  throw new Fault("bad-argument", findWords.britishOrMgrs, `“${text}”`, findWords.sayWhich);
}

function attempt<T>(read: () => T): T | null {
  try {
    return read();
  } catch {
    return null;
  }
}

/** "my grid: 465403 5247151": the grid named before a colon, and what follows. */
function gridSaid(text: string, { grids }: GridChoice): readonly [KnownGrid | null, string] {
  const colon = text.indexOf(":");
  const name = colon > 0 ? text.slice(0, colon).trim().toLowerCase() : "";
  const known = [...OFFERED_GRIDS, ...grids.map((grid) => grid.name)].find(
    (one) => one.toLowerCase() === name,
  );
  return [known === undefined ? null : knownGrid(known, grids), text.slice(colon + 1)];
}

function inGrid(text: string, named: KnownGrid, near: LonLat | null): ReadTyped {
  const pair = PAIR.exec(text.trim());
  if (!pair)
    throw new Fault("bad-argument", findWords.notEastNorth, `“${text.trim()}”`, findWords.twoFigures);
  const grid = named.at(near);
  const { unitM } = grid.projection;
  const lonLat = fromGrid(grid, [Number(pair[1]) * unitM, Number(pair[2]) * unitM]);
  return {
    lonLat: checkLonLat(lonLat),
    notation: "grid",
    precisionM: null,
    readAs: findWords.readAs.grid(grid.title),
  };
}
