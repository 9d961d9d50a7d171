/** Names and heights on the map: important ones first, each tried in several places, left out where none is free. */
import type { Kind } from "../../map/kinds.ts";
import { INKS } from "../page/inks.ts";
import { type Face, type Ink, type PageItem, type PaperPoint, points, type TextItem } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { LabelBox, LabelSpace } from "./label-space.ts";
import { stretchesOf } from "./line-stretches.ts";
import type { MapLook } from "./map-look.ts";
import type { MapSheet, PaperSpot } from "./map-sheet.ts";
import { spansAt } from "./strokes.ts";
import { blockBox, blockItems, type TextBlock, textBlock, type TextLook } from "./text-block.ts";

export interface NameContext {
  readonly sheet: MapSheet;
  readonly look: MapLook;
  readonly space: LabelSpace;
  readonly ruler: TextRuler;
  /** Metres in the unit heights are written in. */
  readonly unitM: number;
}

const textLook = (face: Face, pt: number, ink: Ink): TextLook => ({ face, sizeMm: points(pt), ink });

/** Takes the first free of several places. */
function putFirst(
  { space }: NameContext,
  block: TextBlock,
  places: readonly PaperPoint[],
  turnDeg = 0,
): TextItem[] {
  for (const at of places) {
    const box = blockBox(block, at, turnDeg);
    if (!space.isFree(box)) continue;
    space.take(box);
    return blockItems(block, at, turnDeg);
  }
  return [];
}

/** Places round a point for a block's middle: right, left, above, below, then the corners. */
function around([x, y]: PaperPoint, block: TextBlock, gapMm: number): PaperPoint[] {
  const [w, h] = [block.widthMm / 2 + gapMm + 0.3, block.heightMm / 2 + gapMm + 0.3];
  return [
    [x + w, y],
    [x - w, y],
    [x, y - h],
    [x, y + h],
    [x + w, y - h],
    [x - w, y - h],
    [x + w, y + h],
    [x - w, y + h],
  ];
}

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

/** A height without its figures says nothing: both or neither. */
export function spotHeights(context: NameContext): PageItem[] {
  const { sheet, look, space, ruler } = context;
  return [...sheet.spots("spotHeight")]
    .sort((a, b) => heightFirst(a, b))
    .flatMap(({ feature, at }) => {
      const text = heightText(feature.elevationM, context);
      if (text === "" || !space.isFree(square(at, 0.4))) return [];
      const block = textBlock([{ text, look: textLook("text", look.pt, INKS.contourName) }], ruler);
      const texts = putFirst(context, block, around(at, block, 0.5));
      if (texts.length === 0) return [];
      space.take(square(at, 0.4));
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

/** A name once on each area of the sheet, inside it; water's also beside it. */
export function areaNames(context: NameContext, kind: Kind, face: Face, ink: Ink, word?: string): PageItem[] {
  const { sheet, look, ruler } = context;
  const rings = new Map<string, Float64Array[]>();
  for (const { feature, rings: pieces } of sheet.areas(kind)) {
    const name = feature.name ?? word;
    if (!name) continue;
    rings.set(name, [...(rings.get(name) ?? []), ...pieces]);
  }
  return [...rings].flatMap(([name, pieces]) => {
    const block = textBlock([{ text: name, look: textLook(face, look.pt, ink) }], ruler);
    const { at, widthMm } = widest(pieces);
    if (kind === "building") return putFirst(context, block, around(at, block, 1).slice(2));
    const within = widthMm > block.widthMm * 0.9 ? [at, [at[0], at[1] - 3], [at[0], at[1] + 3]] : [];
    return putFirst(context, block, [
      ...(within as PaperPoint[]),
      ...(kind === "water" ? around(at, block, widthMm / 2) : []),
    ]);
  });
}

/** The middle of the widest of some cuts across an area; pieces that touch at a tile's edge count as one. */
function widest(rings: readonly Float64Array[]): { at: PaperPoint; widthMm: number } {
  let [top, bottom] = [Infinity, -Infinity];
  for (const ring of rings)
    for (let i = 1; i < ring.length; i += 2) {
      top = Math.min(top, ring[i] as number);
      bottom = Math.max(bottom, ring[i] as number);
    }
  let [at, widthMm]: [PaperPoint, number] = [[0, 0], -1];
  const CUTS = 9;
  for (let k = 1; k <= CUTS; k++) {
    const y = top + ((bottom - top) * k) / (CUTS + 1) + 1e-7;
    let from = Number.NaN;
    let to = Number.NaN;
    for (const span of spansAt(rings, y)) {
      if (!(span.from - to < 0.02)) from = span.from;
      to = span.to;
      if (to - from > widthMm) [at, widthMm] = [[(from + to) / 2, y], to - from];
    }
  }
  return { at, widthMm };
}

const AGAIN_MM = 110;

/** Names along lines, just above a straight enough stretch; again only far off. */
export function lineNames(context: NameContext, kind: Kind, face: Face, ink: Ink): PageItem[] {
  const { sheet, look, ruler, space } = context;
  const byName = new Map<string, Float64Array[]>();
  for (const { feature, parts } of sheet.lines(kind))
    if (feature.name) byName.set(feature.name, [...(byName.get(feature.name) ?? []), ...parts]);
  const items: PageItem[] = [];
  for (const [name, parts] of byName) {
    const block = textBlock([{ text: name, look: textLook(face, look.pt, ink) }], ruler, Infinity);
    const put: PaperPoint[] = [];
    const offMm = block.heightMm / 2 + 0.55;
    const stretches = parts
      .flatMap((part) => stretchesOf(part, block.widthMm, 2.5, 0.9))
      .sort((a, b) => a.strayMm - b.strayMm);
    for (const { x, y, dx, dy } of stretches) {
      if (put.some(([px, py]) => Math.hypot(px - x, py - y) < AGAIN_MM)) continue;
      // Read from the left; a line that runs straight down is read from below.
      const way = dx < -1e-9 || (Math.abs(dx) <= 1e-9 && dy > 0) ? -1 : 1;
      const [ux, uy] = [dx * way, dy * way];
      const turnDeg = (Math.atan2(uy, ux) * 180) / Math.PI;
      for (const side of [1, -1]) {
        const at: PaperPoint = [x + uy * offMm * side, y - ux * offMm * side];
        const box = blockBox(block, at, turnDeg);
        if (!space.isFree(box)) continue;
        space.take(box);
        put.push([x, y]);
        items.push(...blockItems(block, at, turnDeg));
        break;
      }
    }
  }
  return items;
}
