/** Positions as the command line takes them: in any notation, on the British grid, or as figures in a named grid. */
import { Fault } from "../../core/fault.ts";
import { parseBritish } from "../../core/geodesy/british-reference.ts";
import type { PositionNotation } from "../../core/geodesy/format-position.ts";
import { fromGrid } from "../../core/geodesy/grid.ts";
import { parsePosition } from "../../core/geodesy/parse-position.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { NamedGrid } from "./named-grid.ts";
import type { ReadAs } from "./notations.ts";

export interface ReadPosition {
  readonly input: string;
  readonly lonLat: LonLat;
  readonly notation: PositionNotation | "british" | "grid";
  /** Side of the square a reference names, metres, the position being its middle; null in other notations. */
  readonly precisionM: number | null;
  /** An MGRS reference in full. */
  readonly reference: string | null;
}

export interface Reading {
  readonly from: ReadAs;
  /** Completes a partial reference; null when there is none. */
  readonly near: LonLat | null;
  /** For `from` "grid". */
  readonly grid: NamedGrid | null;
}

/** @throws Fault "bad-argument", "out-of-range" with the reason */
export function readPosition(input: string, { from, near, grid }: Reading): ReadPosition {
  if (from === "british") {
    const { lonLat, precisionM } = parseBritish(input);
    return { input, lonLat, notation: "british", precisionM, reference: null };
  }
  if (from === "grid") {
    if (!grid)
      throw new Fault("bad-argument", "The grid of the figures is missing.", null, "Name it with --grid.");
    return { input, lonLat: inGrid(input, grid, near), notation: "grid", precisionM: null, reference: null };
  }
  if (near === null && couldBeBritish(input))
    throw new Fault(
      "bad-argument",
      "This may be a reference of the British grid or an MGRS reference without its zone.",
      `“${input}”`,
      "Add --from british, or write the zone first, or give a place near it with --near.",
    );
  return { input, ...parsePosition(input, near) };
}

function couldBeBritish(text: string): boolean {
  if (!/^\s*[A-Z]{2}\s*\d/i.test(text)) return false;
  try {
    parseBritish(text);
    return true;
  } catch {
    return false;
  }
}

const FIGURE = String.raw`([+-]?\d+(?:\.\d+)?)`;
const PAIR = new RegExp(String.raw`^${FIGURE}\s*(?:m?E)?(?:\s*[,;]\s*|\s+)${FIGURE}\s*(?:m?N)?$`, "i");

/** Easting and northing in the grid's own unit. */
function inGrid(text: string, named: NamedGrid, near: LonLat | null): LonLat {
  const pair = PAIR.exec(text.trim());
  if (!pair)
    throw new Fault(
      "bad-argument",
      "This is not an easting and a northing.",
      `“${text}”`,
      "Write two figures in the grid's own unit, such as 465403 5247151.",
    );
  const grid = named.at(near);
  const { unitM } = grid.projection;
  return fromGrid(grid, [Number(pair[1]) * unitM, Number(pair[2]) * unitM]);
}
