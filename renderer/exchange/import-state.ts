/** The file that is being brought in: what it holds, how it is read, and the walk it would give. */
import { batch, computed, signal } from "@preact/signals";
import { Fault, type FaultRecord } from "../../core/fault.ts";
import { READ_LIMITS } from "../../core/exchange/exchange.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { openMap } from "../map-case/map-case.ts";
import { today } from "../walk-state/today.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import type { ForeignChoice, ForeignLook, ForeignOptions, ForeignWalk } from "./foreign-messages.ts";

export interface Source {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export const source = signal<Source | null>(null);
const { encoding, exchanged, frame, near, table } = READ_LIMITS;
const AS_IT_IS: ForeignOptions = { encoding, exchanged, frame, near, table };
export const options = signal<ForeignOptions>(AS_IT_IS);
/** Key of what the figures are, in the list of `figure-systems.ts`, and of their unit. */
export const system = signal({ key: "", unit: "" });
/** Null while the file is read. */
export const look = signal<ForeignLook | null>(null);
export const pick = signal(0);
/** Null keeps every position. */
export const toleranceM = signal<number | null>(null);
/** The newest that was worked out; while something else is chosen it is that of before. */
export const given = signal<ForeignWalk | null>(null);
export const placeAtEnd = signal(false);

/** Why nothing can be taken in; null when something can, or while it is worked out. */
export const refusal = computed<FaultRecord | null>(() => look.value?.fault ?? given.value?.fault ?? null);

/** Tracks, lines and edges of areas of more positions than this are recordings, not legs. No source. */
const RECORDED = 50;
const USUAL_TOLERANCE_M = 20;

const reading = newestWins<{ readonly source: Source; readonly options: ForeignOptions }, ForeignLook>({
  run: (asked, signal) =>
    worker.ask("readForeign", [asked.source.bytes, asked.source.name, asked.options], signal),
  answered(found) {
    batch(() => {
      look.value = found;
      if (found.candidates.length === 0) given.value = null;
      else choose(Math.min(pick.peek(), found.candidates.length - 1));
    });
  },
  failed(fault) {
    batch(() => {
      look.value = { format: null, candidates: [], table: null, fault: fault.toRecord() };
      given.value = null;
    });
  },
});

const giving = newestWins<ForeignChoice, ForeignWalk>({
  run: (choice, signal) => worker.ask("foreignWalk", [choice], signal),
  answered(found) {
    given.value = found;
  },
  failed(fault) {
    given.value = {
      walk: null,
      report: [],
      of: 0,
      largestM: 0,
      line: new Float64Array(),
      fault: fault.toRecord(),
    };
  },
});

function read(): void {
  const now = source.peek();
  if (now) reading.ask({ source: now, options: options.peek() });
}

/** Another file or text: nothing chosen for the one before holds for it. */
export function setSource(name: string, bytes: Uint8Array): void {
  if (bytes.length > READ_LIMITS.mostBytes)
    throw new Fault("bad-features", exchangeWords.in.tooLarge, name, "Save a shorter part of it.");
  batch(() => {
    source.value = { name, bytes };
    options.value = { ...AS_IT_IS, near: openMap.peek()?.info.bounds ?? null };
    system.value = { key: "", unit: "" };
    look.value = null;
    given.value = null;
    pick.value = 0;
    toleranceM.value = null;
    fresh = true;
  });
  read();
}

/** Whether no tolerance was chosen for this file yet. */
let fresh = true;

export function clearSource(): void {
  reading.stop();
  giving.stop();
  batch(() => {
    source.value = null;
    look.value = null;
    given.value = null;
  });
}

export function readAs(change: Partial<ForeignOptions>): void {
  options.value = { ...options.peek(), ...change };
  read();
}

export function choose(candidate: number): void {
  const chosen = look.peek()?.candidates[candidate];
  if (!chosen) return;
  batch(() => {
    if (candidate !== pick.peek() || fresh)
      toleranceM.value =
        ["track", "line", "outline"].includes(chosen.kind) && chosen.positions > RECORDED
          ? USUAL_TOLERANCE_M
          : null;
    fresh = false;
    pick.value = candidate;
  });
  give();
}

export function thin(metres: number | null): void {
  toleranceM.value = metres;
  give();
}

function give(): void {
  const name = source.peek()?.name ?? "";
  giving.ask({
    pick: pick.peek(),
    toleranceM: toleranceM.peek(),
    date: today(),
    fallbackTitle: name.replace(/\.[^.]*$/, ""),
  });
}
