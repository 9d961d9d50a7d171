/** One field sheet: map, walk and furniture put together on a page. */
import type { LegTable } from "../legs/table/leg-table.ts";
import type { Ground } from "../terrain/ground.ts";
import { isMetric } from "../units/format.ts";
import type { LonLat } from "../units/position.ts";
import { sheetFrame } from "./frame/sheet-frame.ts";
import { sheetDeclination } from "./furniture/sheet-declination.ts";
import { sheetFurniture } from "./furniture/sheet-furniture.ts";
import type { SheetPlan } from "./layout/sheet-plan.ts";
import { drawMap } from "./map/draw-map.ts";
import { drawnContours } from "./map/map-look.ts";
import { inGrey } from "./page/inks.ts";
import { group, type Page } from "./page/page.ts";
import type { TextRuler } from "./page/text-ruler.ts";
import type { SheetJob } from "./sheet-job.ts";
import type { SheetPlans } from "./sheet-plans.ts";
import { drawWalk } from "./walk/draw-walk.ts";

export interface SheetInput {
  readonly job: SheetJob;
  readonly plans: SheetPlans;
  readonly plan: SheetPlan;
  readonly ground: Ground | null;
  /** Figures of the walk; of a walk without legs too. */
  readonly table: LegTable;
  readonly ruler: TextRuler;
}

export interface DrawnSheet {
  readonly page: Page;
  /** What a person should know of it, in sentences. */
  readonly notes: readonly string[];
}

/** Reads the ground of a sheet, then draws it. @throws Fault "cancelled" when the signal is aborted */
export async function drawSheet(input: SheetInput, signal?: AbortSignal): Promise<DrawnSheet> {
  const { job, plans, plan, ground, table, ruler } = input;
  const { wish, walk } = job;
  const { room, layout, paper } = plans;
  const frame = sheetFrame(plan.frame);
  const info = ground?.map.info ?? null;
  await ground?.map.prepare(frame.bbox, signal);
  const heightM = await heightAt(ground, frame.centre, signal);
  const drawn = drawWalk(
    { points: table.points, aids: table.figures.legs, driftDeg: table.settings.driftDeg },
    frame,
    {
      handrails: wish.handrails,
      backstops: wish.backstops,
      hazards: wish.hazards,
      cone: wish.cone,
      large: wish.large,
      // A strip is of its own leg, whatever else passes by.
      ...(wish.way === "strips" && wish.frames === null && { legs: plan.legs.map((n) => n - 1) }),
    },
    ruler,
  );
  const furniture = sheetFurniture({
    frame,
    room,
    ruler,
    title: walk.title,
    sheet: plan.number,
    sheets: layout.sheets.length,
    // Where contours would run together fewer are drawn, and the margin tells the interval of those.
    map: info && { ...info, interval: drawnContours(info, frame.scale).interval },
    date: walk.date,
    declination: sheetDeclination(frame, heightM, table.settings),
    pace: walk.pace,
    continues: plan.continues,
    wish: {
      gridStepM: wish.gridLines ? "auto" : null,
      magneticLinesMm: wish.magneticLinesMm,
      lengths: isMetric(job.lengthUnit) ? "metric" : "imperial",
    },
  });
  const map = ground
    ? drawMap(ground.map, frame, { large: wish.large }, ruler, [...furniture.taken, ...drawn.taken])
    : { items: [], names: [], notes: [] };
  const title = layout.sheets.length > 1 ? `Sheet ${plan.number} of ${layout.sheets.length}` : "Field sheet";
  const items = [
    ...map.items,
    group("over", furniture.over, frame.map),
    ...map.names,
    ...drawn.items,
    ...furniture.around,
  ];
  return {
    page: { ...paper, title, items: wish.blackAndWhite ? inGrey(items) : items },
    notes: [...map.notes, ...drawn.notes, ...furniture.notes, ...plan.notes],
  };
}

/** Metres; null where the map gives none. */
async function heightAt(ground: Ground | null, at: LonLat, signal?: AbortSignal): Promise<number | null> {
  if (!ground?.elevation) return null;
  const near = 0.0005;
  await ground.elevation.prepare([at[0] - near, at[1] - near, at[0] + near, at[1] + near], signal);
  const height = ground.elevation.at(at);
  return Number.isFinite(height) ? height : null;
}
