/**
 * The walk over the map: legs in ink with a white casing, points as small flags with their label, numbers on small plates,
 * and the aids asked for. Labels keep clear of one another, of the legs' ends and of the neat line.
 */
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { clipPolyline, clipSegment } from "../furniture/clip-paper.ts";
import { cutText } from "../furniture/set-text.ts";
import { type LabelBox, LabelSpace, rectOf } from "../map/label-space.ts";
import { isWithin } from "../map/map-sheet.ts";
import { strokes } from "../map/strokes.ts";
import { INKS } from "../page/inks.ts";
import { group, type PageItem, type PaperPoint, points, type Rect, rectShape } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { drawAids } from "./leg-aids.ts";
import { legOnPaper, shortened } from "./leg-lines.ts";
import type { SheetWalk, WalkWish } from "./sheet-walk.ts";

export interface DrawnWalk {
  readonly items: readonly PageItem[];
  /** Boxes that the map's names must keep free. */
  readonly taken: readonly Rect[];
  readonly notes: readonly string[];
}

/** A leg stops short of its points, so that the exact spot can be seen, millimetres. */
const GAP_MM = 1.1;
const LEG_MM = 0.6;
const CASING_MM = 1.4;
const STAFF_MM = 4.2;
const MOST_LABEL_MM = 34;
const PAD_MM = 0.7;

interface Placing {
  readonly frame: SheetFrame;
  readonly ruler: TextRuler;
  readonly space: LabelSpace;
  readonly sizeMm: number;
  readonly taken: Rect[];
  readonly notes: string[];
}

export function drawWalk(walk: SheetWalk, frame: SheetFrame, wish: WalkWish, ruler: TextRuler): DrawnWalk {
  const only = wish.legs && new Set(wish.legs);
  const isLegShown = (leg: number): boolean => !only || only.has(leg);
  const isPointShown = (i: number): boolean => !only || only.has(i) || only.has(i - 1);
  const placing: Placing = {
    frame,
    ruler,
    space: new LabelSpace(frame.map, []),
    sizeMm: points(wish.large ? 14 : 9),
    taken: [],
    notes: [],
  };
  const spots = walk.points.flatMap(({ label, lonLat }, i) => {
    const at = isPointShown(i) ? placeOf(frame, lonLat) : null;
    return at && isWithin(at, frame.map) ? [{ label, at }] : [];
  });
  for (const { at } of spots) take(placing, dotBox(at));

  const legs = walk.points.slice(1).flatMap(({ lonLat }, leg) => {
    const from = walk.points[leg]?.lonLat;
    const line = from && isLegShown(leg) ? legOnPaper(from, lonLat, frame) : null;
    return line ? [{ n: leg + 1, line }] : [];
  });
  const drawn = legs.flatMap(({ line }) => {
    const open = shortened(line, GAP_MM, GAP_MM);
    return open ? clipPolyline(open, frame.map) : [];
  });
  // In this order: a flag belongs to its point, a number can go anywhere along its leg, a word may be left out.
  const flags = spots.flatMap(({ label, at }) => flag(label, at, placing));
  const numbers = legs.flatMap(({ n, line }) => plate(String(n), line, placing));
  const aids = drawAids(walk, frame, wish, isLegShown);
  const words = aids.words.flatMap(({ word, at, ink }) => aidWord(word, at, ink, placing));
  for (const line of drawn) placing.taken.push(...alongLine(line));
  return {
    items: [
      group(
        "walk",
        [
          ...aids.items,
          group("leg casings", strokes(drawn, { ink: INKS.paper, widthMm: CASING_MM })),
          group("legs", strokes(drawn, { ink: INKS.leg, widthMm: LEG_MM })),
          group("flags", flags),
          group("leg numbers", numbers),
          group("aid words", words),
        ],
        frame.map,
      ),
    ],
    taken: placing.taken,
    notes: [...new Set(placing.notes)],
  };
}

function placeOf(frame: SheetFrame, lonLat: readonly [number, number]): PaperPoint | null {
  try {
    return frame.toPaper(lonLat);
  } catch {
    return null;
  }
}

