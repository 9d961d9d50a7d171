/** A position in each notation a person may choose, with the reason where it cannot be written so. */
import { Fault } from "../../core/fault.ts";
import { formatBritish } from "../../core/geodesy/british-reference.ts";
import { DEFAULT_DECIMALS, formatPosition } from "../../core/geodesy/format-position.ts";
import { britishGrid, type Grid, toGrid } from "../../core/geodesy/grid.ts";
import type { MgrsPrecision } from "../../core/geodesy/mgrs.ts";
import { inOfferedArea } from "../../core/geodesy/offered-grids.ts";
import type { LonLat } from "../../core/units/position.ts";
import { SHOWN_NOTATIONS, type ShownNotation } from "../../electron/contract.ts";
import { findWords } from "../words/find-words.ts";
import { type GridChoice, knownGrid } from "./known-grids.ts";

let osgb: Grid | null = null;
const british = (): Grid => (osgb ??= britishGrid());

/**
 * @param precisionM how well the position is known, metres: no more figures are written than that bears
 * @throws Fault "out-of-range" off a grid, "bad-argument" when the grid chosen is gone
 */
export function positionText(
  lonLat: LonLat,
  notation: ShownNotation,
  choice: GridChoice,
  precisionM: number = 1,
): string {
  const coarser = Math.min(5, Math.max(0, Math.round(Math.log10(precisionM))));
  if (notation === "mgrs") return formatPosition(lonLat, "mgrs", (10 ** coarser) as MgrsPrecision);
  if (notation === "british") {
    const { eastingM, northingM } = toGrid(british(), lonLat);
    return formatBritish([eastingM, northingM], 10 ** coarser);
  }
  if (notation === "grid") return gridFigures(gridChosen(choice).at(lonLat), lonLat);
  // Ten metres on the ground cannot be told by a whole second: the decimal stays until a hundred.
  const spare = notation === "dms" || notation === "dm" ? 1 : 0;
  const decimals = DEFAULT_DECIMALS[notation] - Math.max(0, coarser - spare);
  return formatPosition(lonLat, notation, Math.max(0, decimals));
}

/** "465403 5247151" in the grid's own unit. */
function gridFigures(grid: Grid, lonLat: LonLat): string {
  const { eastingM, northingM } = toGrid(grid, lonLat);
  const { unitM } = grid.projection;
  return `${(eastingM / unitM).toFixed(0)} ${(northingM / unitM).toFixed(0)}`;
}

function gridChosen({ grids, gridName }: GridChoice) {
  const grid = gridName === null ? null : knownGrid(gridName, grids);
  if (!grid) throw new Fault("bad-argument", findWords.noGridChosen, null, findWords.chooseGrid);
  return grid;
}

export interface PositionLine {
  readonly notation: ShownNotation;
  readonly label: string;
  readonly text: string;
}

/** The notations that can be chosen at a place: the British grid only where it is used, another grid only when chosen. */
export function notationsAt(
  lonLat: LonLat | null,
  { gridName }: GridChoice,
  now: ShownNotation,
): ShownNotation[] {
  return SHOWN_NOTATIONS.filter((notation) => {
    if (notation === now) return true;
    if (notation === "grid") return gridName !== null;
    return notation !== "british" || (lonLat !== null && inOfferedArea("british", lonLat));
  });
}

/** Every notation there is for a place, one line each. */
export function positionLines(
  lonLat: LonLat,
  choice: GridChoice,
  now: ShownNotation,
  precisionM: number | null,
): PositionLine[] {
  return notationsAt(lonLat, choice, now).map((notation) => ({
    notation,
    label:
      notation === "grid" ? (choice.gridName ?? findWords.notations.grid) : findWords.notations[notation],
    text: textOrReason(lonLat, notation, choice, precisionM ?? 1),
  }));
}

/** As `positionText`, with the reason in place of a text that cannot be had. */
export function textOrReason(
  lonLat: LonLat,
  notation: ShownNotation,
  choice: GridChoice,
  precisionM?: number,
): string {
  try {
    return positionText(lonLat, notation, choice, precisionM);
  } catch (thrown) {
    return Fault.from(thrown).what;
  }
}
