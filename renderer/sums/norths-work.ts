/** Sums with bearings: one bearing on all three norths at a place on a day, with the rule in words. */
import { Fault } from "../../core/fault.ts";
import { gridMagneticAngle, northRule } from "../../core/geodesy/north-rule.ts";
import { toUtm } from "../../core/geodesy/utm.ts";
import {
  comparisonNotes,
  declinationNotes,
  declinationsAt,
  type Declinations,
} from "../../core/legs/norths/declinations.ts";
import {
  backBearing,
  gridBearing,
  gridToTrue,
  magneticBearing,
  magneticToTrue,
  normalise180,
  trueBearing,
  trueToGrid,
  trueToMagnetic,
  type TrueBearing,
} from "../../core/units/angle.ts";
import { formatBearing, formatDay, formatEastWest, formatNumber } from "../../core/units/format.ts";
import { formatMils } from "../../core/units/mils.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import type { LonLat } from "../../core/units/position.ts";
import { formatQuadrant } from "../../core/units/quadrant.ts";
import type { North, Walk } from "../../core/walk/walk.ts";
import { sumsWords } from "../words/sums-words.ts";
import { filled, work, type Worked } from "./worked.ts";

const { how, faults } = sumsWords.norths;

export interface Norths {
  /** Grid minus true north, degrees, east positive, of the place's UTM zone. */
  readonly convergenceDeg: number;
  /** Magnetic minus true north; null when it cannot be had. */
  readonly declinationDeg: number | null;
  /** Magnetic minus grid north. */
  readonly gridMagneticDeg: number | null;
  readonly declinations: Declinations;
  readonly zone: string;
}

/**
 * @param heightM null takes sea level
 * @throws Fault "bad-argument" for a day that is none or a printed declination that cannot be
 */
export function northsAt(
  lonLat: LonLat,
  heightM: number | null,
  rules: Pick<Walk, "date" | "declination">,
): Norths {
  const { convergenceDeg, zone } = toUtm(lonLat);
  const declinations = declinationsAt(lonLat, heightM, convergenceDeg, rules);
  const { deg } = declinations;
  return {
    convergenceDeg,
    declinationDeg: deg,
    gridMagneticDeg: deg === null ? null : normalise180(gridMagneticAngle(deg, convergenceDeg)),
    declinations,
    zone: zone === 0 ? "UPS" : sumsWords.norths.zone(zone),
  };
}

export interface BearingAnswer {
  /** On each north, in degrees to a tenth; null when it cannot be had. */
  readonly on: Readonly<Record<North, string | null>>;
  readonly back: Readonly<Record<North, string | null>>;
  readonly mils: string;
  readonly quadrant: string;
}

const tenth = (degrees: number): string => formatBearing(degrees, { graduationDeg: 0.1 });

/** One bearing on every north. */
export const bearingsOf = (text: string, north: North, norths: Norths): Worked<BearingAnswer> =>
  work(() => {
    const degrees = parseBearing(filled(text));
    const { convergenceDeg, declinationDeg } = norths;
    const toTrue = trueOf(degrees, north, norths);
    const grid = trueToGrid(toTrue, convergenceDeg);
    const magnetic = declinationDeg === null ? null : trueToMagnetic(toTrue, declinationDeg);
    return {
      value: {
        on: { true: tenth(toTrue), grid: tenth(grid), magnetic: magnetic === null ? null : tenth(magnetic) },
        back: {
          true: tenth(backBearing(toTrue)),
          grid: tenth(backBearing(grid)),
          magnetic: magnetic === null ? null : tenth(backBearing(magnetic)),
        },
        mils: formatMils(degrees, 1),
        quadrant: formatQuadrant(degrees, 0.5),
      },
      how: [
        ...(north === "grid" ? [step(degrees, toTrue, north, "true", convergenceDeg)] : []),
        ...(north === "magnetic" ? [step(degrees, toTrue, north, "true", declinationDeg ?? 0)] : []),
        ...(north === "grid" ? [] : [step(toTrue, grid, "true", "grid", -convergenceDeg)]),
        ...(north === "magnetic" || magnetic === null
          ? []
          : [step(toTrue, magnetic, "true", "magnetic", -(declinationDeg ?? 0))]),
      ],
    };
  });

function trueOf(
  degrees: number,
  north: North,
  { convergenceDeg, declinationDeg, declinations }: Norths,
): TrueBearing {
  if (north === "true") return trueBearing(degrees);
  if (north === "grid") return gridToTrue(gridBearing(degrees), convergenceDeg);
  if (declinationDeg === null)
    throw new Fault(
      "bad-argument",
      faults.noDeclination,
      null,
      declinations.modelMissing ?? faults.writePrinted,
    );
  return magneticToTrue(magneticBearing(degrees), declinationDeg);
}

/** "51.0° magnetic + 15.3° = 66.3° true": as one writes it beside the sum. */
function step(from: number, to: number, fromNorth: North, toNorth: North, turn: number): string {
  const { north } = sumsWords.norths;
  const size = `${formatNumber(Math.abs(turn), 1)}°`;
  return how.step(tenth(from), north[fromNorth], turn < 0 ? "−" : "+", size, tenth(to), north[toNorth]);
}

/** What to do, in words: first for a bearing off the map's grid, then for one off true north. */
export function rulesOf({ declinationDeg, gridMagneticDeg }: Norths): string[] {
  if (declinationDeg === null || gridMagneticDeg === null) return [];
  return (["grid", "true"] as const).map((mapNorth) => {
    const rule = northRule(mapNorth === "grid" ? gridMagneticDeg : declinationDeg, mapNorth, 1);
    return how.rule(mapNorth, rule.reason, rule.toMagnetic, rule.fromMagnetic);
  });
}

/** What the norths rest on, and what must be known of them. */
export function northsRestOn({ declinations, convergenceDeg, zone }: Norths, date: string): string[] {
  const { deg, from, model } = declinations;
  return [
    ...(deg === null
      ? []
      : [
          from === "model" && model
            ? how.model(
                formatEastWest(deg, 2),
                model.model,
                formatDay(date),
                `${formatNumber(model.uncertaintyDeg, 1)}°`,
              )
            : how.printed(formatEastWest(deg, 2), formatDay(date)),
        ]),
    how.convergence(formatEastWest(convergenceDeg, 2), zone),
    ...declinationNotes(declinations),
    ...comparisonNotes(declinations),
  ];
}