function take({ space, taken }: Placing, box: LabelBox): void {
  space.take(box);
  taken.push(rectOf(box));
}

const dotBox = ([x, y]: PaperPoint): LabelBox => ({ x, y, halfWidth: 0.6, halfHeight: 0.6, turnDeg: 0 });

/** Small boxes along a line, so that no name lies across it. */
function alongLine(line: Float64Array): Rect[] {
  const boxes: Rect[] = [];
  const [half, step] = [CASING_MM / 2, 1.2];
  for (let i = 2; i < line.length; i += 2) {
    const [ax, ay] = [line[i - 2] as number, line[i - 1] as number];
    const [dx, dy] = [(line[i] as number) - ax, (line[i + 1] as number) - ay];
    const n = Math.ceil(Math.hypot(dx, dy) / step);
    for (let k = 0; k <= n; k++)
      boxes.push({
        x: ax + (dx * k) / n - half,
        y: ay + (dy * k) / n - half,
        width: 2 * half,
        height: 2 * half,
      });
  }
  return boxes;
}

/** The label as the fonts can set it, cut to what a flag holds. */
function flagText(label: string, { ruler, sizeMm, notes }: Placing): string {
  const missing = new Set(ruler.missing(label, "textBold"));
  const known = Array.from(label.replace(/\s+/g, " ").trim())
    .filter((letter) => !missing.has(letter) && letter !== "\u200d" && letter !== "\ufe0f")
    .join("")
    .trim();
  const text = cutText(known, MOST_LABEL_MM, "textBold", sizeMm, ruler);
  if (missing.size > 0)
    notes.push("Signs in point labels that the printed fonts do not have were left out on the sheets.");
  if (text !== known)
    notes.push("Long point labels are cut with “…” on the sheets; the table has them whole.");
  return text === "" ? "?" : text;
}

/** A staff from the exact spot with a cloth that bears the label. */
function flag(label: string, at: PaperPoint, placing: Placing): PageItem[] {
  const { ruler, sizeMm, space, notes } = placing;
  const text = flagText(label, placing);
  const cap = ruler.capHeightMm("textBold", sizeMm);
  const [width, height] = [ruler.widthMm(text, "textBold", sizeMm) + 2 * PAD_MM, cap + 2 * PAD_MM];
  const [x, y] = at;
  for (const staff of [STAFF_MM, STAFF_MM + 4, STAFF_MM + 8, STAFF_MM + 12])
    for (const [right, up] of [
      [1, 1],
      [-1, 1],
      [1, -1],
      [-1, -1],
    ] as const) {
      const cloth: Rect = {
        x: right > 0 ? x : x - width,
        y: up > 0 ? y - staff : y + staff - height,
        width,
        height,
      };
      const box = boxAround(cloth, 0.35);
      if (!space.isFree(box)) continue;
      take(placing, box);
      const pole = { x, y: y - (up * staff) / 2, halfWidth: 0.2, halfHeight: staff / 2, turnDeg: 0 };
      take(placing, pole);
      const staffLine = [Float64Array.of(x, y, x, y - up * staff)];
      const dotLine = [Float64Array.of(x - 0.005, y, x + 0.005, y)];
      return [
        ...strokes(staffLine, { ink: INKS.paper, widthMm: 0.7 }),
        ...strokes(dotLine, { ink: INKS.paper, widthMm: 1.1, cap: "round" }),
        ...strokes(staffLine, { ink: INKS.leg, widthMm: 0.25 }),
        ...strokes(dotLine, { ink: INKS.leg, widthMm: 0.6, cap: "round" }),
        {
          kind: "shape",
          shape: rectShape(cloth),
          fill: INKS.paper,
          stroke: { ink: INKS.leg, widthMm: 0.25 },
        },
        {
          kind: "text",
          text,
          at: [cloth.x + width / 2, cloth.y + PAD_MM + cap],
          face: "textBold",
          sizeMm,
          ink: INKS.ink,
          anchor: "middle",
        },
      ];
    }
  notes.push("There was no room for every point's label on the sheets: points without one are dots.");
  return strokes([Float64Array.of(x - 0.005, y, x + 0.005, y)], {
    ink: INKS.leg,
    widthMm: 0.9,
    cap: "round",
  });
}

