/** Names and heights of points: important ones first, each tried in several places, left out where none is free. */
import { INKS } from "../page/inks.ts";
import type { Face, Ink, PageItem, PaperPoint } from "../page/page.ts";
import type { LabelBox } from "./label-space.ts";
import type { PaperSpot } from "./map-sheet.ts";
import { around, type NameContext, putFirst, textLook } from "./name-places.ts";
import { textBlock } from "./text-block.ts";

const square = ([x, y]: PaperPoint, half: number): LabelBox => ({
  x,
  y,
  halfWidth: half,
  halfHeight: half,
  turnDeg: 0,
});

/** Summits: an open triangle with a dot. */
export function peaks(context: NameContext): PageItem[] {
  const { sheet, look, space, ruler } = context;
  const shown = [...sheet.spots("peak")].sort((a, b) => heightFirst(a, b));
  const symbols: PageItem[] = [];
  const placed: PaperSpot[] = [];
  for (const spot of shown) {
    const box = square(spot.at, 1);
    if (!space.isFree(box)) continue;
    space.take(box);
    placed.push(spot);
    symbols.push(...summit(spot.at));
  }
  const texts = placed.flatMap(({ feature, at }) => {
    const height = heightText(feature.elevationM, context);
    const parts = [
      ...(feature.name ? [{ text: feature.name, look: textLook("nameBold", look.pt + 1, INKS.ink) }] : []),
      ...(height ? [{ text: height, look: textLook("text", look.pt, INKS.ink) }] : []),
    ];
    if (parts.length === 0) return [];
    const block = textBlock(parts, ruler);
    return putFirst(context, block, around(at, block, 1));
  });
  return [...symbols, ...texts];
}

const heightFirst = (a: PaperSpot, b: PaperSpot): number =>
  (b.feature.elevationM || -Infinity) - (a.feature.elevationM || -Infinity) || a.at[0] - b.at[0];

const heightText = (m: number, { unitM }: NameContext): string =>
  Number.isNaN(m) ? "" : String(Math.round(m / unitM));

function summit([x, y]: PaperPoint): PageItem[] {
  const triangle = Float64Array.of(x - 0.85, y + 0.65, x, y - 0.85, x + 0.85, y + 0.65);
  return [
    {
      kind: "shape",
      shape: { parts: [triangle], closed: true },
      fill: INKS.paper,
      stroke: { ink: INKS.ink, widthMm: 0.2 },
    },
    dot([x, y + 0.12], 0.36, INKS.ink),
  ];
}

/** A round dot: a line of no length with round ends. */
const dot = ([x, y]: PaperPoint, widthMm: number, ink: Ink): PageItem => ({
  kind: "shape",
  shape: { parts: [Float64Array.of(x - 0.005, y, x + 0.005, y)], closed: false },
  stroke: { ink, widthMm, cap: "round" },
});

/** Nearer together heights hide the ground they tell of, millimetres. No source. */
const HEIGHTS_APART_MM = 13;

/** A height without its figures says nothing: both or neither. */
export function spotHeights(context: NameContext): PageItem[] {
  const { sheet, look, space, ruler } = context;
  const shown: PaperPoint[] = [];
  return [...sheet.spots("spotHeight")]
    .sort((a, b) => heightFirst(a, b))
    .flatMap(({ feature, at }) => {
      const text = heightText(feature.elevationM, context);
      if (text === "" || !space.isFree(square(at, 0.4))) return [];
      if (shown.some(([x, y]) => Math.hypot(x - at[0], y - at[1]) < HEIGHTS_APART_MM)) return [];
      const block = textBlock([{ text, look: textLook("text", look.pt, INKS.contourName) }], ruler);
      const texts = putFirst(context, block, around(at, block, 0.5));
      if (texts.length === 0) return [];
      space.take(square(at, 0.4));
      shown.push(at);
      return [dot(at, 0.6, INKS.contourName), ...texts];
    });
}

/** Rank, size above the least, and whether the name stands on its place rather than beside it. */
const PLACES: Readonly<Record<string, readonly [rank: number, morePt: number, on: boolean]>> = {
  city: [0, 5, true],
  town: [1, 4, true],
  village: [2, 2, true],
  suburb: [3, 1, true],
  region: [3, 2, true],
  valley: [3, 1, true],
  area: [4, 1, true],
  hamlet: [4, 1, true],
};
const WATERS = new Set(["water", "lake", "stream", "river", "wetland", "bay"]);
const WOODS = new Set(["wood", "forest"]);

export function placeNames(context: NameContext): PageItem[] {
  const { sheet, look, ruler } = context;
  const ranked = sheet
    .spots("place")
    .filter(({ feature }) => feature.name !== null)
    .map((spot) => {
      const kind = String(spot.feature.attributes["class"] ?? "");
      const [rank, more, on] = PLACES[kind] ?? [6, 0, WATERS.has(kind) || WOODS.has(kind)];
      return { spot, kind, rank, more, on };
    })
    .sort((a, b) => a.rank - b.rank);
  return ranked.flatMap(({ spot: { feature, at }, kind, rank, more, on }) => {
    const [face, ink]: [Face, Ink] = WATERS.has(kind)
      ? ["nameItalic", INKS.waterName]
      : [rank < 3 ? "nameBold" : "name", WOODS.has(kind) ? INKS.woodName : INKS.ink];
    const block = textBlock(
      [{ text: feature.name as string, look: textLook(face, look.pt + more, ink) }],
      ruler,
    );
    const beside = around(at, block, 0.7);
    return putFirst(context, block, on ? [at, ...beside] : beside);
  });
}
