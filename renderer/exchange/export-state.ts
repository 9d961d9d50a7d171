/** What is to be written for other programs, and the text it gives. */
import { computed, effect, signal } from "@preact/signals";
import { checkWritten } from "../../core/exchange/check-written.ts";
import { groundTrack, pointHeights } from "../../core/exchange/ground-track.ts";
import { notCarried } from "../../core/exchange/not-carried.ts";
import { type ExchangeParts, USUAL_PARTS } from "../../core/exchange/parts.ts";
import { type Dialect, PLAIN_DIALECT } from "../../core/exchange/write-csv.ts";
import { type ExchangeFormat, exchangeText } from "../../core/exchange/write-exchange.ts";
import { packKml } from "../../core/exchange/write-kml.ts";
import { Fault } from "../../core/fault.ts";
import type { WalkAdvice } from "../../core/legs/advice/advice.ts";
import { legTableCsv } from "../../core/legs/table/leg-table-csv.ts";
import { legTableHtml } from "../../core/legs/table/leg-table-html.ts";
import { legTableText } from "../../core/legs/table/leg-table-text.ts";
import { inPlainFigures } from "../../core/units/figure-style.ts";
import { allKnown, wholeAdvice } from "../advice/advice-state.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { openMap } from "../map-case/map-case.ts";
import { legTableOfWalk } from "../print/leg-table-of-walk.ts";
import { legSettings, walkEnds } from "../walk-state/figures.ts";
import { walk } from "../walk-state/walk-document.ts";

export type TableFormat = "txt" | "csv" | "html";
/** What the tick boxes say; whether heights are to be had is seen in working them out. */
export interface PartChoices {
  readonly points: boolean;
  readonly legs: boolean;
  readonly track: boolean;
  readonly heights: boolean;
  readonly notes: boolean;
}

/** Chosen once, they stay while the window stands. */
export const subject = signal<"walk" | "table">("walk");
export const format = signal<ExchangeFormat>("gpx");
export const tableFormat = signal<TableFormat>("csv");
export const parts = signal<PartChoices>({
  points: true,
  legs: true,
  track: false,
  heights: false,
  notes: true,
});
export const dialect = signal<Dialect>(PLAIN_DIALECT);

export interface Written {
  readonly text: string;
  /** For the clipboard of programs that take pages. */
  readonly html: string | null;
  readonly report: readonly string[];
  /** Read again and found the same. */
  readonly checked: boolean;
  /** The leg table lacks its odds. */
  readonly withoutOdds: boolean;
}

/** Null while it is worked out. */
export const written = signal<Written | Fault | null>(null);
export const isTable = computed(() => format.value === "csv" || format.value === "tsv");

async function writeWalk(): Promise<Written> {
  const [now, as, chosen, how] = [walk.peek(), format.peek(), parts.peek(), dialect.peek()];
  const along = await groundOf(chosen, as);
  const exact: ExchangeParts = {
    ...USUAL_PARTS,
    points: chosen.points,
    legs: chosen.legs,
    notes: chosen.notes,
    ...along,
  };
  const text = inPlainFigures(() => exchangeText(now, as, exact, how));
  await checkWritten(as === "kmz" ? packKml(text) : text, now, as, exact, how);
  return { text, html: null, report: notCarried(now, as, exact), checked: true, withoutOdds: false };
}

async function groundOf(
  { track, heights }: PartChoices,
  as: ExchangeFormat,
): Promise<Pick<ExchangeParts, "track" | "heightsM">> {
  const wanted = { track: track && as !== "csv" && as !== "tsv", heights };
  if ((!wanted.track && !heights) || walkEnds.peek().length < 2) return { track: null, heightsM: null };
  const { legs } = await worker.ask("figures", [walkEnds.peek(), legSettings.peek()]);
  return {
    track: wanted.track ? groundTrack(legs) : null,
    heightsM: heights ? pointHeights(legs) : null,
  };
}

/** @param advice what was worked out for it; else what is known already */
async function writeTable(advice: WalkAdvice | null): Promise<Written> {
  const known =
    advice ?? (allKnown.peek() ? await wholeAdvice(() => undefined, new AbortController().signal) : null);
  const table = await legTableOfWalk(known);
  const as = tableFormat.peek();
  const write = { csv: legTableCsv, txt: legTableText, html: legTableHtml }[as];
  const text = inPlainFigures(() => write(table));
  return {
    text,
    html: as === "html" ? text : null,
    report: [],
    checked: false,
    withoutOdds: known === null,
  };
}

const writing = newestWins<WalkAdvice | null, Written>({
  run: (advice) => (subject.peek() === "walk" ? writeWalk() : writeTable(advice)),
  answered(found) {
    written.value = found;
  },
  failed(fault) {
    written.value = fault;
  },
});

/** Writes anew, with odds that were waited for. */
export const writeAgain = (advice: WalkAdvice | null): void => writing.ask(advice);

/** Follows walk and choices while the screen is open. @returns stops it */
export function keepWritten(): () => void {
  return effect(() => {
    for (const one of [walk, openMap, subject, format, tableFormat, parts, dialect, legSettings])
      void one.value;
    written.value = null;
    writing.ask(null);
  });
}
