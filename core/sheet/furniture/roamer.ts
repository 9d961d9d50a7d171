/**
 * A roamer: a corner laid on a place of the map reads its tenths in the grid square. Numbered from the corner outwards, as on
 * the cards of compasses and protractors. To cut out from the margin, or on a page of its own.
 */
import { Fault } from "../../fault.ts";
import { formatScale } from "../../units/scale.ts";
import { lineShape, type Page, type PageItem, type PaperPoint, points, rectShape } from "../page/page.ts";
import type { PaperSize } from "../page/paper-size.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { checkLine } from "./scale-bars.ts";
import { BLACK, setColumn, textAt } from "./set-text.ts";
import { stepWords } from "./sheet-facts.ts";
import { EDGE_MM } from "./sheet-room.ts";

/** A square is no smaller on paper than this, or its tenths cannot be read; millimetres. */
const LEAST_MM = 9;
const MOST_MM = 120;

/** Side of the grid square a roamer is for, metres: the kilometre where that can be read. */
export function roamerSquareM(scale: number): number {
  const mm = (m: number): number => (m * 1000) / scale;
  const square = [1000, 100, 10, 10_000, 100_000].find((m) => mm(m) >= LEAST_MM && mm(m) <= MOST_MM);
  if (square === undefined)
    throw new Fault("bad-argument", `There is no roamer for a scale of ${formatScale(scale)}.`);
  return square;
}

/** Side of the roamer on paper, millimetres. */
export const roamerMm = (scale: number): number => (roamerSquareM(scale) * 1000) / scale;

/**
 * The roamer, its corner at the upper right. Ten parts of the square along its upper and its right edge, each halved.
 * @param corner on the page
 */
export function roamerItems(scale: number, [x, y]: PaperPoint, ruler: TextRuler): PageItem[] {
  const square = roamerSquareM(scale);
  const side = roamerMm(scale);
  const items: PageItem[] = [];
  const part = side / 10;
  // Figures that would touch are left to every other mark.
  const pt = part < 4 ? 7 : 9;
  const size = points(pt);
  const cap = ruler.capHeightMm("text", size);
  const every = ruler.widthMm("10", "text", size) > part - 0.6 ? 2 : 1;
  for (let half = 1; half <= 20; half++) {
    const along = (half * part) / 2;
    const tick = half % 2 === 1 ? 1.1 : half === 10 || half === 20 ? 2.6 : 1.9;
    const stroke = { ink: BLACK, widthMm: half % 2 === 1 ? 0.1 : 0.15 } as const;
    if (half % 2 === 1 && part < 3) continue;
    items.push(
      { kind: "shape", shape: lineShape([x - along, y], [x - along, y + tick]), stroke },
      { kind: "shape", shape: lineShape([x, y + along], [x - tick, y + along]), stroke },
    );
    const n = half / 2;
    if (half % 2 === 1 || n % every !== 0) continue;
    // The last figure stands within the square, or it would be cut off.
    const inwards = n === 10 ? -1 : 0;
    items.push(
      textAt(String(n), [x - along - inwards * 0.4, y + 3.1 + cap], {
        pt,
        anchor: n === 10 ? "start" : "middle",
      }),
    );
    if (n * part > 3.4 + cap)
      items.push(textAt(String(n), [x - 3, y + along + (n === 10 ? -0.4 : cap / 2)], { pt, anchor: "end" }));
  }
  const words = [formatScale(scale), `${stepWords(square, 1)} squares`];
  const room = { x: x - side + 1, y: y + 3.1 + cap + 2, width: side - 9, height: side - cap - 7 };
  if (room.width > 8)
    items.push(
      ...setColumn(
        words.map((text) => ({ text })),
        room,
        ruler,
        { pt: 8, leastPt: 6 },
      ).items,
    );
  return [
    {
      kind: "group",
      name: "roamer",
      items: [
        {
          kind: "shape",
          shape: rectShape({ x: x - side, y, width: side, height: side }),
          stroke: { ink: BLACK, widthMm: 0.12 },
        },
        {
          kind: "shape",
          shape: lineShape([x - side, y], [x, y], [x, y + side]),
          stroke: { ink: BLACK, widthMm: 0.25 },
        },
        ...items,
      ],
    },
  ];
}

/** How it is used, in sentences. */
export const ROAMER_WORDS: readonly string[] = [
  "Cut along the two thick edges. Lay their corner on the place, the edges along the grid, the figures to the west and the south of it.",
  "Easting: the figure on the upper edge where the grid line west of the place meets it. Northing: the figure on the right edge where the line south of the place meets it.",
  "Write each after the figures of its grid line: tenths of a square.",
];

/**
 * A page with one roamer at its true size and how to use it.
 * @throws Fault "bad-argument" for paper too small for a roamer of this scale
 */
export function roamerPage(scale: number, paper: PaperSize, ruler: TextRuler): Page {
  const side = roamerMm(scale);
  const left = EDGE_MM + 10;
  const width = paper.widthMm - 2 * left;
  if (side > width || side + 70 > paper.heightMm)
    throw new Fault(
      "bad-argument",
      `A roamer for ${formatScale(scale)} does not fit on this paper.`,
      null,
      "Take larger paper.",
    );
  const top = EDGE_MM + 10;
  const title = `Roamer for ${formatScale(scale)}`;
  const words = setColumn(
    ROAMER_WORDS.map((text) => ({ text })),
    { x: left, y: top + 12, width: Math.min(width, 150), height: 40 },
    ruler,
    { pt: 10, leastPt: 8 },
  );
  const roamerTop = top + 12 + words.heightMm + 4;
  return {
    ...paper,
    title,
    items: [
      textAt(title, [left, top + 5], { face: "textBold", pt: 14 }),
      ...words.items,
      ...roamerItems(scale, [left + side, roamerTop], ruler),
      ...checkLine(
        Math.min(100, Math.floor(width / 10) * 10),
        { x: left, y: roamerTop + side + 6, width: Math.min(width, 106), height: 8 },
        ruler,
      ),
    ],
  };
}
