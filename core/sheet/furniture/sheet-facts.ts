/** What must be known of a sheet besides its scale and its norths: grid, contours, datum, source, age, and the cautions. */
import { CAUTIONS, INVENTED } from "../../legs/cautions.ts";
import { gridFactors } from "../../geodesy/projection.ts";
import type { MapInfo } from "../../map/metadata.ts";
import { formatNumber } from "../../units/format.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import type { Paragraph } from "./set-text.ts";

/** What of a map is told on paper. */
export type SheetMap = Pick<
  MapInfo,
  "title" | "interval" | "source" | "date" | "attribution" | "datum" | "invented"
>;

/** A distance of grid lines: "1 km", "250 m", "1000 ft". */
export function stepWords(stepM: number, unitM: number): string {
  if (unitM !== 1) return `${formatNumber(Math.round(stepM / unitM))}\u00a0ft`;
  return stepM >= 1000 ? `${formatNumber(stepM / 1000)}\u00a0km` : `${formatNumber(stepM)}\u00a0m`;
}

/** Which grid it is, and where its letters hold. */
export function gridFacts(
  { grid }: Pick<SheetFrame, "grid">,
  bands: readonly string[],
  squares: readonly string[],
  stepM: number | null,
): Paragraph[] {
  const { own } = grid;
  const named = bands.length === 0 ? grid.title : `${grid.title}, band ${bands.join(" and ")}`;
  const lettered =
    squares.length === 0 ? "" : `; 100 km square${squares.length > 1 ? "s" : ""} ${squares.join(", ")}`;
  const lines = stepM === null ? "" : ` Lines every ${stepWords(stepM, grid.projection.unitM)}.`;
  const datum = own ? "" : ", WGS 84";
  const accuracy =
    own?.accuracyM === null || own === null
      ? ""
      : ` Against WGS 84 it is known to ${formatNumber(own.accuracyM, own.accuracyM % 1 === 0 ? 0 : 1)} m.`;
  return [{ text: `Grid: ${named}${datum}${lettered}.${lines}${accuracy}` }];
}

/** How true the scale is away from the centre: the worst corner, by the grid's point scale there. */
export function scaleFact(frame: SheetFrame): string {
  const { x, y, width, height } = frame.map;
  let worst = 0;
  for (const at of [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ] as const) {
    const place = frame.toLonLat(at);
    // At the pole itself there is no meridian to measure along.
    if (Math.abs(place[1]) < 89.99)
      worst = Math.max(
        worst,
        Math.abs(gridFactors(frame.grid.projection, place).scale / frame.pointScale - 1),
      );
  }
  const mm = worst * 100;
  return mm < 0.005
    ? "True to scale at the centre and at the corners."
    : `True to scale at the centre; at the corners 100\u00a0mm are up to ${formatNumber(mm, 2)}\u00a0mm out.`;
}

/** A sheet whose upper edge is not grid north says so. */
export function turnFact({ turnDeg }: Pick<SheetFrame, "turnDeg">): Paragraph[] {
  const turn = ((turnDeg % 360) + 360) % 360;
  if (turn === 0) return [];
  return [
    {
      text: `Grid north is not up: up the page is ${formatNumber(turn, 1)}° from grid north. Turn the sheet by its grid.`,
      face: "textBold",
    },
  ];
}

/**
 * Contours, heights, source, age and who must be named.
 * @param scale how true the scale is, a sentence
 */
export function mapFacts(map: SheetMap | null, scale: string, small: boolean): Paragraph[] {
  if (!map) return [{ text: `No map: only the walk and the grid are drawn. ${scale}` }];
  const { interval, datum, title, source, date, attribution } = map;
  const contours = interval
    ? `Contours every ${formatNumber(interval.value, interval.value % 1 === 0 ? 0 : 1)}\u00a0${interval.unit}`
    : "Contour interval not known";
  const heights = datum ? `; datum ${sentence(datum)}` : small ? "" : "; datum of the heights not known";
  const age = date ? `data of ${sentence(date)}` : "age of the data not known";
  const from = source && sentence(source) !== sentence(title) ? `, ${sentence(source)}` : "";
  return [
    // Before the source, for which room may be short: who must be named is named.
    ...(attribution && attribution !== source ? [{ text: `${sentence(attribution)}.`, lines: 2 }] : []),
    { text: `${contours}${heights}. ${scale}` },
    { text: `Map: ${sentence(title)}${from}; ${age}.`, lines: small ? 2 : 4 },
  ];
}

/** Without the full stop that some come with. */
const sentence = (text: string): string => text.trim().replace(/\.$/, "");

/** An invented place first, then the cautions, none left out. */
export function cautionWords(map: SheetMap | null): Paragraph[] {
  return [
    ...(map?.invented ? [{ text: INVENTED, face: "textBold" as const }] : []),
    { text: CAUTIONS.join(" ") },
  ];
}
