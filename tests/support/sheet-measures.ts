/** What a ruler and a protractor would read off a field sheet, from the drawing operators of its PDF. */
import { INKS } from "../../core/sheet/page/inks.ts";
import type { PdfPage, PdfPath } from "./pdf-reader.ts";

type Segment = readonly [x0: number, y0: number, x1: number, y1: number];

const within = (page: PdfPage, group: string): readonly PdfPath[] =>
  page.paths.filter(({ groups }) => groups.includes(group));

/** Each open part from its first position to its last. */
const runs = (paths: readonly PdfPath[]): Segment[] =>
  paths.flatMap(({ parts, closed }) =>
    parts.flatMap((part, i): Segment[] =>
      closed[i] || part.length < 4
        ? []
        : [[part[0] as number, part[1] as number, part.at(-2) as number, part.at(-1) as number]],
    ),
  );

const lengthOf = ([x0, y0, x1, y1]: Segment): number => Math.hypot(x1 - x0, y1 - y0);

/** Length of the check line, millimetres: the longest line of its group. */
export const checkLineMm = (page: PdfPage): number =>
  Math.max(0, ...runs(within(page, "check-line")).map(lengthOf));

/** Places of the grid lines that stand upright on the sheet, or lie level, millimetres, in order. */
export function gridLinesAt(page: PdfPage, way: "upright" | "level"): number[] {
  const straight = runs(within(page, "grid")).filter(
    (line) =>
      lengthOf(line) > 20 &&
      (way === "upright" ? Math.abs(line[0] - line[2]) < 1e-3 : Math.abs(line[1] - line[3]) < 1e-3),
  );
  const places = straight.map((line) => line[way === "upright" ? 0 : 1]);
  return places.sort((a, b) => a - b).filter((at, i, all) => i === 0 || at - (all[i - 1] as number) > 0.01);
}

/** Bearings of the drawn legs from up the page, degrees, each once, as drawn from start to end. */
export function legBearings(page: PdfPage): number[] {
  const legs = runs(
    page.paths.filter(({ groups, stroke }) => groups.includes("legs") && stroke?.ink === INKS.leg),
  );
  return legs.map(([x0, y0, x1, y1]) => (Math.atan2(x1 - x0, y0 - y1) * (180 / Math.PI) + 360) % 360);
}
