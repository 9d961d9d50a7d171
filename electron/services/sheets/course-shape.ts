/** The shape of an order for sheets of practice courses, as it comes over the bridge. What a course may be is checked where it is set. */
import * as v from "valibot";
import { COURSE_KINDS } from "../../../core/course/course.ts";
import { FIELD_SHAPES } from "../../../core/course/field-shapes.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { COURSE_PARTS } from "../../../core/sheet/course/sheet-blocks.ts";

const range = v.strictTuple([v.number(), v.number()]);
const lonLat = v.strictTuple([
  v.pipe(v.number(), v.minValue(-180), v.maxValue(180)),
  v.pipe(v.number(), v.minValue(-90), v.maxValue(90)),
]);
const text = v.pipe(v.string(), v.maxLength(300));
/** As many as can be set at once, and points of one with its start. */
const [MOST_COURSES, MOST_POINTS] = [20, 31];

export const COURSE_ORDER = v.strictObject({
  parts: v.pipe(v.array(v.picklist(COURSE_PARTS)), v.maxLength(COURSE_PARTS.length)),
  give: v.picklist(["legs", "map"]),
  courses: v.pipe(
    v.array(
      v.strictObject({
        name: text,
        wish: v.strictObject({
          kind: v.picklist(COURSE_KINDS),
          start: lonLat,
          points: v.number(),
          seed: v.number(),
          legM: range,
          totalM: v.nullable(range),
          climbM: v.nullable(range),
          on: v.picklist(["found", "bare"]),
          backstops: v.boolean(),
          oddsAtLeast: v.nullable(v.number()),
          clearOf: v.picklist(["line", "cone"]),
          apartM: v.number(),
        }),
        points: v.pipe(
          v.array(
            v.strictObject({
              lonLat,
              // Only shown, never acted on.
              kind: v.nullable(v.custom<Kind>((kind) => typeof kind === "string" && kind.length < 40)),
              name: v.nullable(text),
              words: text,
            }),
          ),
          v.minLength(2),
          v.maxLength(MOST_POINTS),
        ),
      }),
    ),
    v.maxLength(MOST_COURSES),
  ),
  field: v.nullable(
    v.strictObject({
      lengthM: v.number(),
      widthM: v.number(),
      alongDeg: v.number(),
      legs: v.number(),
      legM: range,
      bearingStepDeg: v.number(),
      shape: v.picklist(FIELD_SHAPES),
      paces: v.exactOptional(v.nullable(v.strictObject({ per100m: v.number(), steps: v.picklist([1, 2]) }))),
      seed: v.number(),
    }),
  ),
});
