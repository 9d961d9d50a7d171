/**
 * The map of a field sheet, from the map's own tiles: vector drawing cut at the neat line, with no name or symbol cut by it.
 * The same map, frame and wish always give the same drawing.
 */
import type { MapFeatures } from "../../map/features.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { INKS } from "../page/inks.ts";
import { group, type PageItem, points, type Rect } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { contourFigures } from "./contour-figures.ts";
import {
  blindAreas,
  buildings,
  filledAreas,
  groundAreas,
  restrictedAreas,
  waterAreas,
} from "./draw-areas.ts";
import { type ContourSet, drawContours, drawStreams, drawWorks } from "./draw-lines.ts";
import { LabelSpace } from "./label-space.ts";
import { drawnContours, mapLook, type MapWish } from "./map-look.ts";
import { type MapSheet, mapSheet } from "./map-sheet.ts";
import { areaNames, lineNames } from "./line-and-area-names.ts";
import type { NameContext } from "./name-places.ts";
import { peaks, placeNames, spotHeights } from "./point-names.ts";
import { spansAt } from "./strokes.ts";
import { blockBox, blockItems, textBlock } from "./text-block.ts";
import { uphillBy } from "./uphill.ts";

export type { MapWish } from "./map-look.ts";

export interface DrawnMap {
  /** The ground itself. */
  readonly items: readonly PageItem[];
  /** Names, figures and their symbols, to be drawn over the grid so that it does not strike them through. */
  readonly names: readonly PageItem[];
  /** What a person should know before printing it, in sentences. */
  readonly notes: readonly string[];
}

const METRES_PER_FOOT = 0.3048;

/**
 * @param ground prepared for `frame.bbox` by the caller
 * @param keepFree boxes on the page where no name may stand: the walk's labels, the furniture over the map
 */
export function drawMap(
  ground: MapFeatures,
  frame: SheetFrame,
  wish: MapWish,
  ruler: TextRuler,
  keepFree: readonly Rect[],
): DrawnMap {
  const { info } = ground;
  const look = mapLook(frame.scale, wish);
  const sheet = mapSheet(ground, frame);
  const { every, interval } = drawnContours(info, frame.scale);
  const unitM = info.interval?.unit === "ft" ? METRES_PER_FOOT : 1;
  const contours = chosenContours(sheet, every, (info.interval?.value ?? 0) * unitM);
  const blind = blindAreas(ground, frame);
  const drawn = [
    ...groundAreas(sheet, look),
    ...drawContours(contours, look),
    ...drawStreams(sheet, look),
    // Over the streams: the line that joins inflow and outflow is no sight on a lake.
    ...waterAreas(sheet, look),
    ...restrictedAreas(sheet, look),
    ...drawWorks(sheet, look),
    ...buildings(sheet),
    ...filledAreas(sheet),
    ...blind.items,
  ];
  const space = new LabelSpace(frame.map, keepFree);
  const context: NameContext = { sheet, look, space, ruler, unitM };
  const figures = { pt: look.pt, unitM, leftIsHigher: info.rolesFrom === "metadata" };
  const uphill = uphillBy([...contours.plain, ...contours.index]);
  const names = [
    group("no map words", noMapWords(blind.rings, context)),
    group("peaks", peaks(context)),
    group("places", placeNames(context)),
    group("restricted words", areaNames(context, "restricted", "textBold", INKS.mindName, "Restricted")),
    group("filled words", areaNames(context, "filled", "nameItalic", INKS.contourName, "heights filled in")),
    group("water names", [
      ...areaNames(context, "water", "nameItalic", INKS.waterName),
      ...lineNames(context, "river", "nameItalic", INKS.waterName),
    ]),
    group("contour figures", contourFigures(contours.index, uphill, space, ruler, figures)),
    group("other names", [
      ...lineNames(context, "stream", "nameItalic", INKS.waterName),
      ...areaNames(context, "wood", "name", INKS.woodName),
      ...areaNames(context, "wetland", "nameItalic", INKS.waterName),
      ...lineNames(context, "road", "name", INKS.ink),
    ]),
    group("spot heights", spotHeights(context)),
    group("small names", [
      ...(look.pathNames ? lineNames(context, "path", "name", INKS.ink) : []),
      ...(look.buildingNames ? areaNames(context, "building", "name", INKS.ink) : []),
    ]),
  ];
  const notes = [...blind.notes];
  if (sheet.areas("filled").length > 0)
    notes.push(
      "Heights were missing on part of this sheet and were filled in from those around when the map was made. It is hatched and ringed by dashes: contours there are a guess.",
    );
  if (every > 1 && info.interval && interval)
    notes.push(
      `Contours on this sheet are every ${interval.value} ${interval.unit}; the map has them every ${info.interval.value} ${info.interval.unit}, too close to print at this scale.`,
    );
  return { items: [group("map", drawn, frame.map)], names: [group("names", names, frame.map)], notes };
}

/** All contours, or every so many of them; then every fifth of those is an index contour. */
function chosenContours(sheet: MapSheet, every: number, stepM: number): ContourSet {
  const all = sheet.lines("contour");
  const isMultiple = (m: number, of: number): boolean => Math.abs(m / of - Math.round(m / of)) < 1e-3;
  if (every === 1)
    return {
      plain: all.filter(({ feature }) => !feature.index),
      index: all.filter(({ feature }) => feature.index),
    };
  const shown = all.filter(({ feature }) => isMultiple(feature.elevationM, every * stepM));
  const isIndex = (m: number): boolean => isMultiple(m, 5 * every * stepM);
  return {
    plain: shown.filter(({ feature }) => !isIndex(feature.elevationM)),
    index: shown.filter(({ feature }) => isIndex(feature.elevationM)),
  };
}

function noMapWords(rings: readonly Float64Array[], { look, ruler, space }: NameContext): PageItem[] {
  const block = textBlock(
    [{ text: "no map here", look: { face: "text", sizeMm: points(look.pt), ink: INKS.soft } }],
    ruler,
  );
  return rings.flatMap((ring) => {
    const ys = ring.filter((_, i) => i % 2 === 1);
    const y = (Math.min(...ys) + Math.max(...ys)) / 2;
    const [span] = spansAt([ring], y);
    if (!span || span.to - span.from < block.widthMm) return [];
    const box = blockBox(block, [(span.from + span.to) / 2, y]);
    if (!space.isFree(box)) return [];
    space.take(box);
    return blockItems(block, [box.x, box.y]);
  });
}
