/** The shape of an order for a worksheet, as it comes over the bridge. What a drill may be is checked where it is made. */
import * as v from "valibot";
import { DRILL_KINDS } from "../../../core/course/drills/drill.ts";
import { DRILL_LEVELS } from "../../../core/course/drills/level.ts";
import { WORKSHEET_PARTS } from "../../../core/sheet/worksheet/worksheet-pages.ts";

export const WORKSHEET_ORDER = v.strictObject({
  drill: v.strictObject({
    centre: v.strictTuple([
      v.pipe(v.number(), v.minValue(-180), v.maxValue(180)),
      v.pipe(v.number(), v.minValue(-90), v.maxValue(90)),
    ]),
    radiusM: v.number(),
    scale: v.number(),
    kinds: v.pipe(v.array(v.picklist(DRILL_KINDS)), v.maxLength(DRILL_KINDS.length)),
    questions: v.number(),
    level: v.exactOptional(v.picklist(DRILL_LEVELS)),
    seed: v.number(),
  }),
  parts: v.pipe(v.array(v.picklist(WORKSHEET_PARTS)), v.maxLength(WORKSHEET_PARTS.length)),
});
