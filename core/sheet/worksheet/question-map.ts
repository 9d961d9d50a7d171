/**
 * The piece of map a question is asked on: drawn from the map's own tiles at the sheet's true scale, grid north up, with its grid,
 * the marks as crosses and, where the question says so, the line that joins them.
 */
import type { Mark, Question } from "../../course/drills/drill.ts";
import { Fault } from "../../fault.ts";
import { inverse } from "../../geodesy/geodesic.ts";
import { toUtm } from "../../geodesy/utm.ts";
import type { Ground } from "../../terrain/ground.ts";
import { formatNumber } from "../../units/format.ts";
import type { LonLat } from "../../units/position.ts";
import { formatScale } from "../../units/scale.ts";
import { type SheetFrame, sheetFrame } from "../frame/sheet-frame.ts";
import { putGridLabels } from "../furniture/grid-labels.ts";
import { gridLines, gridStepM } from "../furniture/grid-lines.ts";
import { Margin } from "../furniture/margin.ts";
import { BLACK, textAt } from "../furniture/set-text.ts";
import { stepWords } from "../furniture/sheet-facts.ts";
import { BAND_MM } from "../furniture/sheet-room.ts";
import { drawMap } from "../map/draw-map.ts";
import { drawnContours } from "../map/map-look.ts";
import { strokes } from "../map/strokes.ts";
import { INKS } from "../page/inks.ts";
import { group, type PageItem, type PaperPoint, points, type Rect, rectShape } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { alongLine } from "../walk/walk-placing.ts";

/** What a piece of map is drawn from: the marks, and how they were asked for. */
export type Marked = Pick<Question, "marks" | "joined" | "kind">;

export interface QuestionMap {
  /** Its ground and where that lies on the piece. */
  readonly frame: SheetFrame;
  /** Drawn with the upper left corner of its room at the origin. */
  readonly items: readonly PageItem[];
  readonly widthMm: number;
  readonly heightMm: number;
  /** Under the piece: scale, grid and contours of it. */
  readonly caption: string;
}

/** Around the outermost marks, so that what they stand on can be seen. */
const AROUND_MM = 13;
const LEAST_MM = 56;
/** Half the length of a cross's arms. */
const ARM_MM = 1.8;
const SQUARE_M = 1000;

/**
 * @param room the most the piece may take with its grid figures, millimetres
 * @param large figures and labels of 14 points instead of 9
 * @returns null for a question without marks
 * @throws Fault "out-of-range" where it cannot be printed at this scale: the marks, or a whole square of the grid, do not fit the room
 */
export async function questionMap(
  question: Marked,
  scale: number,
  room: { readonly widthMm: number; readonly heightMm: number },
  ground: Ground,
  ruler: TextRuler,
  large: boolean,
  signal?: AbortSignal,
): Promise<QuestionMap | null> {
  const { marks } = question;
  const [first] = marks;
  if (!first) return null;
  const { zone } = toUtm(first.lonLat);
  const square = question.kind === "reference";
  const centre = square ? squareMiddle(first.lonLat) : middleOf(marks);
  const least = square ? Math.max(LEAST_MM, (SQUARE_M * 1000) / scale + 2 * 6) : LEAST_MM;
  // Where the marks lie about the centre, before the piece's size is known.
  const trial = sheetFrame({ centre, scale, zone, map: { x: -1, y: -1, width: 2, height: 2 } });
  const at = marks.map(({ lonLat }) => trial.toPaper(lonLat));
  const half = (axis: 0 | 1): number => Math.max(...at.map((place) => Math.abs(place[axis]))) + AROUND_MM;
  const [width, height] = [Math.max(least, 2 * half(0)), Math.max(least, 2 * half(1))];
  const heightMm = height + BAND_MM.top + BAND_MM.bottom;
  const widthMm = width + 2 * BAND_MM.side;
  if (widthMm > room.widthMm || heightMm > room.heightMm)
    throw new Fault("out-of-range", "The piece of map it is asked on does not fit this paper.");
  const map: Rect = { x: BAND_MM.side, y: BAND_MM.top, width, height };
  const frame = sheetFrame({ centre, scale, zone, map });
  await ground.map.prepare(frame.bbox, signal);
  const stepM = square ? SQUARE_M : gridStepM(scale);
  const { interval } = drawnContours(ground.map.info, scale);
  const contours = interval ? `, contours every ${formatNumber(interval.value)}\u00a0${interval.unit}` : "";
  return {
    frame,
    items: drawn(question, frame, { widthMm, heightMm }, stepM, ground, ruler, large),
    widthMm,
    heightMm,
    caption: `${formatScale(scale)}, grid north up, grid lines every ${stepWords(stepM, 1)}${contours}`,
  };
}

