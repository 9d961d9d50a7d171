/** An exercise on small ground: what is asked for, what was set, and its pages. */
import { computed, signal } from "@preact/signals";
import type { Range } from "../../core/course/course.ts";
import { type FieldShape, legsOf } from "../../core/course/field-shapes.ts";
import {
  type FieldCourse,
  fieldCourse,
  type FieldPaces,
  type FieldWish,
} from "../../core/course/small-ground.ts";
import { Fault } from "../../core/fault.ts";
import { COURSE_PARTS, type CoursePart } from "../../core/sheet/course/sheet-blocks.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import { pagesInStep } from "../print/pages-in-step.ts";
import { choices as printChoices } from "../print/print-state.ts";
import { walk } from "../walk-state/walk-document.ts";

export const SHAPES = ["triangle", "square", "even", "closed", "open", "return"] as const;
export type Shape = (typeof SHAPES)[number];
export type Whose = "own" | "walk" | "other";

export interface FieldChoices {
  readonly shape: Shape;
  /** Of all shapes but the triangle and the square. */
  readonly stakes: number;
  readonly lengthM: number;
  readonly widthM: number;
  readonly alongDeg: number;
  readonly legM: Range;
  readonly stepDeg: number;
  readonly whose: Whose;
  readonly other: FieldPaces;
  readonly seed: number;
  readonly parts: readonly CoursePart[];
}

export const fieldChoices = signal<FieldChoices>({
  shape: "closed",
  stakes: 6,
  lengthM: 100,
  widthM: 60,
  alongDeg: 0,
  legM: [20, 45],
  stepDeg: 5,
  whose: "own",
  // 60–70 double paces in 100 m: common practice, no source.
  other: { per100m: 65, steps: 2 },
  seed: 1,
  parts: COURSE_PARTS,
});
export const chooseField = (change: Partial<FieldChoices>): void => {
  fieldChoices.value = { ...fieldChoices.value, ...change };
};

const FIXED: Readonly<Partial<Record<Shape, number>>> = { triangle: 3, square: 4 };
/** Null for shapes of any number of stakes. */
export const fixedStakes = (shape: Shape): number | null => FIXED[shape] ?? null;

export const fieldWish = computed<FieldWish>(() => {
  const { shape: chosen, stakes, stepDeg, whose, other, parts: _parts, ...rest } = fieldChoices.value;
  const fixed = fixedStakes(chosen);
  const shape: FieldShape = chosen === "triangle" || chosen === "square" ? "even" : chosen;
  const { per100m, steps } = walk.value.pace;
  return {
    ...rest,
    shape,
    legs: legsOf(shape, fixed ?? stakes),
    bearingStepDeg: stepDeg,
    paces: whose === "own" ? null : whose === "walk" ? { per100m, steps } : other,
  };
});

export const fieldSet = computed<FieldCourse | Fault>(() => {
  try {
    return fieldCourse(fieldWish.value);
  } catch (thrown) {
    return Fault.from(thrown);
  }
});

export const fieldPages = pagesInStep(() => {
  const { parts } = fieldChoices.value;
  if (fieldSet.value instanceof Fault || parts.length === 0) return null;
  return {
    walk: formatWalk(walk.value),
    mapId: null,
    wish: { ...printChoices.value, frames: null },
    course: { parts, give: "legs", courses: [], field: fieldWish.value },
  };
});
