/**
 * Figures of the grid at the edges of a sheet: the two principal digits larger, full coordinates once on every edge, letters
 * of the 100 km squares at the corners. Source: NGA.STND.0037 and the margins of topographic maps, from memory.
 */
import { formatBritish } from "../../geodesy/british-reference.ts";
import { britishGrid } from "../../geodesy/grid.ts";
import { formatMgrs, SQUARE_M } from "../../geodesy/mgrs.ts";
import { formatNumber } from "../../units/format.ts";
import type { LonLat } from "../../units/position.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import type { PageItem, PaperPoint, Rect } from "../page/page.ts";
import { points } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { type Edge, edgeAt } from "./clip-paper.ts";
import type { GridLine } from "./grid-lines.ts";
import type { Label, Margin, Run } from "./margin.ts";
import { textAt } from "./set-text.ts";

const SMALL = { pt: 7 } as const;
const BIG = { pt: 10, face: "textBold" } as const;

/**
 * A coordinate as runs: "4" small, "72" large, and "000mE" small where it is written in full. Lines between kilometres keep
 * their metres: "4", "72", "500".
 * @param full with its last figures, unit and direction
 */
export function coordinateRuns(
  valueM: number,
  axis: GridLine["axis"],
  full: boolean,
  unitM = 1,
): readonly Run[] {
  const towards = axis === "easting" ? "E" : "N";
  // A grid in feet has no kilometres: its figures are written whole.
  if (unitM !== 1) {
    const figure = formatNumber(Math.round(valueM / unitM));
    return [{ text: full ? `${figure} ft ${towards}` : figure, look: SMALL }];
  }
  const value = Math.round(valueM);
  // West or south of a grid's origin digits cannot be cut off.
  if (value < 0)
    return [{ text: full ? `${formatNumber(value)} m ${towards}` : formatNumber(value), look: SMALL }];
  const [km, metres] = [Math.floor(value / 1000), value % 1000];
  const hundreds = Math.floor(km / 100);
  const principal = String(km % 100).padStart(2, "0");
  const rest = String(metres).padStart(3, "0");
  return [
    ...(hundreds === 0 ? [] : [{ text: String(hundreds), look: SMALL }]),
    { text: principal, look: BIG, centred: true },
    ...(full || metres !== 0 ? [{ text: full ? `${rest}m${towards}` : rest, look: SMALL }] : []),
  ];
}

/** As a label at an edge: beside the sheet there is no room for a full coordinate on one line. */
function coordinateLabel(line: GridLine, full: boolean, edge: Edge): Label {
  const unitM = line.shown.grid.projection.unitM;
  const runs = coordinateRuns(line.valueM, line.axis, full, unitM);
  const beside = edge === "left" || edge === "right";
  if (!beside || runs.length < 2) return [runs];
  const last = runs.at(-1) as Run;
  return last.text.length > 2 && last.look === SMALL ? [runs.slice(0, -1), [last]] : [runs];
}

interface End {
  readonly line: GridLine;
  readonly at: PaperPoint;
  readonly edge: Edge;
}

/** Where lines end at the neat line, along each edge in order. */
function endsAt(lines: readonly GridLine[], map: Rect): End[] {
  const ends: End[] = [];
  for (const line of lines)
    for (const part of line.parts)
      for (const at of [
        [part[0], part[1]],
        [part.at(-2), part.at(-1)],
      ] as [number, number][]) {
        const edge = edgeAt(at[0], at[1], map);
        if (edge) ends.push({ line, at, edge });
      }
  const order = ({ at: [x, y] }: End): number => x - y;
  return ends.sort((a, b) => order(a) - order(b));
}

/** Labels at all edges; the first of each axis that has room on an edge is written in full. */
export function putGridLabels(lines: readonly GridLine[], map: Rect, margin: Margin): void {
  const ends = endsAt(lines, map);
  const done = new Set<End>();
  for (const edge of ["left", "right", "top", "bottom"] as const)
    for (const axis of ["easting", "northing"] as const) {
      const here = ends.filter((end) => end.edge === edge && end.line.axis === axis);
      const full = here.find(({ line, at }) => margin.put(coordinateLabel(line, true, edge), at, edge));
      if (full) done.add(full);
    }
  for (const end of ends)
    if (!done.has(end)) margin.put(coordinateLabel(end.line, false, end.edge), end.at, end.edge);
}

