/**
 * The walk over the map: legs in ink with a white casing, points as small flags with their label, numbers on small plates,
 * and the aids asked for. Labels keep clear of one another, of the legs' ends and of the neat line.
 */
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { clipPolyline } from "../furniture/clip-paper.ts";
import { LabelSpace, rectOf } from "../map/label-space.ts";
import { isWithin } from "../map/map-sheet.ts";
import { strokes } from "../map/strokes.ts";
import { INKS } from "../page/inks.ts";
import { group, type PageItem, type PaperPoint, points, type Rect } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { flag, sameSpots } from "./flags.ts";
import { drawAids } from "./leg-aids.ts";
import { legOnPaper, shortened } from "./leg-lines.ts";
import { plate } from "./leg-plates.ts";
import type { SheetWalk, WalkWish } from "./sheet-walk.ts";
import { alongLine, boxAround, CASING_MM, type Placing, take } from "./walk-placing.ts";

export interface DrawnWalk {
  readonly items: readonly PageItem[];
  /** Boxes that the map's names must keep free. */
  readonly taken: readonly Rect[];
  readonly notes: readonly string[];
}

/** A leg stops short of its points, so that the exact spot can be seen, millimetres. */
const GAP_MM = 1.1;
const LEG_MM = 0.6;

export function drawWalk(walk: SheetWalk, frame: SheetFrame, wish: WalkWish, ruler: TextRuler): DrawnWalk {
  const only = wish.legs && new Set(wish.legs);
  const isLegShown = (leg: number): boolean => !only || only.has(leg);
  const isPointShown = (i: number): boolean => !only || only.has(i) || only.has(i - 1);
  const placing: Placing = {
    frame,
    ruler,
    space: new LabelSpace(frame.map, []),
    legs: new LabelSpace(frame.map, []),
    sizeMm: points(wish.large ? 14 : 9),
    taken: [],
    notes: [],
  };
  const spots = walk.points.flatMap(({ label, lonLat }, i) => {
    const at = isPointShown(i) ? placeOf(frame, lonLat) : null;
    return at && isWithin(at, frame.map) ? [{ label, at }] : [];
  });
  const flagged = sameSpots(spots);
  for (const {
    at: [x, y],
  } of spots)
    take(placing, { x, y, halfWidth: 0.6, halfHeight: 0.6, turnDeg: 0 });

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
  const boxes = drawn.flatMap(alongLine);
  for (const box of boxes) placing.legs.take(boxAround(box, 0));
  const flags = flagged.flatMap(({ labels, at }) => flag(labels, at, placing));
  const numbers = legs.flatMap(({ n, line }) => plate(String(n), line, placing));
  const aids = drawAids(walk, frame, wish, isLegShown);
  const words = aids.words.flatMap(({ word, at, ink }) => aidWord(word, at, ink, placing));
  placing.taken.push(...boxes, ...aids.lines.flatMap(alongLine));
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
