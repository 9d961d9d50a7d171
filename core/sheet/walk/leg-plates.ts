/** Numbers of the legs on small plates beside them. */
import { clipPolyline, clipSegment } from "../furniture/clip-paper.ts";
import { INKS } from "../page/inks.ts";
import { type PageItem, type Rect, rectShape } from "../page/page.ts";
import { boxAround, CASING_MM, firstFree, type Placing, take } from "./walk-placing.ts";

const PAD_MM = 0.55;
/** Where along the leg a plate is tried. */
const SHARES = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];

/** A leg's number on a plate beside the part of it that is on this sheet. */
export function plate(text: string, line: Float64Array, placing: Placing): PageItem[] {
  const { ruler, sizeMm, frame, notes } = placing;
  const segment = longest(line, frame.map);
  if (!segment) return [];
  const [ax, ay, bx, by] = segment;
  const length = Math.hypot(bx - ax, by - ay);
  if (length < 1) return [];
  const cap = ruler.capHeightMm("textBold", sizeMm);
  const [width, height] = [ruler.widthMm(text, "textBold", sizeMm) + 2 * PAD_MM, cap + 2 * PAD_MM];
  const [dx, dy] = [(bx - ax) / length, (by - ay) / length];
  // Just clear of the line, however it lies to the plate.
  const off = (Math.abs(dy) * width + Math.abs(dx) * height) / 2 + CASING_MM / 2 + 0.4;
  const places = SHARES.flatMap((share) =>
    [1, -1].map((side): Rect => ({
      x: ax + (bx - ax) * share + dy * off * side - width / 2,
      y: ay + (by - ay) * share - dx * off * side - height / 2,
      width,
      height,
    })),
  );
  const rect = firstFree(placing, places, (place) => boxAround(place, 0.3));
  if (!rect) {
    notes.push("There was no room for every leg's number on the sheets.");
    return [];
  }
  take(placing, boxAround(rect, 0.3));
  return [
    { kind: "shape", shape: rectShape(rect), fill: INKS.leg, stroke: { ink: INKS.paper, widthMm: 0.3 } },
    {
      kind: "text",
      text,
      at: [rect.x + width / 2, rect.y + PAD_MM + cap],
      face: "textBold",
      sizeMm,
      ink: INKS.paper,
      anchor: "middle",
    },
  ];
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
