/** A bearing taken with a compass, and what turns it into a true one where it was taken. */
import { Fault } from "../fault.ts";
import { type Grid, toGrid } from "../geodesy/grid.ts";
import { toUtm } from "../geodesy/utm.ts";
import { utmZoneOf } from "../geodesy/utm-zone.ts";
import { declinationNotes, declinationsAt } from "../legs/norths/declinations.ts";
import type { DeclinationChoice } from "../legs/leg-settings.ts";
import { type TrueBearing, trueBearing } from "../units/angle.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";

export type North = "magnetic" | "grid" | "true";

/** A hand compass read by a careful person, one standard deviation, degrees: common practice, no source. */
export const HAND_COMPASS_DEG = 2;

/**
 * A printed declination's error, one standard deviation, degrees: margins print it to half a degree
 * (US Army TC 3-25.26, para 6-10); what its age adds is said beside the declination. No source for the figure.
 */
const PRINTED_ERROR_DEG = 0.5;

/** One bearing between a known point and the place that is looked for. */
export interface Sighting {
  /** The known point: what was sighted in a resection, where one stood in an intersection. */
  readonly known: LonLat;
  /** What to call it; null for "bearing 1", "bearing 2" … */
  readonly name: string | null;
  /** As read, degrees clockwise from `north`. */
  readonly deg: number;
  readonly north: North;
  /** Standard deviation of the reading, degrees; left out it is that of a hand compass, 2°. */
  readonly errorDeg?: number;
}

/** What bearings depend on besides their reading. */
export interface FixSettings {
  /** Day of the readings, YYYY-MM-DD. */
  readonly date: string;
  readonly declination: DeclinationChoice;
  /** Height above the sea for the declination, metres; null takes sea level: 1000 m are about 0.01°. */
  readonly heightM: number | null;
  /** The grid of grid bearings; null is UTM, in the zone of the first known point. */
  readonly grid: Grid | null;
  /**
   * An error all magnetic bearings have in common, one standard deviation, degrees: that of the declination, and of
   * the compass itself. Null takes the model's own error at the place, or half a degree for a printed declination.
   */
  readonly commonErrorDeg: number | null;
}

export const usualFixSettings = (date: string): FixSettings => ({
  date,
  declination: { use: "model", printed: null, beyondModel: false },
  heightM: null,
  grid: null,
  commonErrorDeg: null,
});

export interface NorthsThere {
  /** Magnetic, and grid, minus true north, degrees, east positive. */
  readonly declinationDeg: number;
  readonly convergenceDeg: number;
  /** Error all magnetic bearings share, one standard deviation, degrees. */
  readonly commonErrorDeg: number;
  /** What a person must know of the declination there. */
  readonly notes: readonly string[];
}

/** Norths at any place, in one grid. Declination is worked out only when some bearing is magnetic. */
export type NorthsOf = (at: LonLat) => NorthsThere;

/**
 * @param norths of the bearings that will be turned
 * @param first fixes the UTM zone when the settings name no grid
 * @throws Fault (from the function returned) "out-of-range" when there is no declination for the day, "bad-argument"
 *   for a day that is none or a printed declination that cannot be
 */
export function northsOf(settings: FixSettings, norths: readonly North[], first: LonLat): NorthsOf {
  const { grid, heightM, commonErrorDeg } = settings;
  const zone = utmZoneOf(first);
  const magnetic = norths.includes("magnetic");
  const gridded =
    norths.includes("grid") || (magnetic && settings.declination.printed?.of === "gridMagnetic");
  return (at) => {
    const convergenceDeg = !gridded ? 0 : (grid ? toGrid(grid, at) : toUtm(at, zone)).convergenceDeg;
    if (!magnetic) return { declinationDeg: 0, convergenceDeg, commonErrorDeg: 0, notes: [] };
    const declinations = declinationsAt(at, heightM, convergenceDeg, settings);
    const notes = declinationNotes(declinations);
    if (declinations.deg === null)
      throw new Fault(
        "out-of-range",
        notes[0] ?? "There is no declination here.",
        null,
        "Choose another date, or give the declination printed on the map.",
      );
    const modelError = declinations.from === "model" ? declinations.model?.uncertaintyDeg : undefined;
    return {
      declinationDeg: declinations.deg,
      convergenceDeg,
      commonErrorDeg: commonErrorDeg ?? modelError ?? PRINTED_ERROR_DEG,
      notes,
    };
  };
}

/** true = magnetic + declination = grid + convergence, with the norths of the place where the bearing was taken. */
export function trueOf({ deg, north }: Pick<Sighting, "deg" | "north">, there: NorthsThere): TrueBearing {
  if (north === "magnetic") return trueBearing(deg + there.declinationDeg);
  return trueBearing(north === "grid" ? deg + there.convergenceDeg : deg);
}

export const errorOf = ({ errorDeg = HAND_COMPASS_DEG }: Pick<Sighting, "errorDeg">): number => errorDeg;

/** @throws Fault "bad-argument" naming the bearing that cannot be */
export function checkSightings(sightings: readonly Sighting[]): void {
  sightings.forEach((sighting, i) => {
    const where = nameOf(sighting, i);
    checkLonLat(sighting.known, where);
    if (!(sighting.deg >= 0 && sighting.deg <= 360))
      throw new Fault(
        "bad-argument",
        `A bearing of ${sighting.deg}° does not exist: it runs from 0° to 360°.`,
        where,
      );
    if (!(errorOf(sighting) > 0 && errorOf(sighting) <= 45))
      throw new Fault(
        "bad-argument",
        `A bearing's error must be more than 0° and at most 45°, not ${errorOf(sighting)}°.`,
        where,
        "A hand compass is read to about 2°.",
      );
  });
}

/** "Knott", or "bearing 2". */
export const nameOf = ({ name }: Pick<Sighting, "name">, i: number): string => name ?? `bearing ${i + 1}`;
