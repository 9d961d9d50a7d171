/**
 * Bearing-and-pace exercises on a playing field or in a park, with no map: stakes at computed places, all within a rectangle.
 * Bearings are magnetic, read off the compass as it is; places are metres east and north of the first stake, on magnetic north.
 */
import { Fault } from "../fault.ts";
import { DEG, magneticBearing, type MagneticBearing } from "../units/angle.ts";
import { type Chance, chanceOf } from "./course-random.ts";
import { closingError, type ClosingError, type WrittenLeg } from "./closing-error.ts";
import { checkShape, endOf, type ShapeWish, stakesOf, thrownLegs } from "./field-shapes.ts";

export interface FieldWish extends ShapeWish {
  /** Size of the ground, metres: along `alongDeg` and across it. */
  readonly lengthM: number;
  readonly widthM: number;
  /** Magnetic bearing of its longer side. */
  readonly alongDeg: number;
  /** Whose paces learners are told; null leaves each to count their own. */
  readonly paces?: FieldPaces | null;
  readonly seed: number;
}

/** A pace is two steps, or one in the count of some manuals. */
export interface FieldPaces {
  readonly per100m: number;
  readonly steps: 1 | 2;
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
  /** Whole paces of whoever they were asked for; null where each counts their own. */
  readonly paces: number | null;
}

interface Place {
  readonly eastM: number;
  readonly northM: number;
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
/** Paces of 100 m, of tall people's double paces and of small people's single steps, with room to spare. */
const PACES = [30, 250] as const;

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
    const legs = thrownLegs(wish, chance);
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

function check(wish: FieldWish): void {
  const { lengthM, widthM, alongDeg, legs, legM, bearingStepDeg, paces, seed } = wish;
  const bad = (what: string): Fault => new Fault("bad-argument", what, null, "Correct it.");
  if (!(Math.min(lengthM, widthM) >= 20 && Math.max(lengthM, widthM) <= 2000))
    throw bad(`Small ground measures 20 m to 2000 m, not ${lengthM} m by ${widthM} m.`);
  if (!Number.isFinite(alongDeg)) throw bad("The direction of the ground is a bearing in degrees.");
  if (!Number.isInteger(legs) || legs < 2 || legs > 20) throw bad(`2 to 20 legs can be set, not ${legs}.`);
  if (!(legM[0] >= 10 && legM[0] <= legM[1] && legM[1] <= 1000))
    throw bad(`Legs measure 10 m to 1000 m, the least first, not ${legM[0]} m to ${legM[1]} m.`);
  if (!(bearingStepDeg >= 1 && bearingStepDeg <= 30 && 360 % bearingStepDeg === 0))
    throw bad(`Bearings go by steps that divide 360°, 1° to 30°, not ${bearingStepDeg}°.`);
  if (paces && !(paces.per100m >= PACES[0] && paces.per100m <= PACES[1]))
    throw bad(`100 m are ${PACES[0]} to ${PACES[1]} paces, not ${paces.per100m}.`);
  if (!Number.isSafeInteger(seed)) throw bad("A seed is a whole number.");
  checkShape(wish);
}

function placed(wish: FieldWish, vectors: readonly WrittenLeg[], chance: Chance): FieldCourse | null {
  const places: Place[] = [{ eastM: 0, northM: 0 }];
  for (const { bearingDeg, lengthM } of vectors) {
    const { eastM, northM } = places.at(-1) as Place;
    places.push({
      eastM: eastM + lengthM * Math.sin(bearingDeg * DEG),
      northM: northM + lengthM * Math.cos(bearingDeg * DEG),
    });
  }
  const closing = wish.shape === "open" ? null : closingError(vectors);
  // The last leg ends at the first stake, or beside it by no more than rounding of the bearing can be.
  if (closing && closing.distanceM > ringM(vectors.at(-1)?.lengthM ?? 0)) return null;
  const stakes = places.slice(0, stakesOf(wish.shape, wish.legs));
  for (const [i, a] of stakes.entries())
    for (const b of stakes.slice(i + 1))
      if (Math.hypot(a.eastM - b.eastM, a.northM - b.northM) < APART_M) return null;
  const first = room(wish, places, chance);
  if (!first) return null;
  const label = (i: number): string => String(i + 1);
  const { paces = null } = wish;
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
      from: label(i === 0 ? 0 : endOf(wish, i - 1)),
      to: label(endOf(wish, i)),
      bearingDeg: magneticBearing(bearingDeg),
      lengthM,
      paces: paces && Math.round((lengthM * paces.per100m) / 100),
    })),
    first,
    closing,
  };
}

/** Where the first stake stands so that all lie on the ground, by chance where there is more room; null when they do not fit. */
function room(
  { lengthM, widthM, alongDeg }: FieldWish,
  places: readonly Place[],
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
