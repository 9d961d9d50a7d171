/**
 * All papers of a job as one set of pages: field sheets with their index, leg table, route card, pocket cards, handout and
 * answers. Opens nothing and has no fonts: ground and ruler are lent by the host.
 */
import { Fault } from "../fault.ts";
import type { LegTable } from "../legs/table/leg-table.ts";
import type { Ground } from "../terrain/ground.ts";
import { drawSheet } from "./draw-sheet.ts";
import { roamerMm, roamerPage } from "./furniture/roamer.ts";
import { jobTable } from "./job-table.ts";
import { indexPage } from "./layout/index-page.ts";
import type { Page, PageSet } from "./page/page.ts";
import { paperSize } from "./page/paper-size.ts";
import type { TextRuler } from "./page/text-ruler.ts";
import { sheetGrid } from "./sheet-grid.ts";
import { type PrintParty, SHEET_PARTS, type SheetJob, type SheetPart } from "./sheet-job.ts";
import { sheetPlans, type SheetPlans } from "./sheet-plans.ts";
import { legTablePages } from "./tables/leg-table-pages.ts";
import { pocketCardPages } from "./tables/pocket-cards.ts";
import { type CardParty, routeCardPages } from "./tables/route-card.ts";

export interface PressOptions {
  readonly signal?: AbortSignal | undefined;
  /** Before each step; awaited, so that a thread can hear whether its work is still wanted. */
  readonly progress?: (done: number, all: number) => Promise<void>;
}

/** Papers that tell odds and ways out where they are known. */
const TELL_ADVICE: ReadonlySet<SheetPart> = new Set<SheetPart>(["table", "card", "pocket"]);

/**
 * @param ground null without a map: sheets then show the walk and its grid
 * @throws Fault "bad-argument" for papers that cannot be drawn so, in one sentence; "cancelled" when the signal is aborted
 */
export async function fieldSheets(
  job: SheetJob,
  ground: Ground | null,
  ruler: TextRuler,
  { signal, progress }: PressOptions = {},
): Promise<PageSet> {
  const { wish, walk } = job;
  const parts = SHEET_PARTS.filter((part) => wish.parts.includes(part));
  if (parts.length === 0)
    throw new Fault("bad-argument", "There is nothing chosen to print.", null, "Choose at least one paper.");
  const points = walk.points.map(({ lonLat }) => lonLat);
  const bounds = ground?.map.info.bounds ?? null;
  const near = points[0] ?? (bounds && ([bounds[0], bounds[1]] as const));
  const plans = parts.includes("sheets")
    ? sheetPlans(points, wish, bounds, sheetGrid(wish.grid, near))
    : null;
  const legs = Math.max(0, points.length - 1);
  const withAdvice =
    wish.advice && ground !== null && legs > 0 && parts.some((part) => TELL_ADVICE.has(part));
  const all = (withAdvice ? legs : 0) + (plans?.layout.sheets.length ?? 0) + parts.length;
  let done = 0;
  const step = async (): Promise<void> => {
    await progress?.(done, all);
    if (signal?.aborted) throw new Fault("cancelled", "Drawing the pages was cancelled.");
    done++;
  };
  // A sheet without aids needs no figures, and those of a long walk take longer than its sheets.
  const told =
    wish.handrails || wish.backstops || wish.hazards || wish.cone || parts.some((part) => part !== "sheets");
  const table = await jobTable(job, told ? ground : null, withAdvice, signal, step);
  const sets: PageSet[] = [];
  for (const part of parts) {
    await step();
    if (part === "sheets")
      sets.push(await sheetsOf(job, plans as SheetPlans, ground, table, ruler, step, signal));
    else sets.push(tellingPages(part, job, table, ruler));
  }
  return {
    title: `${walk.title}, ${walk.date}`,
    pages: sets.flatMap(({ pages }) => pages),
    notes: [...new Set(sets.flatMap(({ notes }) => notes))],
  };
}

/** The index first, so that it lies on top; a roamer with no room in the margin last. */
async function sheetsOf(
  job: SheetJob,
  plans: SheetPlans,
  ground: Ground | null,
  table: LegTable,
  ruler: TextRuler,
  step: () => Promise<void>,
  signal: AbortSignal | undefined,
): Promise<PageSet> {
  const { wish, walk } = job;
  const { layout, paper, room } = plans;
  const pages: Page[] = [];
  const notes: string[] = [...layout.notes];
  if (walk.points.length === 0) notes.push("No walk yet: the sheet shows the map only.");
  if (wish.index && layout.sheets.length > 1)
    pages.push(
      indexPage(
        layout,
        walk.points.map(({ lonLat }) => lonLat),
        walk.title,
        paper,
        ruler,
      ),
    );
  for (const plan of layout.sheets) {
    await step();
    const drawn = await drawSheet({ job, plans, plan, ground, table, ruler }, signal);
    pages.push(drawn.page);
    notes.push(...drawn.notes);
  }
  const inMargin = room.roamer !== null && roamerMm(layout.scale) <= room.roamer.height;
  if (wish.roamer && !inMargin) pages.push(roamerPage(layout.scale, paper, ruler));
  return { title: walk.title, pages, notes };
}

function tellingPages(
  part: Exclude<SheetPart, "sheets">,
  job: SheetJob,
  table: LegTable,
  ruler: TextRuler,
): PageSet {
  const { wish } = job;
  const look = {
    paper: paperSize(wish.paper, wish.landscape),
    large: wish.large,
    blackAndWhite: wish.blackAndWhite,
  };
  const columns = { columns: wish.columns, blanks: wish.blanks };
  const asked = { hidden: wish.hidden, tolerance: wish.tolerance };
  switch (part) {
    case "table":
      return legTablePages(table, { ...look, ...columns }, ruler);
    case "card":
      return routeCardPages(table, { ...look, party: partyOf(wish.party) }, ruler);
    case "pocket":
      return pocketCardPages(table, look, ruler);
    case "handout":
      return legTablePages(table, { ...look, ...columns, ...asked, handout: "questions" }, ruler);
    case "answers":
      return legTablePages(table, { ...look, ...columns, ...asked, handout: "answers" }, ruler);
  }
}

const partyOf = ({ names, ...rest }: PrintParty): CardParty => ({ names: names.split(/[,;\n]/), ...rest });
