/** A walk to be printed, invented; its place is of no matter. */
import { DEFAULT_ADVICE_SETTINGS } from "../../../core/legs/advice/advice-settings.ts";
import { legChoicesOf } from "../../../core/legs/advice/aid-settings.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { USUAL_COMPASS } from "../../../core/legs/norths/bearing-to-set.ts";
import { type PrintWish, type SheetJob, USUAL_WISH } from "../../../core/sheet/sheet-job.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { addPoint } from "../../../core/walk/edits.ts";
import { emptyWalk } from "../../../core/walk/walk.ts";

export function jobOf(points: readonly LonLat[], wish: Partial<PrintWish> = {}): SheetJob {
  return {
    walk: points.reduce((walk, lonLat) => addPoint(walk, lonLat), {
      ...emptyWalk("2026-05-16"),
      title: "Round the tarn",
    }),
    wish: { ...USUAL_WISH, ...wish },
    compass: USUAL_COMPASS,
    lengthUnit: "metric",
    choices: legChoicesOf(DEFAULT_LEG_SETTINGS),
    advice: DEFAULT_ADVICE_SETTINGS,
  };
}
