/** The thread that draws pages. It keeps the map opened last and the page sets asked for last. */
import { setImmediate as nextTurn } from "node:timers/promises";
import { parentPort } from "node:worker_threads";
import { Fault } from "../../../core/fault.ts";
import { fieldSheets, type PressOptions } from "../../../core/sheet/field-sheet.ts";
import { pageSvg } from "../../../core/sheet/page/page-svg.ts";
import type { PageSet } from "../../../core/sheet/page/page.ts";
import { courseSheets } from "./course-sheets.ts";
import { loadSheetFonts } from "./fonts.ts";
import { KEPT_SETS } from "./kept-sets.ts";
import { openedGround } from "./opened-ground.ts";
import type { FromPress, PressCall, PressCalls, PressOrder, ToPress } from "./press-messages.ts";
import { filesOf } from "./set-files.ts";
import { worksheetSheets } from "./worksheet-sheets.ts";

const sets = new Map<string, PageSet>();
const stops = new Map<number, AbortController>();
const fonts = loadSheetFonts();
/** One set at a time: a newer one waits until the one before is given up. */
let making: Promise<unknown> = Promise.resolve();

const tell = (message: FromPress): void => parentPort?.postMessage(message, []);

function setOf(key: string): PageSet {
  const set = sets.get(key);
  if (!set) throw new Fault("no-file", "These pages are no longer kept.", null, "Have them made again.");
  return set;
}

async function make(key: string, order: PressOrder, ask: number, signal: AbortSignal): Promise<PageSet> {
  const map = order.map && (await openedGround(order.map));
  const { ruler } = await fonts;
  const how: PressOptions = {
    signal,
    async progress(done, all) {
      tell({ ask, done, all });
      // So that the thread hears whether the pages are still wanted.
      await nextTurn();
    },
  };
  const ground = map?.ground ?? null;
  const drawn = order.worksheet
    ? await worksheetSheets(order.worksheet, order.job, ground, ruler, how)
    : order.course
      ? await courseSheets(order.course, order.job, ground, ruler, how)
      : await fieldSheets(order.job, ground, ruler, how);
  const set = { ...drawn, notes: [...(map?.notices ?? []), ...drawn.notes] };
  sets.set(key, set);
  while (sets.size > KEPT_SETS) sets.delete(sets.keys().next().value as string);
  return set;
}

const ANSWERS: {
  readonly [C in PressCall]: (
    ask: number,
    ...args: Parameters<PressCalls[C]>
  ) => Promise<ReturnType<PressCalls[C]>>;
} = {
  async make(ask, key, order) {
    const stop = new AbortController();
    stops.set(ask, stop);
    const mine = making.then(() => make(key, order, ask, stop.signal));
    making = mine.catch(() => undefined);
    try {
      const { title, pages, notes } = await mine;
      return {
        title,
        notes,
        pages: pages.map(({ title: of, widthMm, heightMm }) => ({ title: of, widthMm, heightMm })),
      };
    } finally {
      stops.delete(ask);
    }
  },
  async page(_ask, key, n) {
    const page = setOf(key).pages[n];
    if (!page) throw new Fault("bad-argument", `There is no page ${n + 1}.`);
    return pageSvg(page, { ruler: (await fonts).ruler });
  },
  pdf: async (_ask, key) => (await filesOf(setOf(key), "pdf", await fonts))[0] as Uint8Array,
  svgs: async (_ask, key) => (await filesOf(setOf(key), "svg", await fonts)) as readonly string[],
};

async function take(message: ToPress): Promise<void> {
  if ("cancel" in message) return stops.get(message.cancel)?.abort();
  const { ask, call, args } = message;
  try {
    const answer = ANSWERS[call] as (ask: number, ...args: unknown[]) => Promise<unknown>;
    tell({ ask, value: await answer(ask, ...args) });
  } catch (thrown) {
    tell({ ask, fault: Fault.from(thrown).toRecord() });
  }
}

parentPort?.on("message", (message: ToPress) => void take(message));