function middleOf(marks: readonly Mark[]): LonLat {
  const lons = marks.map(({ lonLat }) => lonLat[0]);
  const lats = marks.map(({ lonLat }) => lonLat[1]);
  const mid = (values: readonly number[]): number => (Math.min(...values) + Math.max(...values)) / 2;
  // Across the line where longitudes jump the middle of the figures lies on the other side of the Earth.
  const middle: LonLat = [mid(lons), mid(lats)];
  const [first] = marks;
  return first && inverse(first.lonLat, middle).distanceM > 1e6 ? first.lonLat : middle;
}

/** So that the lines to the west and to the south of a place, by which it is named, are on the piece. */
function squareMiddle(at: LonLat): LonLat {
  const frame = sheetFrame({ centre: at, scale: 1000, map: { x: -1, y: -1, width: 2, height: 2 } });
  const [east, north] = frame.grid.projection.forward(at);
  const middle = (metres: number): number => (Math.floor(metres / SQUARE_M) + 0.5) * SQUARE_M;
  return frame.grid.projection.inverse([middle(east), middle(north)]);
}

function drawn(
  { marks, joined }: Marked,
  frame: SheetFrame,
  { widthMm, heightMm }: Pick<QuestionMap, "widthMm" | "heightMm">,
  stepM: number,
  ground: Ground,
  ruler: TextRuler,
  large: boolean,
): PageItem[] {
  const pt = large ? 14 : 9;
  const margin = new Margin(frame.map, { x: 0, y: 0, width: widthMm, height: heightMm }, ruler);
  const lines = gridLines(frame, { grid: frame.grid, own: true, holds: null }, stepM);
  putGridLabels(lines, frame.map, margin);
  const at = marks.map(({ lonLat }) => frame.toPaper(lonLat));
  const labels = marks.map(({ label }, i) =>
    markLabel(label, at[i] as PaperPoint, at[1 - i] ?? null, pt, ruler),
  );
  const line = joined && at[0] && at[1] ? [Float64Array.of(...at[0], ...at[1])] : [];
  const taken = [
    ...labels.map(({ box }) => box),
    ...at.map(([x, y]) => ({ x: x - ARM_MM, y: y - ARM_MM, width: 2 * ARM_MM, height: 2 * ARM_MM })),
    ...line.flatMap(alongLine),
  ];
  const map = drawMap(ground.map, frame, { large }, ruler, taken);
  const crosses = at.flatMap(([x, y]) => [
    Float64Array.of(x - ARM_MM, y, x + ARM_MM, y),
    Float64Array.of(x, y - ARM_MM, x, y + ARM_MM),
  ]);
  return [
    ...map.items,
    group(
      "grid",
      lines.map(({ parts }): PageItem => ({
        kind: "shape",
        shape: { parts, closed: false },
        stroke: { ink: INKS.grid, widthMm: 0.13 },
      })),
      frame.map,
    ),
    ...map.names,
    group("joined", strokes(line, { ink: BLACK, widthMm: 0.2 }), frame.map),
    group("mark casings", strokes(crosses, { ink: INKS.paper, widthMm: 1 }), frame.map),
    group("marks", strokes(crosses, { ink: BLACK, widthMm: 0.3 }), frame.map),
    group(
      "mark labels",
      labels.map(({ item }) => item),
      frame.map,
    ),
    group("figures", margin.items),
    group("neat line", [
      { kind: "shape", shape: rectShape(frame.map), stroke: { ink: BLACK, widthMm: 0.25, join: "miter" } },
    ]),
  ];
}

/** Beside its cross, away from the other mark, so that no line between them runs through it. */
function markLabel(
  label: string,
  [x, y]: PaperPoint,
  other: PaperPoint | null,
  pt: number,
  ruler: TextRuler,
): { readonly item: PageItem; readonly box: Rect } {
  const width = ruler.widthMm(label, "textBold", points(pt));
  const cap = ruler.capHeightMm("textBold", points(pt));
  const right = other ? x >= other[0] : true;
  const up = other ? y <= other[1] : true;
  const left = right ? x + ARM_MM + 0.4 : x - ARM_MM - 0.4 - width;
  const base = up ? y - ARM_MM + 0.2 : y + ARM_MM + cap - 0.2;
  return {
    item: textAt(label, [left, base], { face: "textBold", pt, haloMm: 0.6 }),
    box: { x: left - 0.4, y: base - cap - 0.4, width: width + 0.8, height: cap + 0.8 },
  };
}
