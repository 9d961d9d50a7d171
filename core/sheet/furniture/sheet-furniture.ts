/** Everything on a field sheet that is not the map's content: within the neat line grid and magnetic lines, around it the rest. */
import { bandOf } from "../../geodesy/utm-zone.ts";
import type { DeclinationFigure } from "../../legs/figures.ts";
import type { WalkPace } from "../../walk/walk.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { group, type PageItem, points, type Rect, rectShape } from "../page/page.ts";
import { INKS } from "../page/inks.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { type Continuation, continueArrows } from "./continue-arrows.ts";
import { factsAndCautions, type Sizes } from "./facts-and-cautions.ts";
import { putDegreeTicks } from "./degree-ticks.ts";
import { putGridLabels, putSquareLetters, squareJunctions, squaresOn } from "./grid-labels.ts";
import { type GridLine, gridLines, gridStepM } from "./grid-lines.ts";
import { declinationAcross, magneticLines } from "./magnetic-lines.ts";
import { Margin } from "./margin.ts";
import { northDiagram, northWords } from "./north-diagram.ts";
import { roamerItems, roamerMm } from "./roamer.ts";
import { scaleBlock } from "./scale-bars.ts";
import { BLACK, cutText, type Paragraph, setColumn, textAt } from "./set-text.ts";
import { cautionWords, gridFacts, mapFacts, scaleFact, type SheetMap, turnFact } from "./sheet-facts.ts";
import type { SheetRoom } from "./sheet-room.ts";
import { alongNeatLine, shownGrids } from "./shown-grids.ts";

/** What a sheet is told to show besides the map. Everything absent takes the usual. */
export interface FurnitureWish {
  /** Grid lines: metres between them, "auto" by the scale, null for none. Default "auto". */
  readonly gridStepM?: number | "auto" | null;
  /** Where two zones meet on the sheet: each with its own grid, or the sheet's own carried on. Default "neighbour". */
  readonly zoneJoin?: "neighbour" | "carryOn";
  /** Ticks of latitude and longitude. Default true. */
  readonly degreeTicks?: boolean;
  /** Lines of magnetic north: millimetres between them; null, the default, for none. */
  readonly magneticLinesMm?: number | null;
  /** Which unit's bar comes first. Default "metric". */
  readonly lengths?: "metric" | "imperial";
}

export interface FurnitureInput {
  /** Its `map` is that of the room. */
  readonly frame: SheetFrame;
  readonly room: SheetRoom;
  readonly ruler: TextRuler;
  readonly title: string;
  readonly sheet: number;
  readonly sheets: number;
  /** Null without a map. */
  readonly map: SheetMap | null;
  /** Day of the walk, YYYY-MM-DD. */
  readonly date: string;
  /** At the sheet's centre, by the walk's choice of model or printed map: `sheetDeclination`. */
  readonly declination: DeclinationFigure;
  readonly pace: Pick<WalkPace, "per100m" | "steps">;
  readonly continues?: readonly Continuation[];
  readonly wish?: FurnitureWish;
}

export interface Furniture {
  /** Outside the neat line, and the line itself. */
  readonly around: readonly PageItem[];
  /** Grid and magnetic lines with what marks them, within the neat line. */
  readonly over: readonly PageItem[];
  /** Boxes within the neat line that names must keep free. */
  readonly taken: readonly Rect[];
  /** What a person should know of this sheet, in sentences: two zones, a declination that differs across it. */
  readonly notes: readonly string[];
}

const NEAT_MM = 0.25;

/**
 * The furniture of one sheet.
 * @throws Fault "bad-argument" for a distance of grid or magnetic lines that cannot be
 */
