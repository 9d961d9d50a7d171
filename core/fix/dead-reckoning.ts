/**
 * Dead reckoning: the place after a list of legs, each a bearing and a distance or a count of paces, and how surely it is known.
 *
 * Spread after legs dᵢ on unit vectors uᵢ (vᵢ to the right of them):
 *   Σ = start + Σᵢ [(random share · |dᵢ|)² uᵢuᵢᵀ + side(dᵢ)² vᵢvᵢᵀ] + (systematic share)² DDᵀ + (common turn)² RRᵀ
 * with D the whole way from the start as the crow flies (a count that is too long is so on every leg, so that going there and
 * back undoes it) and R the part of D that was walked on magnetic bearings, turned to the right.
 * Source: propagation of variances to first order; side(d) as in the odds (`sideSpreadM`).
 */
import { Fault } from "../fault.ts";
import { direct } from "../geodesy/geodesic.ts";
import { checkSpread, sideSpreadM, type Steering, USUAL_SPREAD } from "../legs/odds/spread.ts";
import { checkPacesPer100m } from "../travel/paces.ts";
import { DEG, type TrueBearing } from "../units/angle.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import { addCovariances, alongCovariance, type Covariance, type ErrorEllipse, ellipseOf } from "./ellipse.ts";
import { type FixSettings, type North, northsOf, trueOf } from "./sighting.ts";

export interface ReckonedLeg {
  /** As walked, degrees clockwise from `north`. */
  readonly deg: number;
  readonly north: North;
  /** How far: metres, or paces counted. */
  readonly length: { readonly metres: number } | { readonly paces: number };
}

export interface ReckoningSpread {
  /** Standard deviation of the start, east and north alike, metres: 0 when it is known. */
  readonly startM: number;
  /** How the bearing is kept: the setting is drawn anew on every leg, the hops along it. */
  readonly steering: Steering;
  /** Standard deviations of the pace count as shares: the part that is the same all day, and that of each leg. */
  readonly paceSystematic: number;
  readonly paceRandom: number;
}

/** Together 5 %, in the middle of 3 to 10 % for a pace count: common practice, no source for the parts. */
export const USUAL_RECKONING: ReckoningSpread = {
  startM: 0,
  steering: USUAL_SPREAD.steering,
  paceSystematic: 0.03,
  paceRandom: 0.04,
};

export interface ReckoningSettings extends FixSettings {
  readonly spread: ReckoningSpread;
  /** Paces per 100 m in the walker's own count. */
  readonly pacesPer100m: number;
}

export interface ReckonedPlace {
  /** How many legs were begun: 0 at the start. */
  readonly leg: number;
  /** Metres along that leg, and from the start along the way. */
  readonly alongM: number;
  readonly walkedM: number;
  readonly at: LonLat;
  readonly covariance: Covariance;
  readonly ellipse95: ErrorEllipse;
}

export interface Reckoning {
  /** The start, the end of every leg and, when asked for, places between, in order of walking. */
  readonly places: readonly ReckonedPlace[];
  readonly end: ReckonedPlace;
  readonly legs: readonly { readonly bearing: TrueBearing; readonly distanceM: number }[];
  /** What a person must know of the declination. */
  readonly notes: readonly string[];
}

/** Sums so far: spread of the finished legs, the way as the crow flies, and its part on magnetic bearings. */
interface Sums {
  readonly covariance: Covariance;
  readonly way: readonly [eastM: number, northM: number];
  readonly magnetic: readonly [eastM: number, northM: number];
}

/**
 * The place after the legs, and the ellipse along the way.
 * @param everyM also at places this far apart on every leg, metres; null for the ends of legs alone
 * @throws Fault "bad-argument" for a start, leg, spread or pace count that cannot be, "out-of-range" when there is no
 *   declination for the day
 */
