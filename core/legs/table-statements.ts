/** What stands around a leg table on paper and in a terminal: which map, which declination, how the figures were made. */
import { formatEastWest, formatHeight, formatLength, formatNumber } from "../units/format.ts";
import { climbThresholdM } from "./leg-figures.ts";
import { unitOf, type LegTable } from "./leg-table.ts";

/** What is said of the map, in sentences. */
export function mapStatement({ map }: LegTable): string {
  if (!map) return "No map: bearings, distances and paces only.";
  const interval =
    map.interval && `contour interval ${formatNumber(map.interval.value)}\u00a0${map.interval.unit}`;
  const parts = [
    `Map: ${[map.title, interval].filter(Boolean).join(", ")}`,
    [map.source, map.date].filter(Boolean).join(", "),
    map.attribution ?? "",
  ];
  // Sources and attributions come with and without a full stop of their own.
  return parts
    .map((part) => part.trim().replace(/\.$/, ""))
    .filter((part) => part !== "")
    .map((part) => `${part}.`)
    .join(" ");
}

/** One sentence on the declination, with model, day and error. */
export function declinationStatement({ figures, date }: LegTable): string {
  const { deg, uncertaintyDeg, annualChangeDeg, model, from } = figures.declination;
  if (deg === null) return "Declination: not known.";
  const error = uncertaintyDeg === null ? "" : ` ± ${formatNumber(uncertaintyDeg, 1)}°`;
  const change = annualChangeDeg === null ? "" : `, changing by ${formatEastWest(annualChangeDeg, 2)} a year`;
  const source = from === "printed" ? "as printed on the map" : `by ${model ?? "an unnamed model"}`;
  return `Declination ${formatEastWest(deg)}${error} on ${date} ${source}${change}. Magnetic bearings are true bearings less declination (east positive).`;
}

/** How the figures were made: one sentence each. */
export function methodStatements(table: LegTable): string[] {
  const { settings, map, figures } = table;
  const unit = unitOf(table);
  const heights = figures.legs.find(({ profile }) => profile.from !== null)?.profile;
  const error = heights?.errorM;
  const threshold = formatHeight(climbThresholdM(settings, map?.interval ?? null), unit);
  return [
    `${formatNumber(settings.pacesPer100m)} ${settings.paceSteps === 2 ? "double" : "single"} paces to 100\u00a0m of map distance.`,
    ...(heights
      ? [
          `Heights from ${heights.from === "terrain" ? "the terrain model" : "the contours"}${typeof error === "number" ? `, ± ${formatHeight(error, unit)}` : ""}; rises and falls under ${threshold} are not counted.`,
          "Walking time by Naismith’s rule in its metric form (5\u00a0km/h, and an hour for every 600\u00a0m of climb), without rests.",
        ]
      : []),
    ...(map
      ? [
          `Lines to follow lie within ${formatLength(settings.handrailOffsetM, unit)} and ${formatNumber(settings.handrailToleranceDeg)}° of the leg; stops are looked for up to ${formatLength(settings.backstopReachM, unit)} beyond the target, across a drift of ${formatNumber(settings.driftDeg)}° to either side.`,
        ]
      : []),
  ];
}
