/**
 * Bearing-and-pace exercises on a playing field or in a park, with no map: stakes at computed places, all within a rectangle.
 * Bearings are magnetic, read off the compass as it is; places are metres east and north of the first stake, on magnetic north.
 */
import { Fault } from "../fault.ts";
import { DEG, magneticBearing, normalise360, type MagneticBearing } from "../units/angle.ts";
import { type Chance, chanceOf } from "./course-random.ts";
import { closingError, type ClosingError } from "./closing-error.ts";
import type { Range } from "./course.ts";

export interface FieldWish {
  /** Size of the ground, metres: along `alongDeg` and across it. */
  readonly lengthM: number;
  readonly widthM: number;
  /** Magnetic bearing of its longer side. */
  readonly alongDeg: number;
  readonly legs: number;
  /** Lengths of legs, whole metres. */
  readonly legM: Range;
  /** Bearings are multiples of this. */
  readonly bearingStepDeg: number;
  /** "closed": the last leg leads back to the first stake, as nearly as whole bearings and metres allow. */
  readonly shape: "closed" | "open";
  readonly seed: number;
}

export interface Stake {
  readonly label: string;
  /** From the first stake, metres, magnetic north up. */
  readonly eastM: number;
  readonly northM: number;
  /** Straight from the first stake, for setting out: null for the first itself. */
  readonly fromFirst: { readonly bearingDeg: MagneticBearing; readonly distanceM: number } | null;
  /** Radius of the ring within which a learner is right, metres. */
  readonly ringM: number;
}

export interface FieldLeg {
  readonly from: string;
  readonly to: string;
  readonly bearingDeg: MagneticBearing;
  readonly lengthM: number;
}

export interface FieldCourse {
  readonly wish: FieldWish;
  readonly stakes: readonly Stake[];
  readonly legs: readonly FieldLeg[];
  /** Where the first stake stands: from the corner of the ground that lies back and to the left when looking along it, metres. */
  readonly first: { readonly alongM: number; readonly acrossM: number };
  /** Of a closed one, walked exactly as written; null for an open one. */
  readonly closing: ClosingError | null;
}

/** A learner who holds 3° and counts to 5 % is good: common practice, no source for the figures. The stake itself is seen from 2 m. */
const GOOD_DEG = 3;
const GOOD_SHARE = 0.05;
const SEEN_M = 2;
/** Stakes nearer together would be taken for one another, metres. */
const APART_M = 8;
/** Room left at the edge of the ground, metres. */
const EDGE_M = 3;
const TRIES = 20_000;
/** Legs this near to going straight back teach nothing, degrees. */
const STRAIGHT_BACK_DEG = 25;

/** How far one who is good may be off after so many metres on one course. */
export const ringM = (walkedM: number): number =>
  SEEN_M + walkedM * Math.hypot(Math.tan(GOOD_DEG * DEG), GOOD_SHARE);

/**
 * A course for small ground; the same wish gives the same course.
 * @throws Fault "bad-argument" for a wish that cannot be; "no-course" when the ground is too small for it
 */
export function fieldCourse(wish: FieldWish): FieldCourse {
  check(wish);
  const chance = chanceOf(wish.seed);
  for (let n = 0; n < TRIES; n++) {
    const legs = thrown(wish, chance);
    const found = legs && placed(wish, legs, chance);
    if (found) return found;
  }
  throw new Fault(
    "no-course",
    `${wish.legs} legs of ${wish.legM[0]} m to ${wish.legM[1]} m were not fitted on ${wish.lengthM} m by ${wish.widthM} m.`,
    null,
    "Ask for fewer or shorter legs, or use larger ground.",
  );
}

function check({ lengthM, widthM, alongDeg, legs, legM, bearingStepDeg, seed }: FieldWish): void {
  const bad = (what: string): Fault => new Fault("bad-argument", what, null, "Correct it.");
  if (!(Math.min(lengthM, widthM) >= 20 && Math.max(lengthM, widthM) <= 2000))
    throw bad(`Small ground measures 20 m to 2000 m, not ${lengthM} m by ${widthM} m.`);
  if (!Number.isFinite(alongDeg)) throw bad("The direction of the ground is a bearing in degrees.");
  if (!Number.isInteger(legs) || legs < 2 || legs > 20) throw bad(`2 to 20 legs can be set, not ${legs}.`);
  if (!(legM[0] >= 10 && legM[0] <= legM[1] && legM[1] <= 1000))
    throw bad(`Legs measure 10 m to 1000 m, the least first, not ${legM[0]} m to ${legM[1]} m.`);
  if (!(bearingStepDeg >= 1 && bearingStepDeg <= 30 && 360 % bearingStepDeg === 0))
    throw bad(`Bearings go by steps that divide 360°, 1° to 30°, not ${bearingStepDeg}°.`);
  if (!Number.isSafeInteger(seed)) throw bad("A seed is a whole number.");
}

