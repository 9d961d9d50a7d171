/** Legs of an exercise on small ground by its shape, thrown by chance: bearings on the marks of the compass, lengths of whole metres. */
import { Fault } from "../fault.ts";
import { normalise180, normalise360 } from "../units/angle.ts";
import { closingError, type WrittenLeg } from "./closing-error.ts";
import type { Range } from "./course.ts";
import type { Chance } from "./course-random.ts";

/**
 * "even": equal sides, turning by the same angle at each, back to the first stake exactly. "closed": sides of all lengths, the
 * last leading back as nearly as whole bearings and metres allow. "open": ending elsewhere. "return": out to the last stake
 * and back over each on bearings back, exactly.
 */
export const FIELD_SHAPES = ["even", "closed", "open", "return"] as const;
export type FieldShape = (typeof FIELD_SHAPES)[number];

export interface ShapeWish {
  readonly legs: number;
  /** Lengths of legs, whole metres. */
  readonly legM: Range;
  /** Bearings are multiples of this. */
  readonly bearingStepDeg: number;
  readonly shape: FieldShape;
}

/** Legs this near to going straight back teach nothing, degrees. */
const STRAIGHT_BACK_DEG = 25;

/** Stakes of so many legs. */
export const stakesOf = (shape: FieldShape, legs: number): number =>
  shape === "open" ? legs + 1 : shape === "return" ? legs / 2 + 1 : legs;

/** Legs that so many stakes need: the other way round. */
export const legsOf = (shape: FieldShape, stakes: number): number =>
  shape === "open" ? stakes - 1 : shape === "return" ? 2 * (stakes - 1) : stakes;

/** The stake at which leg n ends, both counted from 0. */
export function endOf({ shape, legs }: ShapeWish, n: number): number {
  if (shape === "return" && n >= legs / 2) return legs - 1 - n;
  return shape === "open" ? n + 1 : (n + 1) % stakesOf(shape, legs);
}

/** @throws Fault "bad-argument" for a shape that whole bearings and so many legs cannot make */
export function checkShape({ shape, legs, bearingStepDeg: step }: ShapeWish): void {
  if (shape === "return" && legs % 2 !== 0)
    throw new Fault(
      "bad-argument",
      `Out and back needs as many legs back as out, not ${legs} in all.`,
      null,
      "Ask for an even number.",
    );
  if (shape !== "even") return;
  const even = Array.from({ length: 18 }, (_, i) => i + 3).filter((n) => (360 / n) % step === 0);
  if (even.includes(legs)) return;
  throw new Fault(
    "bad-argument",
    `${legs} equal sides cannot be walked on bearings that are multiples of ${step}°.`,
    null,
    even.length > 0
      ? `Ask for ${list(even)} sides, bearings by other steps, or sides of all lengths.`
      : "Ask for bearings by other steps, or sides of all lengths.",
  );
}

const list = (all: readonly number[]): string =>
  all.length < 2 ? all.join("") : `${all.slice(0, -1).join(", ")} or ${all.at(-1)}`;

/** Null when the last leg of a closed one does not keep the lengths asked for, or a leg goes back where it came from. */
export function thrownLegs(wish: ShapeWish, chance: Chance): WrittenLeg[] | null {
  const { legs, shape } = wish;
  if (shape === "even") return evenSides(wish, chance);
  if (shape === "open") return freeLegs(wish, legs, chance);
  if (shape === "return") {
    const out = freeLegs(wish, legs / 2, chance);
    const back = out
      ?.toReversed()
      .map(({ bearingDeg, lengthM }) => ({ bearingDeg: normalise360(bearingDeg + 180), lengthM }));
    return out && back ? [...out, ...back] : null;
  }
  return closedLegs(wish, chance);
}

const someBearing = (step: number, chance: Chance): number =>
  Math.floor(chance.between(0, 360 / step)) * step;

function evenSides(
  { legs, legM: [least, most], bearingStepDeg: step }: ShapeWish,
  chance: Chance,
): WrittenLeg[] {
  const first = someBearing(step, chance);
  const turnDeg = (chance.between(0, 1) < 0.5 ? -1 : 1) * (360 / legs);
  const lengthM = Math.round(chance.between(least, most));
  return Array.from({ length: legs }, (_, i) => ({ bearingDeg: normalise360(first + i * turnDeg), lengthM }));
}

function freeLegs(
  { legM: [least, most], bearingStepDeg: step }: ShapeWish,
  count: number,
  chance: Chance,
): WrittenLeg[] | null {
  const found: WrittenLeg[] = [];
  for (let i = 0; i < count; i++) {
    const before = found.at(-1);
    const bearingDeg = someBearing(step, chance);
    if (before && Math.abs(normalise180(bearingDeg - before.bearingDeg)) > 180 - STRAIGHT_BACK_DEG)
      return null;
    found.push({ bearingDeg, lengthM: Math.round(chance.between(least, most)) });
  }
  return found;
}

function closedLegs(wish: ShapeWish, chance: Chance): WrittenLeg[] | null {
  const { legs, bearingStepDeg: step } = wish;
  const [least, most] = wish.legM;
  const found = freeLegs(wish, legs - 1, chance);
  if (!found) return null;
  const back = closingError(found);
  const bearingDeg = normalise360(Math.round((back.bearingDeg + 180) / step) * step);
  const lengthM = Math.round(back.distanceM);
  return lengthM < least || lengthM > most ? null : [...found, { bearingDeg, lengthM }];
}