/** Letters of the 100 km square at a place: of the British grid or of MGRS; null for a grid that has none. */
export function squareLetters(frame: SheetFrame, lonLat: LonLat): string | null {
  if (frame.grid.own) {
    if (frame.grid.own.definition !== britishGrid().definition) return null;
    const [e, n] = frame.grid.projection.forward(lonLat);
    const off = e < 0 || n < 0 || e >= 7 * SQUARE_M || n >= 13 * SQUARE_M;
    return off ? null : formatBritish([e, n], SQUARE_M);
  }
  return formatMgrs(lonLat, SQUARE_M).slice(-2);
}

/** Places just within the corners, from the upper left on clockwise. */
function corners({ x, y, width, height }: Rect, inMm: number): readonly PaperPoint[] {
  const [l, t, r, b] = [x + inMm, y + inMm, x + width - inMm, y + height - inMm];
  return [
    [l, t],
    [r, t],
    [r, b],
    [l, b],
  ];
}

/** Squares on the sheet, in the order they are met. */
export function squaresOn(frame: SheetFrame): string[] {
  const places = [
    ...corners(frame.map, 0.5),
    [frame.map.x + frame.map.width / 2, frame.map.y + frame.map.height / 2] as const,
  ];
  const found = places.map((at) => squareLetters(frame, frame.toLonLat(at)));
  return [...new Set(found.filter((letters) => letters !== null))];
}

/** Letters of the square outside each corner. */
export function putSquareLetters(frame: SheetFrame, margin: Margin, ruler: TextRuler): void {
  const { map } = frame;
  corners(map, 0.5).forEach((at, i) => {
    const letters = squareLetters(frame, frame.toLonLat(at));
    if (letters === null) return;
    const left = i === 0 || i === 3;
    const size = points(9);
    const width = ruler.widthMm(letters, "textBold", size);
    const cap = ruler.capHeightMm("textBold", size);
    const x = left ? map.x - 1.4 - width : map.x + map.width + 1.4;
    const y = i < 2 ? map.y - 1.4 : map.y + map.height + 1.4 + cap;
    margin.keep({ x: x - 0.4, y: y - cap - 0.4, width: width + 0.8, height: cap + 0.8 });
    margin.items.push(textAt(letters, [x, y], { face: "textBold" }));
  });
}

/**
 * Letters on both sides of a line between two 100 km squares, within the neat line at its ends.
 * @returns the letters and the boxes they take
 */
export function squareJunctions(
  frame: SheetFrame,
  lines: readonly GridLine[],
  ruler: TextRuler,
): { readonly items: PageItem[]; readonly taken: Rect[] } {
  const items: PageItem[] = [];
  const taken: Rect[] = [];
  const size = points(9);
  const cap = ruler.capHeightMm("textBold", size);
  const { map } = frame;
  for (const { at, edge } of endsAt(
    lines.filter(({ valueM }) => valueM % SQUARE_M === 0),
    map,
  )) {
    const upright = edge === "top" || edge === "bottom";
    const into = edge === "left" || edge === "top" ? 1 : -1;
    for (const side of [-1, 1]) {
      const [dx, dy] = upright ? [side * 4, into * 3.5] : [into * 4.5, side * 3];
      const middle: PaperPoint = [at[0] + dx, at[1] + dy];
      const letters = squareLetters(frame, frame.toLonLat(middle));
      if (letters === null) continue;
      const width = ruler.widthMm(letters, "textBold", size);
      const box: Rect = {
        x: middle[0] - width / 2 - 0.5,
        y: middle[1] - cap / 2 - 0.5,
        width: width + 1,
        height: cap + 1,
      };
      const within =
        box.x > map.x &&
        box.y > map.y &&
        box.x + box.width < map.x + map.width &&
        box.y + box.height < map.y + map.height;
      if (!within) continue;
      items.push(
        textAt(letters, [middle[0], middle[1] + cap / 2], {
          face: "textBold",
          anchor: "middle",
          haloMm: 0.5,
        }),
      );
      taken.push(box);
    }
  }
  return { items, taken };
}
