/** `fix …`: positions from bearings, and from legs walked. */
import { deadReckon, type ReckonedPlace, USUAL_RECKONING } from "../../core/fix/dead-reckoning.ts";
import type { ErrorEllipse } from "../../core/fix/ellipse.ts";
import type { Fix, FixedBearing } from "../../core/fix/fix.ts";
import { intersect, resect } from "../../core/fix/from-bearings.ts";
import { HAND_COMPASS_DEG } from "../../core/fix/sighting.ts";
import { FIX_CAUTIONS } from "../../core/fix/words.ts";
import { formatPosition } from "../../core/geodesy/format-position.ts";
import { DEFAULT_LEG_SETTINGS } from "../../core/legs/leg-settings.ts";
import { normalise360 } from "../../core/units/angle.ts";
import { formatBearing, formatLength, formatNumber } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import type { LonLat } from "../../core/units/position.ts";
import {
  type FixOptions,
  fixSettingsOf,
  nearOf,
  numberOf,
  placeOf,
  readLeg,
  readSighting,
} from "./fix-read.ts";
import { deliver } from "./product.ts";
import { plain, row } from "./rows.ts";

export interface BearingOptions extends FixOptions {
  readonly bearing: readonly string[];
  readonly error?: string;
}

/** `fix resect` (own position, bearings to known points) and `fix intersect` (a far point, bearings from known places). */
export async function fixFromBearings(what: "resect" | "intersect", options: BearingOptions): Promise<void> {
  const errorDeg = numberOf(options.error, HAND_COMPASS_DEG, "--error");
  const near = nearOf(options);
  const way = what === "resect" ? "to" : "from";
  const sightings = options.bearing.map((text) => readSighting(text, way, errorDeg, near));
  const settings = await fixSettingsOf(options, sightings[0]?.known ?? [0, 0]);
  const fix = (what === "resect" ? resect : intersect)(sightings, settings);
  await deliver(
    options.format === "json"
      ? `${JSON.stringify({ date: settings.date, errorDeg, fix, cautions: FIX_CAUTIONS }, null, 2)}\n`
      : lines([...fixRows(fix, settings.date), ...cautions()]),
    undefined,
  );
}

export interface ReckonOptions extends FixOptions {
  readonly from: string;
  readonly leg: readonly string[];
  readonly pace?: string;
  readonly every?: string;
}

/** `fix reckon`: the place after legs on bearings, and how surely it is known. */
export async function fixByReckoning(options: ReckonOptions): Promise<void> {
  const start = placeOf(options.from, nearOf(options));
  const settings = {
    ...(await fixSettingsOf(options, start)),
    spread: USUAL_RECKONING,
    pacesPer100m: numberOf(options.pace, DEFAULT_LEG_SETTINGS.pacesPer100m, "--pace"),
  };
  const everyM = options.every === undefined ? null : parseLength(options.every);
  const reckoning = deadReckon(start, options.leg.map(readLeg), settings, everyM);
  const { date, spread, pacesPer100m } = settings;
  await deliver(
    options.format === "json"
      ? `${JSON.stringify({ date, spread, pacesPer100m, ...reckoning, cautions: FIX_CAUTIONS }, null, 2)}\n`
      : lines([
          row("Day", date),
          ...reckoning.places.flatMap(reckonedRows),
          ...reckoning.notes.map((note) => row("Warning", note)),
          ...cautions(),
        ]),
    undefined,
  );
}

const lines = (rows: readonly string[]): string => rows.map((line) => `${line}\n`).join("");
const cautions = (): string[] => FIX_CAUTIONS.map((caution) => row("Caution", caution));

const placeRows = (at: LonLat): string[] => [
  row("Place", formatPosition(at, "dd")),
  row("", formatPosition(at, "mgrs")),
];

const ellipseText = ({ semiMajorM, semiMinorM, bearing }: ErrorEllipse): string =>
  `95 times in 100 within ${formatLength(semiMajorM)} along ${formatBearing(bearing)} or ${formatBearing(normalise360(bearing + 180))} true, ${formatLength(semiMinorM)} across`;

function fixRows(fix: Fix, date: string): string[] {
  return [
    row("Day", date),
    ...placeRows(fix.at),
    row("Known to", ellipseText(fix.ellipse95)),
    ...fix.bearings.map((bearing) => row(bearing.name, bearingText(bearing))),
    ...(fix.bearings.length > 2
      ? fix.corners.map(({ pair, at, crossingDeg }) =>
          row(
            "Meeting",
            `${pair.map((i) => fix.bearings[i]?.name).join(" and ")} at ${formatNumber(crossingDeg)}°: ${at ? formatPosition(at, "dd") : "nowhere"}`,
          ),
        )
      : []),
    ...fix.warnings.map(({ words }) => row("Warning", words)),
  ];
}

function bearingText({ trueDeg, distanceM, residualDeg, declinationDeg, without }: FixedBearing): string {
  const north =
    declinationDeg === null
      ? ""
      : ` with a declination of ${formatNumber(declinationDeg, 1)}°, east positive`;
  const left = without ? `; without it ${formatLength(without.movedM)} away` : "";
  return `${formatNumber(trueDeg, 1)}° true${north}; ${formatLength(distanceM)} off; ${formatNumber(residualDeg, 1)}° from the fit${left}`;
}

function reckonedRows({ leg, alongM, walkedM, at, ellipse95 }: ReckonedPlace): string[] {
  const where = leg === 0 ? "Start" : plain(`Leg ${leg}, ${formatLength(alongM)}`);
  return [
    row(where, `${formatPosition(at, "dd")}, ${formatPosition(at, "mgrs")}`),
    ...(leg === 0 ? [] : [row("", `${formatLength(walkedM)} walked; ${ellipseText(ellipse95)}`)]),
  ];
}
