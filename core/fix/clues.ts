/** What a person sees where they stand, as a density over places: a bearing, a height, how steep the ground is and which way it faces. */
import { Fault } from "../fault.ts";
import type { ElevationModel } from "../terrain/elevation.ts";
import { slopeAt } from "../terrain/slope-at.ts";
import { normalise180 } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import type { LogDensity, OnLine } from "./line-samples.ts";
import { rayAt } from "./rays.ts";
import {
  checkSightings,
  errorOf,
  type NorthsOf,
  type NorthsThere,
  type Sighting,
  trueOf,
} from "./sighting.ts";

export type Clue =
  /** A bearing from the place to a known point. */
  | { readonly what: "sight"; readonly sighting: Sighting }
  /** An altimeter, metres above the map's datum. */
  | { readonly what: "height"; readonly elevationM: number; readonly errorM?: number }
  /** The ground's slope, degrees from level. */
  | { readonly what: "slope"; readonly deg: number; readonly errorDeg?: number }
  /** The way the ground faces, downhill, on a north. */
  | {
      readonly what: "facing";
      readonly deg: number;
      readonly north: Sighting["north"];
      readonly errorDeg?: number;
    };

/** Standard deviations: an altimeter set within the hours before, a slope and a facing judged by eye. Common practice, no source. */
export const ALTIMETER_M = 10;
export const SLOPE_DEG = 5;
export const FACING_DEG = 20;

const bell = (deviations: number): number => (-deviations * deviations) / 2;
/** Where the model has no height, a clue is taken to be one standard deviation off: neither for the place nor against it. */
const UNKNOWN = bell(1);

/**
 * Logarithm of how well places go with the clues; a normal spread for each.
 * Bearings are taken as independent here: an error that several magnetic ones share counts with each of them.
 * @param elevation null when there is none: then height, slope and facing cannot be used
 * @throws Fault "bad-argument" for a clue that cannot be, or one that needs heights there are not
 */
export function cluesDensity(
  clues: readonly Clue[],
  elevation: ElevationModel | null,
  norths: NorthsOf,
): ClueDensity {
  const parts = clues.map((clue) => partOf(clue, elevation, norths));
  return {
    all: (place) => parts.reduce((sum, part) => sum + part(place), 0),
    deviations: (place) => parts.map((part) => Math.sqrt(-2 * part(place))),
  };
}

export interface ClueDensity {
  readonly all: LogDensity;
  /** How many standard deviations each clue is off at a place. */
  readonly deviations: (place: OnLine) => number[];
}

function partOf(clue: Clue, elevation: ElevationModel | null, norths: NorthsOf): LogDensity {
  if (clue.what === "sight") return sightPart(clue.sighting, norths);
  if (!elevation)
    throw new Fault(
      "bad-argument",
      "A height or a slope is no clue here: the map has no terrain.",
      null,
      "Leave it out, or choose a map with terrain.",
    );
  if (clue.what === "height") {
    const sd = checked("An altimeter's error", clue.errorM ?? ALTIMETER_M, 500, "m");
    checked("A height", Math.abs(clue.elevationM) + 1e-9, 10_000, "m");
    return ({ at }) => {
      const there = elevation.at(at);
      return Number.isNaN(there) ? UNKNOWN : bell((there - clue.elevationM) / sd);
    };
  }
  if (clue.what === "slope") {
    const sd = checked("A slope's error", clue.errorDeg ?? SLOPE_DEG, 90, "°");
    if (!(clue.deg >= 0 && clue.deg <= 90))
      throw new Fault("bad-argument", `A slope of ${clue.deg}° cannot be: it runs from 0° to 90°.`);
    return ({ at }) => {
      const there = slopeAt(elevation, at);
      return there ? bell((there.deg - clue.deg) / sd) : UNKNOWN;
    };
  }
  const sd = checked("A facing's error", clue.errorDeg ?? FACING_DEG, 90, "°");
  if (!(clue.deg >= 0 && clue.deg <= 360))
    throw new Fault("bad-argument", `A bearing of ${clue.deg}° does not exist: it runs from 0° to 360°.`);
  return ({ at }) => {
    const aspect = slopeAt(elevation, at)?.aspect;
    if (aspect === undefined || aspect === null) return UNKNOWN;
    return bell(normalise180(trueOf(clue, norths(at)) - aspect) / sd);
  };
}

function sightPart(sighting: Sighting, norths: NorthsOf): LogDensity {
  checkSightings([sighting]);
  return ({ at }) => bell(sightOff(sighting, norths(at), at).deviations);
}

/** A bearing as seen from a place: how far it is off, degrees and standard deviations, its common error taken in. */
export function sightOff(
  sighting: Sighting,
  there: NorthsThere,
  at: LonLat,
): {
  readonly residualDeg: number;
  readonly deviations: number;
  readonly distanceM: number;
  readonly sdDeg: number;
} {
  const sdDeg = Math.hypot(errorOf(sighting), sighting.north === "magnetic" ? there.commonErrorDeg : 0);
  const observed = trueOf(sighting, there);
  const { residualDeg, distanceM } = rayAt(
    { known: sighting.known, from: "place", observed, errorDeg: sdDeg, commonErrorDeg: 0 },
    at,
  );
  return { residualDeg, deviations: residualDeg / sdDeg, distanceM, sdDeg };
}

function checked(what: string, value: number, most: number, unit: string): number {
  if (value > 0 && value <= most) return value;
  throw new Fault(
    "bad-argument",
    `${what} must be more than 0 ${unit} and at most ${most} ${unit}, not ${value} ${unit}.`,
  );
}

/**
 * Norths everywhere around a middle, from three places: they turn so evenly over some kilometres that between them a plane
 * is within 0.001°. Working them out at every metre of line would take a thousand times as long.
 */
export function evenNorths(norths: NorthsOf, middle: LonLat): NorthsOf {
  const STEP = 0.02; // degrees, some two kilometres
  const [lon, lat] = middle;
  const eastward = lon > 0 ? -STEP : STEP; // never across ±180°
  const northward = lat > 0 ? -STEP : STEP;
  const [here, east, north] = [norths(middle), norths([lon + eastward, lat]), norths([lon, lat + northward])];
  const plane =
    (of: (n: NorthsThere) => number) =>
    (at: LonLat): number =>
      of(here) +
      (normalise180(of(east) - of(here)) * normalise180(at[0] - lon)) / eastward +
      (normalise180(of(north) - of(here)) * (at[1] - lat)) / northward;
  const [declination, convergence] = [plane((n) => n.declinationDeg), plane((n) => n.convergenceDeg)];
  return (at) => ({ ...here, declinationDeg: declination(at), convergenceDeg: convergence(at) });
}
