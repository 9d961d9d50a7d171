/**
 * Lines of magnetic north across a sheet, to lay a compass along: evenly spaced, at the angle of the sheet's centre.
 * Broken, of their own colour and with an arrow and an M at the upper end, so that nobody takes them for the grid.
 */
import { Fault } from "../../fault.ts";
import { declinationAt } from "../../geodesy/declination.ts";
import { DEG } from "../../units/angle.ts";
import { formatNumber } from "../../units/format.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { INKS } from "../page/inks.ts";
import { lineShape, type PageItem, points, type Rect } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { clipSegment } from "./clip-paper.ts";
import { textAt } from "./set-text.ts";

const WIDTH_MM = 0.18;
const DASH_MM = [7, 1.2] as const;
/** Closer lines would hide the map; wider ones than this leave a small sheet without any. */
export const SPACING_MM = { least: 10, most: 100, usual: 40 } as const;

/** Direction of magnetic north on the page, degrees clockwise from straight up. */
export const magneticOnPageDeg = (frame: SheetFrame, declinationDeg: number): number =>
  declinationDeg - frame.convergenceDeg - frame.turnDeg;

/**
 * @param spacingMm between lines, square to them; one runs through the sheet's centre
 * @throws Fault "bad-argument" for a spacing outside `SPACING_MM`
 */
export function magneticLines(
  frame: SheetFrame,
  declinationDeg: number,
  spacingMm: number,
  ruler: TextRuler,
): { readonly items: PageItem[]; readonly taken: Rect[] } {
  if (!(spacingMm >= SPACING_MM.least && spacingMm <= SPACING_MM.most))
    throw new Fault(
      "bad-argument",
      `Lines of magnetic north cannot be ${spacingMm} mm apart.`,
      null,
      `Choose from ${SPACING_MM.least} to ${SPACING_MM.most} mm.`,
    );
  const { map } = frame;
  const angle = magneticOnPageDeg(frame, declinationDeg) * DEG;
  /** Along the lines, towards magnetic north, and square to them. */
  const [ux, uy] = [Math.sin(angle), -Math.cos(angle)];
  const [x0, y0] = [map.x + map.width / 2, map.y + map.height / 2];
  const reach = Math.hypot(map.width, map.height);
  const items: PageItem[] = [];
  const taken: Rect[] = [];
  const count = Math.ceil(reach / 2 / spacingMm);
  for (let k = -count; k <= count; k++) {
    const [mx, my] = [x0 - uy * k * spacingMm, y0 + ux * k * spacingMm];
    const cut = clipSegment([mx - ux * reach, my - uy * reach, mx + ux * reach, my + uy * reach], map);
    if (!cut) continue;
    const [ax, ay, bx, by] = cut;
    const length = Math.hypot(bx - ax, by - ay);
    if (length < 12) continue;
    items.push({
      kind: "shape",
      shape: lineShape([ax, ay], [bx, by]),
      stroke: { ink: INKS.magnetic, widthMm: WIDTH_MM, dashMm: DASH_MM },
    });
    // Arrow and letter a little below the neat line, so that they stay whole on slanting lines.
    const tip = 3.5;
    const [tx, ty] = [bx - ux * tip, by - uy * tip];
    items.push({
      kind: "shape",
      shape: {
        parts: [
          Float64Array.of(
            tx,
            ty,
            tx - ux * 2.6 - uy * 0.75,
            ty - uy * 2.6 + ux * 0.75,
            tx - ux * 2.6 + uy * 0.75,
            ty - uy * 2.6 - ux * 0.75,
          ),
        ],
        closed: true,
      },
      fill: INKS.magnetic,
    });
    const size = points(8);
    const cap = ruler.capHeightMm("textBold", size);
    const half = ruler.widthMm("M", "textBold", size) / 2;
    // Beside the arrow, on its right.
    const [lx, ly] = [tx - ux * 1.3 - uy * (half + 1.4), ty - uy * 1.3 + ux * (half + 1.4)];
    const box: Rect = { x: lx - half - 0.4, y: ly - cap / 2 - 0.4, width: 2 * half + 0.8, height: cap + 0.8 };
    const within =
      box.x > map.x &&
      box.y > map.y &&
      box.x + box.width < map.x + map.width &&
      box.y + box.height < map.y + map.height;
    if (!within) continue;
    items.push(
      textAt("M", [lx, ly + cap / 2], {
        face: "textBold",
        pt: 8,
        anchor: "middle",
        ink: INKS.magnetic,
        haloMm: 0.4,
      }),
    );
    taken.push(box);
  }
  return { items, taken };
}

/** Half a mark of the finest hand compass: a declination that differs by more is said. */
const TOLD_DEG = 0.5;

/**
 * How much declination differs across the sheet, in a sentence; null when by no more than half a degree or where the model gives
 * nothing. By the model, also when the printed map's value rules: how it changes from place to place is all that is asked.
 */
export function declinationAcross(frame: SheetFrame, date: string): string | null {
  const { x, y, width, height } = frame.map;
  const at = (sx: number, sy: number): number =>
    declinationAt(frame.toLonLat([x + width * sx, y + height * sy]), 0, date, true).deg;
  try {
    const middle = at(0.5, 0.5);
    const apart = [at(0, 0), at(1, 0), at(1, 1), at(0, 1)].map((deg) =>
      Math.abs(((deg - middle + 540) % 360) - 180),
    );
    const most = Math.max(...apart);
    if (most <= TOLD_DEG) return null;
    return `Declination differs by up to ${formatNumber(most, 1)}° across this sheet from that at its centre.`;
  } catch (thrown) {
    if (thrown instanceof Fault && thrown.code === "out-of-range") return null;
    throw thrown;
  }
}
