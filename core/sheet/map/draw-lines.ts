/** Lines of the map: contours, waters, works. */
import type { Attributes } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import { INKS } from "../page/inks.ts";
import { group, type PageItem, type Stroke } from "../page/page.ts";
import type { MapLook } from "./map-look.ts";
import type { MapSheet, PaperLine } from "./map-sheet.ts";
import { across, along, crosses, marksAlong, strokes } from "./strokes.ts";

type Parts = readonly Float64Array[];

const partsOf = (lines: readonly PaperLine[]): Float64Array[] => lines.flatMap(({ parts }) => parts);
const where = (
  lines: readonly PaperLine[],
  holds: (attributes: Attributes, line: PaperLine) => boolean,
): Float64Array[] => partsOf(lines.filter((line) => holds(line.feature.attributes, line)));

export const isUnderground = ({ tunnel }: Attributes): boolean => tunnel === "yes" || tunnel === true;
const isBridge = ({ bridge }: Attributes): boolean => bridge === "yes" || bridge === true;

export interface ContourSet {
  readonly plain: readonly PaperLine[];
  readonly index: readonly PaperLine[];
}

export function drawContours(contours: ContourSet, { weight }: MapLook): PageItem[] {
  const all = [...contours.plain, ...contours.index];
  const hollows = where(all, ({ depression }) => depression === true || depression === 1);
  return [
    group("contours", [
      ...strokes(partsOf(contours.plain), { ink: INKS.contour, widthMm: 0.12 * weight, join: "round" }),
      // A map's own rings around lower ground run with it to their right.
      ...strokes(across(marksAlong(hollows, 3), 0, 0.6), { ink: INKS.contour, widthMm: 0.12 * weight }),
    ]),
    group(
      "index contours",
      strokes(partsOf(contours.index), { ink: INKS.contourIndex, widthMm: 0.27 * weight, join: "round" }),
    ),
  ];
}

export function drawStreams(sheet: MapSheet, { weight, scale }: MapLook): PageItem[] {
  const items: PageItem[] = [];
  for (const [kind, base] of [
    ["stream", 0.25],
    ["river", 0.45],
  ] as const) {
    const shown = sheet.lines(kind).filter(({ feature }) => !isUnderground(feature.attributes));
    const widths = new Map<string, { widthMm: number; dry: boolean; parts: Float64Array[] }>();
    for (const { feature, parts } of shown) {
      const { width, intermittent } = feature.attributes;
      const trueMm = typeof width === "number" ? (width * 1000) / scale : 0;
      const widthMm = Math.round(10 * Math.min(3, Math.max(base * weight, trueMm))) / 10;
      const dry = intermittent === true || intermittent === "yes" || intermittent === 1;
      const shownMm = trueMm > base * weight ? widthMm : base * weight;
      const key = `${shownMm} ${dry}`;
      const set = widths.get(key) ?? { widthMm: shownMm, dry, parts: [] };
      set.parts.push(...parts);
      widths.set(key, set);
    }
    for (const { widthMm, dry, parts } of widths.values())
      items.push(
        ...strokes(parts, {
          ink: INKS.water,
          widthMm,
          join: "round",
          ...(dry ? { dashMm: [1.5, 0.6] } : { cap: "round" as const }),
        }),
      );
  }
  return [group("streams", items)];
}

/** A line with a mark on it again and again. */
function marked(lines: Parts, line: Stroke, marks: Parts, mark: Stroke): PageItem[] {
  return [...strokes(lines, line), ...strokes(marks, mark)];
}

export function drawWorks(sheet: MapSheet, look: MapLook): PageItem[] {
  const { weight: w, smallMarks } = look;
  const parts = (kind: Kind): Float64Array[] => partsOf(sheet.lines(kind));
  const ink = INKS.works;
  const [walls, fences, power, bounds] = [
    parts("wall"),
    parts("fence"),
    parts("powerLine"),
    parts("boundary"),
  ];
  return [
    group(
      "boundaries",
      strokes(bounds, { ink: INKS.bounds, widthMm: 0.25 * w, dashMm: [2.6, 0.7, 0.4, 0.7] }),
    ),
    group(
      "walls",
      marked(walls, { ink, widthMm: 0.16 * w }, smallMarks ? along(marksAlong(walls, 2.4), 0.25) : [], {
        ink,
        widthMm: 0.5,
      }),
    ),
    group(
      "fences",
      marked(fences, { ink, widthMm: 0.12 * w }, smallMarks ? crosses(marksAlong(fences, 3.6), 0.4) : [], {
        ink,
        widthMm: 0.12,
      }),
    ),
    group("cliffs", cliffs(sheet, look)),
    group("paths", paths(sheet, look)),
    group("roads", roads(sheet, look)),
    group("rail", rail(sheet, look)),
    group(
      "power lines",
      marked(power, { ink, widthMm: 0.12 * w }, across(marksAlong(power, 8), 0.9, 0.9), {
        ink,
        widthMm: 0.18,
      }),
    ),
  ];
}