interface Vector {
  readonly bearingDeg: number;
  readonly lengthM: number;
}

/** Legs by chance; null when the last leg of a closed one does not keep the lengths asked for. */
function thrown(
  { legs, legM: [least, most], bearingStepDeg: step, shape }: FieldWish,
  chance: Chance,
): Vector[] | null {
  const free = shape === "closed" ? legs - 1 : legs;
  const found: Vector[] = [];
  for (let i = 0; i < free; i++) {
    const before = found.at(-1);
    const bearingDeg = Math.floor(chance.between(0, 360 / step)) * step;
    if (before && Math.abs(((bearingDeg - before.bearingDeg + 540) % 360) - 180) > 180 - STRAIGHT_BACK_DEG)
      return null;
    found.push({ bearingDeg, lengthM: Math.round(chance.between(least, most)) });
  }
  if (shape === "open") return found;
  const back = closingError(found);
  const bearingDeg = normalise360(Math.round((back.bearingDeg + 180) / step) * step);
  const lengthM = Math.round(back.distanceM);
  if (lengthM < least || lengthM > most) return null;
  return [...found, { bearingDeg, lengthM }];
}

function placed(wish: FieldWish, vectors: readonly Vector[], chance: Chance): FieldCourse | null {
  const places: { readonly eastM: number; readonly northM: number }[] = [{ eastM: 0, northM: 0 }];
  for (const { bearingDeg, lengthM } of vectors) {
    const { eastM, northM } = places.at(-1) as (typeof places)[number];
    places.push({
      eastM: eastM + lengthM * Math.sin(bearingDeg * DEG),
      northM: northM + lengthM * Math.cos(bearingDeg * DEG),
    });
  }
  const closes = wish.shape === "closed";
  const end = places.at(-1) as (typeof places)[number];
  const closing = closes ? closingError(vectors) : null;
  // The last leg ends at the first stake, or beside it by no more than rounding of the bearing can be.
  if (closing && closing.distanceM > ringM(vectors.at(-1)?.lengthM ?? 0)) return null;
  const stakes = closes ? places.slice(0, -1) : places;
  for (const [i, a] of stakes.entries())
    for (const b of stakes.slice(i + 1))
      if (Math.hypot(a.eastM - b.eastM, a.northM - b.northM) < APART_M) return null;
  const first = room(wish, [...stakes, ...(closes ? [end] : [])], chance);
  if (!first) return null;
  const label = (i: number): string => (closes && i === stakes.length ? "1" : String(i + 1));
  return {
    wish,
    stakes: stakes.map(({ eastM, northM }, i) => ({
      label: label(i),
      eastM,
      northM,
      fromFirst:
        i === 0
          ? null
          : {
              bearingDeg: magneticBearing(Math.atan2(eastM, northM) / DEG),
              distanceM: Math.hypot(eastM, northM),
            },
      ringM: i === 0 ? SEEN_M : ringM(vectors[i - 1]?.lengthM ?? 0),
    })),
    legs: vectors.map(({ bearingDeg, lengthM }, i) => ({
      from: label(i),
      to: label(i + 1),
      bearingDeg: magneticBearing(bearingDeg),
      lengthM,
    })),
    first,
    closing,
  };
}

/** Where the first stake stands so that all lie on the ground, by chance where there is more room; null when they do not fit. */
function room(
  { lengthM, widthM, alongDeg }: FieldWish,
  places: readonly { readonly eastM: number; readonly northM: number }[],
  chance: Chance,
): FieldCourse["first"] | null {
  const [sin, cos] = [Math.sin(alongDeg * DEG), Math.cos(alongDeg * DEG)];
  const along = places.map(({ eastM, northM }) => eastM * sin + northM * cos);
  const across = places.map(({ eastM, northM }) => eastM * cos - northM * sin);
  const at = (values: readonly number[], sizeM: number): number | null => {
    const low = EDGE_M - Math.min(...values);
    const high = sizeM - EDGE_M - Math.max(...values);
    return low <= high ? chance.between(low, high) : null;
  };
  const [alongM, acrossM] = [at(along, lengthM), at(across, widthM)];
  return alongM === null || acrossM === null ? null : { alongM, acrossM };
}
