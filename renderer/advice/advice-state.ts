/**
 * Advice on the legs of the walk, asked for when nothing moves: the leg on the slip first, then the others one by one,
 * then one way out for the whole walk. What is asked again keeps its last answer until the new one comes.
 */
import { computed, effect, signal } from "@preact/signals";
import { adviceSettingsOf } from "../../core/legs/advice/aid-settings.ts";
import type { LegAdvice, WalkAdvice } from "../../core/legs/advice/advice.ts";
import type { AdviceSettings } from "../../core/legs/advice/advice-settings.ts";
import { Fault } from "../../core/fault.ts";
import { askAdvice } from "../analysis/advice-worker.ts";
import { settings } from "../app/settings.ts";
import { type OpenMap, openMap } from "../map-case/map-case.ts";
import { legSettings, walkEnds } from "../walk-state/figures.ts";
import { shownLeg } from "../walk-state/selection.ts";
import { dragging, walk } from "../walk-state/walk-document.ts";
import type { WalkEscape } from "../worker/messages.ts";

/** An answer with the question it answers. */
interface Answered<T> {
  readonly question: string;
  readonly answer: T | null;
  readonly fault: Fault | null;
}

export const adviceSettings = computed<AdviceSettings>(() => adviceSettingsOf(settings.value.aids));

/** By the id of the point the leg starts at, so that an answer outlives edits of other legs. */
const answers = signal<ReadonlyMap<string, Answered<LegAdvice>>>(new Map());
const escapeAnswer = signal<Answered<WalkEscape> | null>(null);

/** All that every leg's advice depends on but its ends. */
const common = computed(() => {
  const { startTime: _start, backBy: _back, timeZone: _zone, ...ofLeg } = legSettings.value;
  return JSON.stringify([
    openMap.value?.opened.id,
    openMap.value?.opened.archiveUrl,
    openMap.value?.info.roles,
    ofLeg,
    adviceSettings.value,
  ]);
});

/** The question of each leg as the walk now stands; labels do not change an answer. */
const questions = computed<readonly { readonly id: string; readonly question: string }[]>(() => {
  const { points } = walk.value;
  return points.slice(0, -1).map(({ id, lonLat, aimOff }, i) => ({
    id,
    question: JSON.stringify([lonLat, points[i + 1]?.lonLat, aimOff, common.value]),
  }));
});

const walkQuestion = computed(() => questions.value.map(({ question }) => question).join("\n"));

export interface AdviceShown {
  /** The newest there is; null before the first. */
  readonly advice: LegAdvice | null;
  /** It is of the leg as it stands; else of the leg as it was, and the new one is being worked out. */
  readonly isCurrent: boolean;
  readonly fault: Fault | null;
}

function shown(at: number): AdviceShown {
  const asked = questions.value[at];
  const kept = asked && answers.value.get(asked.id);
  if (!kept) return { advice: null, isCurrent: false, fault: null };
  const isCurrent = kept.question === asked.question;
  return {
    advice: kept.answer && { ...kept.answer, n: at + 1 },
    isCurrent,
    fault: isCurrent ? kept.fault : null,
  };
}

/** Of the leg on the slip. */
export const shownAdvice = computed<AdviceShown>(() =>
  shownLeg.value === null ? { advice: null, isCurrent: false, fault: null } : shown(shownLeg.value),
);

/** Of every leg in order. */
export const adviceOfLegs = computed<readonly AdviceShown[]>(() => questions.value.map((_, i) => shown(i)));

export const walkWayOut = computed<(WalkEscape & { readonly isCurrent: boolean }) | null>(() => {
  const kept = escapeAnswer.value;
  return kept?.answer ? { ...kept.answer, isCurrent: kept.question === walkQuestion.value } : null;
});

/** What is to be worked out next: a leg by its place, or the way out of the walk; null when all is known. */
function nextWanted(): number | "escape" | null {
  const asked = questions.peek();
  const isKnown = (at: number): boolean => {
    const one = asked[at];
    return !one || answers.peek().get(one.id)?.question === one.question;
  };
  const first = shownLeg.peek();
  if (first !== null && !isKnown(first)) return first;
  const other = asked.findIndex((_, at) => !isKnown(at));
  if (other >= 0) return other;
  return escapeAnswer.peek()?.question === walkQuestion.peek() || asked.length === 0 ? null : "escape";
}