/** Teeth to the right of a surveyed cliff's line, its lower side; ground that is merely steep has an edge all round. */
function cliffs(sheet: MapSheet, { weight }: MapLook): PageItem[] {
  const isSteep = (a: Attributes): boolean => a["class"] === "steep";
  const edges = where(sheet.lines("cliff"), (a) => !isSteep(a));
  const steep = where(sheet.lines("cliff"), isSteep);
  return [
    ...strokes(edges, { ink: INKS.works, widthMm: 0.28 * weight, join: "round" }),
    ...strokes(across(marksAlong(edges, 0.8), 0, 0.8), { ink: INKS.works, widthMm: 0.16 * weight }),
    ...strokes(steep, { ink: INKS.soft, widthMm: 0.15 * weight }),
  ];
}

const FAINT = new Set(["bad", "horrible", "no"]);

function paths(sheet: MapSheet, { weight }: MapLook): PageItem[] {
  const lines = sheet.lines("path").filter(({ feature }) => !isUnderground(feature.attributes));
  const styleOf = (a: Attributes): 0 | 1 | 2 =>
    a["class"] === "track" ? 0 : FAINT.has(String(a["trail_visibility"])) ? 2 : 1;
  const dashes = [
    [2.4, 0.5],
    [1.1, 0.55],
    [0.4, 0.7],
  ] as const;
  const widths = [0.3, 0.25, 0.25];
  return dashes.flatMap((dashMm, style) =>
    strokes(
      where(lines, (a) => styleOf(a) === style),
      {
        ink: INKS.works,
        widthMm: (widths[style] as number) * weight,
        dashMm,
      },
    ),
  );
}

const MAIN = new Set(["motorway", "trunk", "primary", "secondary", "highway", "major_road"]);
const SMALL = new Set(["service", "driveway", "private"]);

/** Casings of all roads first, then fills, so that junctions are open; bridges over that. */
function roads(sheet: MapSheet, { weight, roads: factor }: MapLook): PageItem[] {
  const lines = sheet.lines("road");
  const classOf = (a: Attributes): 0 | 1 | 2 => {
    const name = String(a["class"]);
    return MAIN.has(name) ? 2 : SMALL.has(name) ? 0 : 1;
  };
  const width = [0.6, 0.95, 1.35].map((mm) => mm * weight * factor);
  const open = lines.filter(({ feature }) => !isUnderground(feature.attributes));
  const under = where(lines, isUnderground);
  const each = (draw: (c: 0 | 1 | 2, parts: Float64Array[]) => PageItem[], only = open): PageItem[] =>
    ([0, 1, 2] as const).flatMap((c) =>
      draw(
        c,
        where(only, (a) => classOf(a) === c),
      ),
    );
  const casing = (extraMm: number, cap: "round" | "butt") => (c: 0 | 1 | 2, parts: Float64Array[]) =>
    strokes(parts, { ink: INKS.works, widthMm: (width[c] as number) + extraMm, cap, join: "round" });
  const filling = (c: 0 | 1 | 2, parts: Float64Array[]): PageItem[] =>
    strokes(parts, {
      ink: c === 2 ? INKS.mainRoadFill : INKS.roadFill,
      widthMm: (width[c] as number) - 0.26 * weight,
      cap: "round",
      join: "round",
    });
  const bridges = open.filter(({ feature }) => isBridge(feature.attributes));
  return [
    ...strokes(under, { ink: INKS.works, widthMm: 0.2 * weight, dashMm: [0.8, 0.8] }),
    ...each(casing(0, "round")),
    ...each(filling),
    ...each(casing(0.35, "butt"), bridges),
    ...each(filling, bridges),
  ];
}

function rail(sheet: MapSheet, { weight }: MapLook): PageItem[] {
  const open = where(sheet.lines("rail"), (a) => !isUnderground(a));
  const under = where(sheet.lines("rail"), isUnderground);
  return [
    ...strokes(open, { ink: INKS.works, widthMm: 0.35 * weight }),
    ...strokes(across(marksAlong(open, 2), 0.55, 0.55), { ink: INKS.works, widthMm: 0.18 * weight }),
    ...strokes(under, { ink: INKS.works, widthMm: 0.2 * weight, dashMm: [0.8, 0.8] }),
  ];
}
