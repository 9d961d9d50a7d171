/** All sheets of a walk on one small map, each with its number: on a page of its own or in a corner of another. */
import { formatScale } from "../../units/scale.ts";
import { bboxOf, type Bbox, type LonLat } from "../../units/position.ts";
import { normalise180 } from "../../units/angle.ts";
import { type SheetFrame, sheetFrame } from "../frame/sheet-frame.ts";
import {
  type Page,
  type PageItem,
  type PaperPoint,
  points as pt,
  type Rect,
  rectShape,
} from "../page/page.ts";
import { INKS } from "../page/inks.ts";
import type { PaperSize } from "../page/paper-size.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { BLACK, cutText, setColumn, textAt } from "../furniture/set-text.ts";
import { EDGE_MM } from "../furniture/sheet-room.ts";
import type { SheetLayout } from "./sheet-plan.ts";
import { walkPath } from "./walk-path.ts";

/** Corners of a sheet's map, from the upper left on clockwise. */
export function sheetCorners(frame: SheetFrame): LonLat[] {
  const { map } = frame;
  const [l, t, r, b] = [map.x, map.y, map.x + map.width, map.y + map.height];
  return (
    [
      [l, t],
      [r, t],
      [r, b],
      [l, b],
    ] as const
  ).map((at) => frame.toLonLat(at));
}

/** A frame at a round scale in which all places lie within the rectangle. */
function overview(places: readonly LonLat[], within: Rect, { zone, sheets }: SheetLayout): SheetFrame {
  const first = places[0] as LonLat;
  // Longitudes counted from the first, so that ±180° does not lie between.
  const near = places.map(([lon, lat]): LonLat => [first[0] + normalise180(lon - first[0]), lat]);
  const [west, south, east, north] = bboxOf(near) as Bbox;
  const centre: LonLat = [normalise180((west + east) / 2), (south + north) / 2];
  const grid = sheets[0]?.frame.grid;
  const of = (scale: number): SheetFrame =>
    sheetFrame({ centre, scale, map: within, ...(grid && { grid }), ...(zone && { zone }) });
  const trial = of(10_000);
  const [x0, y0] = [within.x + within.width / 2, within.y + within.height / 2];
  const needed = places.reduce((most, place) => {
    const [x, y] = trial.toPaper(place);
    return Math.max(most, Math.abs(x - x0) / (within.width / 2), Math.abs(y - y0) / (within.height / 2));
  }, 0.05);
  const unit = 10 ** Math.floor(Math.log10(needed * 10_000) - 1);
  return of(Math.min(10_000_000, Math.ceil((needed * 10_000 * 1.04) / unit) * unit));
}

/**
 * The index in a rectangle, without a frame of its own.
 * @param current number of the sheet it stands on, drawn heavier; null for none
 */
export function indexItems(
  layout: SheetLayout,
  walk: readonly LonLat[],
  within: Rect,
  ruler: TextRuler,
  current: number | null = null,
): { readonly items: PageItem[]; readonly scale: number } {
  const corners = layout.sheets.map(({ frame }) => sheetCorners(sheetFrame(frame)));
  const frame = overview([...corners.flat(), ...walk], within, layout);
  const ring = (places: readonly LonLat[]): Float64Array =>
    Float64Array.from(places.flatMap((place) => [...frame.toPaper(place)]));
  const items: PageItem[] = [];
  const numbers: PageItem[] = [];
  corners.forEach((places, i) => {
    const { number } = layout.sheets[i] as { readonly number: number };
    const parts = [ring(places)];
    items.push({
      kind: "shape",
      shape: { parts, closed: true },
      stroke: { ink: BLACK, widthMm: number === current ? 0.5 : 0.18, join: "miter" },
    });
    // In the upper left corner of its sheet, where the walk does not lie under it.
    const [a, , c] = places as [LonLat, LonLat, LonLat];
    const [ax, ay] = frame.toPaper(a);
    const [cx, cy] = frame.toPaper(c);
    const size = Math.max(7, Math.min(14, Math.hypot(cx - ax, cy - ay) * 0.35));
    const cap = ruler.capHeightMm("textBold", pt(size));
    const width = ruler.widthMm(String(number), "textBold", pt(size));
    const inset = Math.hypot(width / 2, cap / 2) + 1;
    const length = Math.max(1e-9, Math.hypot(cx - ax, cy - ay));
    const at: PaperPoint = [
      ax + ((cx - ax) / length) * Math.min(inset * 1.3, length / 2),
      ay + ((cy - ay) / length) * Math.min(inset * 1.3, length / 2) + cap / 2,
    ];
    numbers.push(textAt(String(number), at, { face: "textBold", pt: size, anchor: "middle", haloMm: 0.4 }));
  });
  const path = walkPath(walk);
  if (path.length > 0) {
    const line = ring([path[0]?.from as LonLat, ...path.map(({ to }) => to)]);
    const shape = { parts: [line], closed: false };
    items.push(
      { kind: "shape", shape, stroke: { ink: INKS.paper, widthMm: 1, join: "round", cap: "round" } },
      { kind: "shape", shape, stroke: { ink: BLACK, widthMm: 0.4, join: "round", cap: "round" } },
    );
  }
  return {
    items: [{ kind: "group", name: "index", items: [...items, ...numbers], clip: within }],
    scale: frame.scale,
  };
}

/** A page with the index of a walk's sheets. */
export function indexPage(
  layout: SheetLayout,
  walk: readonly LonLat[],
  title: string,
  paper: PaperSize,
  ruler: TextRuler,
): Page {
  const edge = EDGE_MM + 5;
  const width = paper.widthMm - 2 * edge;
  const top = edge + 10;
  const count = layout.sheets.length;
  const foot = 14;
  const within: Rect = { x: edge, y: top, width, height: paper.heightMm - top - edge - foot };
  const inner: Rect = { x: within.x + 2, y: within.y + 2, width: width - 4, height: within.height - 4 };
  const { items, scale } = indexItems(layout, walk, inner, ruler);
  const heading = `Index of ${count === 1 ? "one sheet" : `${count} sheets`}`;
  const headingWidth = ruler.widthMm(heading, "text", pt(9));
  const words = `Sheets at ${formatScale(layout.scale)}; this index about ${formatScale(scale)}, grid north up. For finding sheets only: do not measure on it.`;
  return {
    ...paper,
    title: heading,
    items: [
      textAt(cutText(title, width - headingWidth - 6, "textBold", pt(11), ruler), [edge, edge + 4], {
        face: "textBold",
        pt: 11,
      }),
      textAt(heading, [edge + width, edge + 4], { anchor: "end" }),
      { kind: "shape", shape: rectShape(within), stroke: { ink: BLACK, widthMm: 0.2, join: "miter" } },
      ...items,
      ...setColumn(
        [{ text: words }, ...layout.notes.map((text) => ({ text }))],
        { x: edge, y: within.y + within.height + 3, width, height: foot - 3 },
        ruler,
        { pt: 9, leastPt: 7 },
      ).items,
    ],
  };
}