export function deadReckon(
  start: LonLat,
  legs: readonly ReckonedLeg[],
  settings: ReckoningSettings,
  everyM: number | null = null,
): Reckoning {
  checkLonLat(start, "start");
  checkReckoning(settings);
  if (legs.length === 0)
    throw new Fault("bad-argument", "There is no leg to reckon.", null, "Give a bearing and a distance.");
  if (everyM !== null && !(everyM >= 1))
    throw new Fault("bad-argument", `Places must be 1 m apart or more, not ${everyM} m.`);
  const { spread } = settings;
  const norths = northsOf(
    settings,
    legs.map(({ north }) => north),
    start,
  );
  const there = norths(start);
  const common = there.commonErrorDeg * DEG;
  const placeOf = (leg: number, alongM: number, walkedM: number, at: LonLat, sums: Sums): ReckonedPlace => {
    const covariance = [
      sums.covariance,
      alongCovariance(...sums.way, spread.paceSystematic),
      alongCovariance(sums.magnetic[1], -sums.magnetic[0], common),
    ].reduce(addCovariances);
    return { leg, alongM, walkedM, at, covariance, ellipse95: ellipseOf(covariance) };
  };
  const startVariance = spread.startM * spread.startM;
  let sums: Sums = {
    covariance: { ee: startVariance, en: 0, nn: startVariance },
    way: [0, 0],
    magnetic: [0, 0],
  };
  let [at, walkedM] = [start, 0];
  const places = [placeOf(0, 0, 0, start, sums)];
  const walked: { bearing: TrueBearing; distanceM: number }[] = [];
  legs.forEach((leg, i) => {
    const distanceM = metresOf(leg, i, settings.pacesPer100m);
    const bearing = trueOf(leg, norths(at));
    const after = (metres: number): Sums => afterPart(sums, leg.north, bearing, metres, spread);
    const from = at;
    if (everyM !== null)
      for (let alongM = everyM; alongM < distanceM; alongM += everyM)
        places.push(placeOf(i + 1, alongM, walkedM + alongM, direct(from, bearing, alongM), after(alongM)));
    at = direct(from, bearing, distanceM);
    sums = after(distanceM);
    walkedM += distanceM;
    places.push(placeOf(i + 1, distanceM, walkedM, at, sums));
    walked.push({ bearing, distanceM });
  });
  return { places, end: places.at(-1) as ReckonedPlace, legs: walked, notes: there.notes };
}

function afterPart(
  { covariance, way, magnetic }: Sums,
  north: North,
  bearing: TrueBearing,
  metres: number,
  { steering, paceRandom }: ReckoningSpread,
): Sums {
  const [east, northward] = [Math.sin(bearing * DEG), Math.cos(bearing * DEG)];
  const add = ([e, n]: readonly [number, number]): readonly [number, number] => [
    e + metres * east,
    n + metres * northward,
  ];
  return {
    covariance: [
      covariance,
      alongCovariance(east, northward, paceRandom * metres),
      alongCovariance(northward, -east, sideSpreadM(steering, metres)),
    ].reduce(addCovariances),
    way: add(way),
    magnetic: north === "magnetic" ? add(magnetic) : magnetic,
  };
}

/** Longer than anyone walks on a bearing. No source. */
const LONGEST_M = 100_000;

function metresOf({ length, deg }: ReckonedLeg, i: number, pacesPer100m: number): number {
  const metres = "metres" in length ? length.metres : (length.paces / pacesPer100m) * 100;
  if (!(deg >= 0 && deg <= 360))
    throw new Fault(
      "bad-argument",
      `A bearing of ${deg}° does not exist: it runs from 0° to 360°.`,
      `leg ${i + 1}`,
    );
  if (!(metres > 0 && metres <= LONGEST_M))
    throw new Fault(
      "bad-argument",
      `A leg must be more than 0 m and at most ${LONGEST_M / 1000} km long, not ${metres} m.`,
      `leg ${i + 1}`,
    );
  return metres;
}

function checkReckoning({ spread, pacesPer100m }: ReckoningSettings): void {
  const { startM, steering, paceSystematic, paceRandom } = spread;
  checkPacesPer100m(pacesPer100m);
  checkSpread({ ...USUAL_SPREAD, steering, paceError: Math.max(paceSystematic, paceRandom) });
  if (!(startM >= 0 && startM <= LONGEST_M && paceSystematic >= 0 && paceRandom >= 0))
    throw new Fault(
      "bad-argument",
      "The spread of the start and of the pace count cannot be less than 0.",
      null,
      "Correct it in the settings.",
    );
}
