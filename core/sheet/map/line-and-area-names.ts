/** Names inside areas and along lines. */
import type { Kind } from "../../map/kinds.ts";
import type { Face, Ink, PageItem, PaperPoint } from "../page/page.ts";
import { stretchesOf } from "./line-stretches.ts";
import { around, type NameContext, putFirst, textLook } from "./name-places.ts";
import { spansAt } from "./strokes.ts";
import { blockBox, blockItems, textBlock } from "./text-block.ts";

/** Smaller areas than this have their name beside them, millimetres across. */
const SMALL_MM = 12;

/** A name once on each area of the sheet: inside it, of small waters, restricted areas and filled ground beside it. */
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
    const cuts = cutsAcross(pieces);
    const [largest] = cuts;
    if (!largest) return [];
    if (kind === "building") return putFirst(context, block, around(largest.at, block, 1).slice(2));
    const within = cuts.filter(({ widthMm }) => widthMm > block.widthMm * 0.95).map(({ at }) => at);
    const isBeside =
      kind === "restricted" || kind === "filled" || (kind === "water" && largest.widthMm < SMALL_MM);
    return putFirst(context, block, [
      ...within,
      ...(isBeside ? around(largest.at, block, Math.min(largest.widthMm, SMALL_MM) / 2) : []),
    ]);
  });
}

interface Cut {
  readonly at: PaperPoint;
  readonly widthMm: number;
}

const CUTS = 15;

/** Middles of some cuts across an area, the widest first; pieces that touch at a tile's edge count as one. */
function cutsAcross(rings: readonly Float64Array[]): Cut[] {
  let [top, bottom] = [Infinity, -Infinity];
  for (const ring of rings)
    for (let i = 1; i < ring.length; i += 2) {
      top = Math.min(top, ring[i] as number);
      bottom = Math.max(bottom, ring[i] as number);
    }
  const cuts: Cut[] = [];
  for (let k = 1; k <= CUTS; k++) {
    const y = top + ((bottom - top) * k) / (CUTS + 1) + 1e-7;
    let [from, to] = [Number.NaN, Number.NaN];
    const close = (): void => {
      if (to > from) cuts.push({ at: [(from + to) / 2, y], widthMm: to - from });
    };
    for (const span of spansAt(rings, y)) {
      if (!(span.from - to < 0.02)) {
        close();
        from = span.from;
      }
      to = span.to;
    }
    close();
  }
  return cuts.sort((a, b) => b.widthMm - a.widthMm);
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
