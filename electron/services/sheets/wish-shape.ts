/** The shape of what a person chooses for paper, as it comes over the bridge and lies in the settings. */
import * as v from "valibot";
import { NO_PARTY, SHEET_PARTS, SHEET_WAYS } from "../../../core/sheet/sheet-job.ts";
import { BLANKS } from "../../../core/sheet/tables/table-columns.ts";
import { USUAL_TOLERANCE } from "../../../core/sheet/tables/tolerance.ts";
import { PAPERS, type PaperName } from "../../../core/sheet/page/paper-size.ts";

/** No walk has more sheets than points; this is far more paper than anyone carries. */
const MAX_FRAMES = 200;
const MAX_COLUMNS = 60;

const lonLat = v.strictTuple([
  v.pipe(v.number(), v.minValue(-180), v.maxValue(180)),
  v.pipe(v.number(), v.minValue(-90), v.maxValue(90)),
]);
const scale = v.pipe(v.number(), v.minValue(100), v.maxValue(10_000_000));
const word = v.pipe(v.string(), v.maxLength(60));

/** More than any line of the card needs. */
const typed = v.pipe(v.string(), v.maxLength(2000));
const within = (most: number) => v.pipe(v.number(), v.minValue(0), v.maxValue(most));

const frame = v.strictObject({
  centre: lonLat,
  scale: v.exactOptional(scale),
  turnDeg: v.exactOptional(v.pipe(v.number(), v.minValue(-360), v.maxValue(360))),
});

const chosen = {
  parts: v.pipe(v.array(v.picklist(SHEET_PARTS)), v.maxLength(SHEET_PARTS.length)),
  paper: v.picklist(Object.keys(PAPERS) as PaperName[]),
  landscape: v.boolean(),
  scale,
  way: v.picklist(SHEET_WAYS),
  up: v.picklist(["leg", "north"]),
  index: v.boolean(),
  grid: v.nullable(
    v.strictObject({
      name: v.pipe(v.string(), v.maxLength(200)),
      definition: v.pipe(v.string(), v.maxLength(4000)),
    }),
  ),
  gridLines: v.boolean(),
  magneticLinesMm: v.nullable(v.pipe(v.number(), v.minValue(5), v.maxValue(500))),
  roamer: v.boolean(),
  handrails: v.boolean(),
  backstops: v.boolean(),
  hazards: v.boolean(),
  cone: v.boolean(),
  columns: v.nullable(v.pipe(v.array(word), v.maxLength(MAX_COLUMNS))),
  blanks: v.pipe(v.array(v.picklist(BLANKS.map(({ id }) => id))), v.maxLength(BLANKS.length)),
  party: v.optional(
    v.strictObject({ names: typed, phone: typed, vehicle: typed, kit: typed, contact: typed }),
    NO_PARTY,
  ),
  hidden: v.optional(v.nullable(v.pipe(v.array(word), v.maxLength(MAX_COLUMNS))), null),
  tolerance: v.optional(
    v.strictObject({
      bearingDeg: within(90),
      distanceShare: within(1),
      distanceM: within(10_000),
      pacesShare: within(1),
      heightM: within(1000),
    }),
    USUAL_TOLERANCE,
  ),
  advice: v.boolean(),
  large: v.boolean(),
  blackAndWhite: v.boolean(),
};

/** What is remembered from one walk to the next: all but where frames were put. */
export const PRINT_CHOICES = v.strictObject(chosen);
export const PRINT_WISH = v.strictObject({
  ...chosen,
  frames: v.nullable(v.pipe(v.array(frame), v.maxLength(MAX_FRAMES))),
});