const boxAround = ({ x, y, width, height }: Rect, padMm: number): LabelBox => ({
  x: x + width / 2,
  y: y + height / 2,
  halfWidth: width / 2 + padMm,
  halfHeight: height / 2 + padMm,
  turnDeg: 0,
});

/** A leg's number on a plate beside the part of it that is on this sheet. */
function plate(text: string, line: Float64Array, placing: Placing): PageItem[] {
  const { ruler, sizeMm, space, frame, notes } = placing;
  const segment = longest(line, frame.map);
  if (!segment) return [];
  const [ax, ay, bx, by] = segment;
  const length = Math.hypot(bx - ax, by - ay);
  if (length < 1) return [];
  const cap = ruler.capHeightMm("textBold", sizeMm);
  const [width, height] = [ruler.widthMm(text, "textBold", sizeMm) + 1.1, cap + 1.1];
  const [dx, dy] = [(bx - ax) / length, (by - ay) / length];
  // Just clear of the line, however it lies to the plate.
  const off = (Math.abs(dy) * width + Math.abs(dx) * height) / 2 + CASING_MM / 2 + 0.4;
  for (const share of [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8])
    for (const side of [1, -1]) {
      const [x, y] = [ax + (bx - ax) * share + dy * off * side, ay + (by - ay) * share - dx * off * side];
      const rect: Rect = { x: x - width / 2, y: y - height / 2, width, height };
      if (!space.isFree(boxAround(rect, 0.3))) continue;
      take(placing, boxAround(rect, 0.3));
      return [
        {
          kind: "shape",
          shape: rectShape(rect),
          fill: INKS.leg,
          stroke: { ink: INKS.paper, widthMm: 0.3 },
        },
        {
          kind: "text",
          text,
          at: [x, rect.y + 0.55 + cap],
          face: "textBold",
          sizeMm,
          ink: INKS.paper,
          anchor: "middle",
        },
      ];
    }
  notes.push("There was no room for every leg's number on the sheets.");
  return [];
}

type Segment = readonly [number, number, number, number];

function longest(line: Float64Array, map: Rect): Segment | null {
  const whole = clipSegment(
    [line[0] as number, line[1] as number, line.at(-2) as number, line.at(-1) as number],
    map,
  );
  if (line.length === 4 || !whole) return whole;
  // Of a bent leg the plate stands beside the piece in the middle of what is seen.
  const seen = clipPolyline(line, map)[0];
  if (!seen) return null;
  const i = Math.min(seen.length - 4, 2 * (seen.length >> 2));
  return [seen[i], seen[i + 1], seen[i + 2], seen[i + 3]] as unknown as Segment;
}

function aidWord(word: string, at: PaperPoint, ink: `#${string}`, placing: Placing): PageItem[] {
  const { ruler, sizeMm, space, taken } = placing;
  const [width, cap] = [ruler.widthMm(word, "textBold", sizeMm), ruler.capHeightMm("textBold", sizeMm)];
  const descent = ruler.descentMm("textBold", sizeMm);
  for (const [dx, dy] of [
    [0, -3],
    [0, 3],
    [width / 2 + 2, 0],
    [-width / 2 - 2, 0],
    [0, -6],
    [0, 6],
  ] as const) {
    const rect: Rect = {
      x: at[0] + dx - width / 2,
      y: at[1] + dy - cap / 2,
      width,
      height: cap + descent,
    };
    const box = boxAround(rect, 0.3);
    if (!space.isFree(box)) continue;
    space.take(box);
    taken.push(rectOf(box));
    return [
      {
        kind: "text",
        text: word,
        at: [at[0] + dx, rect.y + cap],
        face: "textBold",
        sizeMm,
        ink,
        anchor: "middle",
        haloMm: 0.35,
      },
    ];
  }
  return [];
}
