/** Areas of the map, and where there is no map. */
import type { MapFeatures } from "../../map/features.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { INKS } from "../page/inks.ts";
import { group, type PageItem } from "../page/page.ts";
import type { MapLook } from "./map-look.ts";
import { cutRing, type MapSheet } from "./map-sheet.ts";
import { fill, hatch, strokes } from "./strokes.ts";

/** Pieces of an area are welded at the tiles' cuts by a stroke of their own colour. */
const WELD_MM = 0.1;

export function groundAreas(sheet: MapSheet, { weight }: MapLook): PageItem[] {
  const wetland = sheet.areas("wetland").flatMap(({ rings }) => hatch(rings, 0.9, 0, [1.5, 0.9]));
  return [
    group(
      "woods",
      sheet.areas("wood").map(({ rings }) => fill(rings, INKS.wood, WELD_MM)),
    ),
    group(
      "wood edges",
      strokes(
        sheet.lines("woodEdge").flatMap(({ parts }) => parts),
        { ink: INKS.woodEdge, widthMm: 0.15 * weight, dashMm: [0.35, 0.35] },
      ),
    ),
    group("wetland", strokes(wetland, { ink: INKS.water, widthMm: 0.14 })),
  ];
}

export function waterAreas(sheet: MapSheet, { weight }: MapLook): PageItem[] {
  return [
    group(
      "water",
      sheet.areas("water").map(({ rings }) => fill(rings, INKS.waterWash, WELD_MM)),
    ),
    group(
      "shores",
      strokes(
        sheet.lines("shore").flatMap(({ parts }) => parts),
        { ink: INKS.water, widthMm: 0.2 * weight, join: "round" },
      ),
    ),
  ];
}

export function restrictedAreas(sheet: MapSheet, { weight }: MapLook): PageItem[] {
  const lines = sheet.areas("restricted").flatMap(({ rings }) => hatch(rings, 2.4, 45));
  return [
    group("restricted", [
      ...strokes(lines, { ink: INKS.mind, widthMm: 0.12 }),
      ...strokes(
        sheet.lines("restricted").flatMap(({ parts }) => parts),
        { ink: INKS.mind, widthMm: 0.3 * weight, dashMm: [1.6, 0.8] },
      ),
    ]),
  ];
}

/** Where heights were made up: wide apart, so that the contours, which are a guess there, still show. */
export function filledAreas(sheet: MapSheet): PageItem[] {
  const lines = sheet.areas("filled").flatMap(({ rings }) => hatch(rings, 3, -45));
  return [
    group("filled heights", [
      ...strokes(lines, { ink: INKS.contourName, widthMm: 0.1 }),
      ...strokes(
        sheet.lines("filled").flatMap(({ parts }) => parts),
        { ink: INKS.contourName, widthMm: 0.2, dashMm: [1.2, 0.8] },
      ),
    ]),
  ];
}

/** Squares in place of buildings given as points, and outlines so that none is too small to be seen. */
export function buildings(sheet: MapSheet): PageItem[] {
  const half = 0.35;
  const squares = sheet
    .spots("building")
    .filter(({ at: [x, y] }) => cutRing(square(x, y, half), sheet.frame.map).length === 8)
    .map(({ at: [x, y] }) => square(x, y, half).subarray(0, 8));
  return [
    group("buildings", [
      ...sheet.areas("building").map(({ rings }) => fill(rings, INKS.building, 0.1)),
      ...squares.map((ring) => fill([ring], INKS.building)),
    ]),
  ];
}

const square = (x: number, y: number, h: number): Float64Array =>
  Float64Array.of(x - h, y - h, x + h, y - h, x + h, y + h, x - h, y + h, x - h, y - h);

/** Sides of a tile bow on paper. */
const STEPS = 8;

export interface BlindParts {
  readonly items: readonly PageItem[];
  readonly rings: readonly Float64Array[];
  readonly notes: readonly string[];
}

export function blindAreas(ground: MapFeatures, frame: SheetFrame): BlindParts {
  const reasons = new Set<string>();
  const rings: Float64Array[] = [];
  for (const { bbox, reason } of ground.blind(frame.bbox)) {
    const [w, s, e, n] = bbox;
    const corners = [w, s, e, s, e, n, w, n, w, s];
    const ring: number[] = [];
    for (let c = 0; c < 8; c += 2)
      for (let k = 0; k < STEPS; k++)
        ring.push(
          (corners[c] as number) + (((corners[c + 2] as number) - (corners[c] as number)) * k) / STEPS,
          (corners[c + 1] as number) +
            (((corners[c + 3] as number) - (corners[c + 1] as number)) * k) / STEPS,
        );
    ring.push(w, s);
    const cut = cutRing(frame.lineToPaper(Float64Array.from(ring)), frame.map);
    if (cut.length === 0) continue;
    reasons.add(reason);
    rings.push(cut);
  }
  const notes: string[] = [];
  if (reasons.has("outside"))
    notes.push(
      "Part of this sheet lies beyond the edge of the map: it is hatched, and nothing is known of it.",
    );
  if (reasons.has("missing") || reasons.has("damaged"))
    notes.push(
      "Parts of the map are missing or damaged on this sheet: they are hatched, and nothing is known of them.",
    );
  const lines = rings.flatMap((ring) => hatch([ring], 2, -45));
  return {
    items: [group("no map", strokes(lines, { ink: INKS.noMap, widthMm: 0.12 }))],
    rings,
    notes,
  };
}
