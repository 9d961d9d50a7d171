/** What stands in the blanks: kept while the window is open, so that a sum may be looked up again. */
import { computed, signal } from "@preact/signals";
import {
  slopeFromDegrees,
  slopeFromPercent,
  slopeFromRise,
  slopeFromRun,
  type SlopeFrom,
} from "./slope-work.ts";
import { groundOf, rulerOf, scaleMeaning, trueOfReading, unknownScale } from "./scale-work.ts";
import type { North } from "../../core/walk/walk.ts";

export const blanks = {
  scale: signal("1:25000"),
  knownGround: signal("1 km"),
  knownRuler: signal(""),
  ruler: signal("37 mm"),
  ground: signal("1.2 km"),
  compass: signal("1:50000"),
  reading: signal("800 m"),
  degrees: signal("15"),
  percent: signal(""),
  ratio: signal(""),
  rise: signal(""),
  run: signal("100 m"),
  bearing: signal("51°"),
  place: signal(""),
  /** Empty: the day of the walk. */
  day: signal(""),
};

/** Which way of writing the slope was filled in last: the others follow it. */
export const slopeFrom = signal<SlopeFrom>("degrees");
/** Null: that of the walk. */
export const bearingNorth = signal<North | null>(null);

export const meaning = computed(() => scaleMeaning(blanks.scale.value));
export const rulerToGround = computed(() => groundOf(blanks.ruler.value, blanks.scale.value));
export const groundToRuler = computed(() => rulerOf(blanks.ground.value, blanks.scale.value));
export const edgeReading = computed(() =>
  trueOfReading(blanks.reading.value, blanks.compass.value, blanks.scale.value),
);
export const scaleFound = computed(() => unknownScale(blanks.knownGround.value, blanks.knownRuler.value));

export const slopeFound = computed(() => {
  switch (slopeFrom.value) {
    case "degrees":
      return slopeFromDegrees(blanks.degrees.value);
    case "percent":
      return slopeFromPercent(blanks.percent.value);
    case "run":
      return slopeFromRun(blanks.ratio.value);
    case "rise":
      return slopeFromRise(blanks.rise.value, blanks.run.value);
  }
});
