/** Lines of a grid on a sheet: straight where they are the sheet's own, in short steps where they are another's. */
import { Fault } from "../../fault.ts";
import type { EastNorth } from "../../geodesy/projection.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import type { PaperPoint } from "../page/page.ts";
import { clipPolyline, clipWhere } from "./clip-paper.ts";
import { alongNeatLine, type ShownGrid } from "./shown-grids.ts";

export interface GridLine {
  /** What is the same all along it. */
  readonly axis: "easting" | "northing";
  /** Metres, as the grid counts them: in the other hemisphere than the sheet's too. */
  readonly valueM: number;
  /** On paper, within the neat line. */
  readonly parts: readonly Float64Array[];
  readonly shown: ShownGrid;
}

const STEPS_M = [100, 250, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000, 500_000];
/** A grid of kilometres is what maps carry: kept as long as its squares are of a handy size on paper, millimetres. */
const HANDY_MM = { least: 15, most: 70 } as const;
/** Finer lines than kilometres: the finest with squares of at least so many millimetres. */
const FINE_MM = 40;
/** Lines beyond this many would hide the map. */
const MOST_LINES = 400;

/**
 * Distance of grid lines by the scale: kilometres from about 1:15 000 to 1:66 000, finer above, coarser below.
 * @param unitM metres in the unit the grid counts in
 */
export function gridStepM(scale: number, unitM = 1): number {
  const mm = (step: number): number => (step * unitM * 1000) / scale;
  const coarsest = STEPS_M.at(-1) as number;
  if (mm(1000) >= HANDY_MM.least && mm(1000) <= HANDY_MM.most) return 1000 * unitM;
  const least = mm(1000) > HANDY_MM.most ? FINE_MM : HANDY_MM.least;
  return (STEPS_M.find((step) => mm(step) >= least) ?? coarsest) * unitM;
}

/**
 * All lines of a grid on the sheet, eastings from west to east, then northings from south to north.
 * @param stepM metres between lines
 * @throws Fault "bad-argument" for a step that is none or so small that lines would cover the map
 */
export function gridLines(frame: SheetFrame, shown: ShownGrid, stepM: number): GridLine[] {
  if (!(stepM > 0)) throw new Fault("bad-argument", `Grid lines cannot be ${stepM} m apart.`);
  const [west, south, east, north] = extentOf(frame, shown);
  if ((east - west + north - south) / stepM > MOST_LINES)
    throw new Fault(
      "bad-argument",
      `Grid lines every ${stepM} m would cover the map at 1:${frame.scale}.`,
      null,
      "Choose a wider distance between them.",
    );
  const lines: GridLine[] = [];
  const add = (axis: GridLine["axis"], value: number, from: EastNorth, to: EastNorth): void => {
    const parts = pathOf(frame, shown, from, to);
    if (parts.length > 0) lines.push({ axis, valueM: counted(shown, axis, value), parts, shown });
  };
  for (let k = Math.ceil(west / stepM); k * stepM <= east; k++)
    add("easting", k * stepM, [k * stepM, south], [k * stepM, north]);
  for (let k = Math.ceil(south / stepM); k * stepM <= north; k++)
    add("northing", k * stepM, [west, k * stepM], [east, k * stepM]);
  return lines;
}

/** West, south, east, north of the sheet in the grid. */
function extentOf(frame: SheetFrame, { grid, own }: ShownGrid): readonly [number, number, number, number] {
  const places = alongNeatLine(frame).map((at) =>
    own ? frame.paperToGrid(at) : grid.projection.forward(frame.toLonLat(at)),
  );
  const es = places.map(([e]) => e);
  const ns = places.map(([, n]) => n);
  return [Math.min(...es), Math.min(...ns), Math.max(...es), Math.max(...ns)];
}

/** Longest step along a line that is not straight on paper: a neighbour's grid bends by far less than 0.01 mm on it. */
const STEP_MM = 2;

function pathOf(frame: SheetFrame, shown: ShownGrid, from: EastNorth, to: EastNorth): Float64Array[] {
  const { grid, own, holds } = shown;
  const paper = (at: EastNorth): PaperPoint =>
    own ? frame.gridToPaper(at) : frame.toPaper(grid.projection.inverse(at));
  const lengthMm = (Math.hypot(to[0] - from[0], to[1] - from[1]) * 1000) / frame.scale;
  const steps = own && !holds ? 1 : Math.max(1, Math.ceil(lengthMm / STEP_MM));
  const path = new Float64Array(2 * steps + 2);
  for (let i = 0; i <= steps; i++) {
    const share = i / steps;
    path.set(paper([from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share]), 2 * i);
  }
  const pieces = clipPolyline(path, frame.map);
  return holds
    ? pieces.flatMap((piece) => clipWhere(piece, (x, y) => holds(frame.toLonLat([x, y]))))
    : pieces;
}

/** South of the equator northings are counted from 10 000 000 m, north of it from 0, whichever the sheet's projection. */
function counted({ grid }: ShownGrid, axis: GridLine["axis"], valueM: number): number {
  if (axis === "easting" || grid.zone === null) return valueM;
  if (grid.hemisphere === "N" && valueM < 0) return valueM + 10_000_000;
  if (grid.hemisphere === "S" && valueM >= 10_000_000) return valueM - 10_000_000;
  return valueM;
}
