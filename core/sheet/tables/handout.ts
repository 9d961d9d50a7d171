/** Tables to be worked out by learners: what is left for them to fill, and how near an answer must come. */
import { type LegFigures } from "../../legs/figures.ts";
import { compassOf, northAsked, unitOf } from "../../legs/how/how-about.ts";
import { bearingOn, dialledNorth, formatOn } from "../../legs/norths/bearing-to-set.ts";
import type { LegColumnId, LegTable } from "../../legs/table/leg-table.ts";
import { dialColumn } from "../../legs/table/leg-table.ts";
import { formatBearing, formatHeight, formatLength, formatNumber } from "../../units/format.ts";
import type { Tolerance } from "./tolerance.ts";

/** What a learner fills in when nothing else is chosen: bearing, distance, paces, climb. */
export const usualHidden = (table: LegTable): LegColumnId[] => [
  ...new Set<LegColumnId>(["bearing", dialColumn(table), "distanceM", "paces", "climbM"]),
];

/** What a learner may be asked for, in the order it is offered: figures that map, ruler and compass give. */
export const ASKED_COLUMNS = [
  "bearing",
  "other",
  "distanceM",
  "paces",
  "climbM",
  "descentM",
  "timeS",
] as const satisfies readonly LegColumnId[];

/** Columns that tell one another: with one of them left out the rest of its row goes too. */
const TELL_ALIKE: readonly (readonly LegColumnId[])[] = [
  [
    "bearing",
    "back",
    "other",
    "bearingTrueDeg",
    "bearingGridDeg",
    "bearingMagneticDeg",
    "backBearingMagneticDeg",
  ],
  ["distanceM", "slopeDistanceM", "runningDistanceM"],
  ["climbM", "elevationErrorM"],
  ["timeS", "arrival", "runningTimeS"],
];
/** Sentences with bearings, lengths or counts in them: a learner's sheet has lines to write on instead. */
const TELLING: readonly LegColumnId[] = [
  "instruction",
  "crossings",
  "landforms",
  "sight",
  "onTheWay",
  "handrails",
  "backstop",
  "attackPoints",
  "aimOff",
  "hazards",
  "odds",
  "better",
  "escape",
  "notes",
];

/** Everything that must be left out with the columns named, so that none of them can be read off another. */
export function hiddenWith(hidden: readonly string[]): ReadonlySet<string> {
  const alike = TELL_ALIKE.filter((row) => row.some((id) => hidden.includes(id))).flat();
  return new Set<string>([...hidden, ...alike, ...(hidden.length > 0 ? TELLING : [])]);
}

/** The tolerance in one sentence. */
export function toleranceStatement(table: LegTable, tolerance: Tolerance): string {
  const unit = unitOf(table);
  return `An answer counts as right within ${formatNumber(tolerance.bearingDeg, decimals(tolerance.bearingDeg))}° of the bearing, ${percent(tolerance.distanceShare)} of the distance or ${formatLength(tolerance.distanceM, unit)} if that is more, ${percent(tolerance.pacesShare)} of the paces, ${formatHeight(heightTolerance(table, tolerance), unit)} of climb or descent.`;
}

const decimals = (value: number): number => (Number.isInteger(value) ? 0 : 1);
const percent = (share: number): string => `${formatNumber(share * 100)}\u00a0%`;
const heightTolerance = ({ map }: LegTable, { heightM }: Tolerance): number => {
  const interval = map?.interval;
  return Math.max(heightM, interval ? interval.value * (interval.unit === "ft" ? 0.3048 : 1) : 0);
};

/** "58–62°": what a marker accepts; null for columns without a tolerance and for figures that are not known. */
export function acceptedWords(
  id: string,
  leg: LegFigures,
  table: LegTable,
  tolerance: Tolerance,
): string | null {
  const unit = unitOf(table);
  const between = (value: number | null, off: number, say: (value: number) => string): string | null =>
    value === null ? null : `${say(Math.max(0, value - off))} to ${say(value + off)}`;
  switch (id) {
    case "bearing":
    case "other": {
      const dialled = dialledNorth(compassOf(table), northAsked(table));
      const asked = northAsked(table);
      const beside = dialled !== asked ? dialled : asked === "magnetic" ? "grid" : "magnetic";
      const value = bearingOn(leg, id === "bearing" ? asked : beside);
      if (value === null) return null;
      const compass = compassOf(table);
      // Three figures, as the table has them.
      const say = (deg: number): string =>
        compass.unit === "degrees"
          ? formatBearing(deg, { graduationDeg: compass.graduationDeg, threeFigures: true })
          : formatOn(compass, deg);
      return `${say(value - tolerance.bearingDeg)} to ${say(value + tolerance.bearingDeg)}`;
    }
    case "distanceM":
      return between(
        leg.distanceM,
        Math.max(tolerance.distanceM, leg.distanceM * tolerance.distanceShare),
        (metres) => formatLength(metres, unit),
      );
    case "paces":
      return between(leg.paces, (leg.paces ?? 0) * tolerance.pacesShare, (paces) => formatNumber(paces));
    case "climbM":
    case "descentM":
      return between(leg[id], heightTolerance(table, tolerance), (metres) => formatHeight(metres, unit));
    default:
      return null;
  }
}