async function asked<T>(question: string, run: () => Promise<T>): Promise<Answered<T> | null> {
  try {
    return { question, answer: await run(), fault: null };
  } catch (thrown) {
    const fault = Fault.from(thrown);
    return fault.code === "cancelled" ? null : { question, answer: null, fault };
  }
}

async function workOut(what: number | "escape", map: OpenMap, stop: AbortSignal): Promise<void> {
  const [ends, how, advice] = [walkEnds.peek(), legSettings.peek(), adviceSettings.peek()];
  if (what === "escape") {
    const question = walkQuestion.peek();
    const found = await asked(question, () => askAdvice(map, "walkEscape", [ends, how, advice], stop));
    if (found) escapeAnswer.value = found;
    return;
  }
  const one = questions.peek()[what];
  if (!one) return;
  const found = await asked(one.question, () =>
    askAdvice(map, "advice", [ends, how, advice, what + 1], stop),
  );
  if (found) answers.value = new Map([...kept(), [one.id, found]]);
}

/** Answers of points that are still there. */
function kept(): Map<string, Answered<LegAdvice>> {
  const ids = new Set(walk.peek().points.map(({ id }) => id));
  return new Map([...answers.peek()].filter(([id]) => ids.has(id)));
}

/** How long nothing may have changed before the slow work begins. */
const CALM_MS = 250;

/** A moment in which the window has nothing else to do. */
const idle = (): Promise<void> =>
  new Promise((done) => {
    if ("requestIdleCallback" in window) requestIdleCallback(() => done(), { timeout: 1_000 });
    else setTimeout(done, 50);
  });

const again = signal(0);

/** Asks anew what could not be worked out. */
export function askAgain(): void {
  answers.value = new Map([...answers.value].filter(([, { fault }]) => !fault));
  if (escapeAnswer.value?.fault) escapeAnswer.value = null;
  again.value++;
}

/** Follows the walk from now on; called once. Does nothing while there is no map or no leg. */
export function keepAdvice(): void {
  let timer: ReturnType<typeof setTimeout> | null = null;
  let running: AbortController | null = null;
  effect(() => {
    const map = openMap.value;
    const busy = dragging.value;
    // Read for the dependency: a change of any of them makes what runs old, or another leg the first.
    void walkQuestion.value;
    void shownLeg.value;
    void again.value;
    if (timer !== null) clearTimeout(timer);
    running?.abort();
    if (!map || busy || questions.value.length === 0) return;
    timer = setTimeout(() => {
      const controller = new AbortController();
      running = controller;
      void (async () => {
        for (let what = nextWanted(); what !== null; what = nextWanted()) {
          await workOut(what, map, controller.signal);
          if (controller.signal.aborted) return;
          await idle();
          if (controller.signal.aborted) return;
        }
      })();
    }, CALM_MS);
  });
}

/** Nothing of the walk's advice is still to be worked out; so too where there is none. */
export const allKnown = computed(
  () =>
    !openMap.value ||
    (adviceOfLegs.value.every(({ isCurrent, fault }) => isCurrent && !fault) &&
      escapeAnswer.value?.question === walkQuestion.value),
);

/**
 * Advice on the whole walk as it stands, for paper: what is known is taken, the rest worked out.
 * @param told after each leg, how many of all are done
 * @throws Fault "cancelled" when the signal is aborted, or why a leg could not be worked out
 */
export async function wholeAdvice(
  told: (done: number, all: number) => void,
  stop: AbortSignal,
): Promise<WalkAdvice | null> {
  const map = openMap.peek();
  if (!map) return null;
  const [ends, how, advice] = [walkEnds.peek(), legSettings.peek(), adviceSettings.peek()];
  const all = questions.peek();
  const known = answers.peek();
  const legs: LegAdvice[] = [];
  for (const [at, { id, question }] of all.entries()) {
    told(at, all.length);
    const there = known.get(id);
    const found =
      there?.question === question && there.answer
        ? there.answer
        : await askAdvice(map, "advice", [ends, how, advice, at + 1], stop);
    legs.push({ ...found, n: at + 1 });
  }
  told(all.length, all.length);
  const there = escapeAnswer.peek();
  const out =
    there?.question === walkQuestion.peek() && there.answer
      ? there.answer
      : await askAdvice(map, "walkEscape", [ends, how, advice], stop);
  return { settings: advice, legs, ...out };
}