export function sheetFurniture(input: FurnitureInput): Furniture {
  const { frame, room, ruler, declination, date, map, wish = {}, continues = [] } = input;
  const margin = new Margin(frame.map, printable(room), ruler);
  const arrows = continueArrows(continues, margin);
  putSquareLetters(frame, margin, ruler);
  const grid = gridOver(frame, wish, margin, ruler);
  const ticks = wish.degreeTicks === false ? [] : putDegreeTicks(frame, margin);
  const spacing = wish.magneticLinesMm ?? null;
  const magnetic =
    spacing !== null && declination.deg !== null
      ? magneticLines(frame, declination.deg, spacing, ruler)
      : { items: [], taken: [] };
  const across = declinationAcross(frame, date);
  const facts: Paragraph[] = [
    ...turnFact(frame),
    ...gridFacts(frame, bandsOn(frame), squaresOn(frame), grid.stepM),
    ...grid.notes.map((text) => ({ text })),
    ...mapFacts(map, scaleFact(frame), room.small),
    ...(continues.length > 0 && !room.small
      ? [{ text: "An arrow in the margin shows the sheet on which the walk goes on." }]
      : []),
  ];
  const diagramWidth = room.small ? 25 : 30;
  const { north } = room;
  const sizes: Sizes = room.small ? { pt: 7.5, leastPt: 6.5 } : { pt: 8, leastPt: 7 };
  const column = (rect: Rect, paragraphs: readonly Paragraph[]): readonly PageItem[] =>
    setColumn(paragraphs, rect, ruler, sizes).items;
  return {
    around: [
      group("title", titleLine(input)),
      group(
        "scale",
        scaleBlock(
          { ...input, ...room, scale: frame.scale, lengths: wish.lengths ?? "metric" },
          room.scale,
          ruler,
        ),
      ),
      group("norths", [
        ...northDiagram(
          frame,
          declination.deg,
          { ...north, width: diagramWidth, height: north.height - 2 },
          ruler,
        ),
        ...column(
          { ...north, x: north.x + diagramWidth + 2, width: north.width - diagramWidth - 2 },
          northWords(frame, declination, date, across),
        ),
      ]),
      ...factsAndCautions(room, facts, cautionWords(map), ruler, sizes),
      // A sheet at another scale than the room was made for may have no place for its roamer.
      ...(room.roamer && roamerMm(frame.scale) <= room.roamer.height
        ? roamerItems(frame.scale, [room.roamer.x + room.roamer.width, room.roamer.y], ruler)
        : []),
      group("margin", [...margin.items, ...arrows]),
      {
        kind: "group",
        name: "neat line",
        items: [
          {
            kind: "shape",
            shape: rectShape(frame.map),
            stroke: { ink: BLACK, widthMm: NEAT_MM, join: "miter" },
          },
        ],
      },
    ],
    over: [
      group("grid", grid.items),
      group("degree ticks", ticks),
      ...(magnetic.items.length > 0 ? [group("magnetic north", magnetic.items, frame.map)] : []),
    ],
    taken: [...grid.taken, ...magnetic.taken],
    notes: [...grid.notes, ...(across ? [across] : [])],
  };
}

/** Above the furniture and below the title nothing but the band may be printed on. */
function printable({ title, map, scale }: SheetRoom): Rect {
  const top = title.y + title.height;
  return { x: title.x, y: top, width: title.width, height: Math.max(scale.y, map.y + map.height) - top };
}

function gridOver(
  frame: SheetFrame,
  wish: FurnitureWish,
  margin: Margin,
  ruler: TextRuler,
): {
  readonly items: PageItem[];
  readonly taken: readonly Rect[];
  readonly notes: readonly string[];
  readonly stepM: number | null;
} {
  const { gridStepM: asked = "auto" } = wish;
  const { grids, borders, notes } = shownGrids(frame, wish.zoneJoin ?? "neighbour");
  const stepM = asked === "auto" ? gridStepM(frame.scale, frame.grid.projection.unitM) : asked;
  if (stepM === null) return { items: [], taken: [], notes: [], stepM };
  const lines = grids.flatMap((shown) => gridLines(frame, shown, stepM));
  const own = lines.filter(({ shown }) => shown.own);
  putGridLabels(own, frame.map, margin);
  putGridLabels(
    lines.filter(({ shown }) => !shown.own),
    frame.map,
    margin,
  );
  const junctions = squareJunctions(frame, own, ruler);
  const border: PageItem[] =
    borders.length === 0
      ? []
      : [
          {
            kind: "shape",
            shape: { parts: borders, closed: false },
            stroke: { ink: BLACK, widthMm: 0.4, dashMm: [4, 1, 1, 1] },
          },
        ];
  return {
    items: [...lines.map(lineItem), ...border, ...junctions.items],
    taken: junctions.taken,
    notes,
    stepM,
  };
}

/** Thin, a little heavier every ten lines of a kilometre and between squares of 100 km. */
function lineItem({ parts, valueM }: GridLine): PageItem {
  const widthMm = valueM % 100_000 === 0 ? 0.3 : valueM % 10_000 === 0 ? 0.2 : 0.13;
  return { kind: "shape", shape: { parts, closed: false }, stroke: { ink: INKS.grid, widthMm } };
}

/** Latitude bands on the sheet, from south to north; none at the poles and with a grid of the user's. */
function bandsOn(frame: SheetFrame): string[] {
  if (frame.grid.zone === null) return [];
  const lats = alongNeatLine(frame).map((at) => frame.toLonLat(at)[1]);
  return [...new Set([bandOf(Math.min(...lats)), bandOf(Math.max(...lats))])];
}

function titleLine({ room, title, sheet, sheets, date, ruler }: FurnitureInput): PageItem[] {
  const { x, y, width } = room.title;
  const size = points(11);
  const base = y + ruler.capHeightMm("textBold", size) + 0.5;
  const right = `Walk of ${date}${sheets > 1 ? `, sheet ${sheet} of ${sheets}` : ""}`;
  const rightWidth = ruler.widthMm(right, "text", points(9));
  return [
    textAt(cutText(title, width - rightWidth - 6, "textBold", size, ruler), [x, base], {
      face: "textBold",
      pt: 11,
    }),
    textAt(right, [x + width, base], { anchor: "end" }),
  ];
}
