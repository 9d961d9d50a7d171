/** Likely places on lines of the map, asked of the worker as the slip is filled in; the newest question wins. */
import { computed, effect, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { lengthUnit } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { metresPerPixel } from "../map/view-state.ts";
import type { LonLat } from "../../core/units/position.ts";
import { fixWords } from "../words/fix-words.ts";
import type { LineNear, OnLineQuestion, Spots, TrackQuestion } from "./fix-messages.ts";
import { fixOpen, way } from "./fix-state.ts";
import { fixSettings, orFault, readPlace } from "./read-fields.ts";
import { anyLine, clues, line, linePlace, stoodAt } from "./seen.ts";
import { STOOD_AT } from "./stood-at.ts";
import { readNext, readUpTo, reckoningSettings, walked } from "./walked.ts";

/** Null while nothing was asked or it is being worked out. */
export const spots = signal<Spots | Fault | null>(null);

type Question =
  | { readonly call: "spotsOnLine"; readonly of: OnLineQuestion }
  | { readonly call: "spotsAfterWalk"; readonly of: TrackQuestion };

/** Null while something is missing. */
export const question = computed<Question | null>(() => {
  if (!fixOpen.value || !openMap.value || !clues.value) return null;
  if (way.value === "onLine") {
    const stood = line.value;
    if (!stood || stood instanceof Fault || clues.value.length === 0) return null;
    const of = {
      line: stood,
      any: anyLine.value,
      clues: clues.value,
      settings: fixSettings(),
      unit: lengthUnit.value,
    };
    return { call: "spotsOnLine", of };
  }
  const [upTo, onTo] = [readUpTo.value, readNext.value];
  if (way.value !== "track" || !walked.value || upTo instanceof Fault || onTo instanceof Fault) return null;
  return {
    call: "spotsAfterWalk",
    of: {
      walked: { ...walked.value, orUpTo: upTo?.lonLat ?? null },
      kinds: STOOD_AT[stoodAt.value] ?? [],
      clues: clues.value,
      next: onTo?.lonLat ?? null,
      settings: reckoningSettings(),
      unit: lengthUnit.value,
    },
  };
});

const asking = newestWins<Question, Spots | null>({
  run: (asked, stop) =>
    asked.call === "spotsOnLine"
      ? worker.ask("spotsOnLine", [asked.of], stop)
      : worker.ask("spotsAfterWalk", [asked.of], stop),
  answered: (found) => (spots.value = found),
  failed: (fault) => (spots.value = fault),
  // An answer to what is no longer written is of no use.
  patienceMs: 0,
});

effect(() => {
  const asked = question.value;
  // A place shown beside fields it does not follow from would mislead.
  spots.value = null;
  if (asked) asking.ask(asked);
  else asking.stop();
});

/** So far from a click a line is still meant, pixels. */
const NEAR_PX = 14;
const LEAST_NEAR_M = 10;

const askLine = newestWins<LonLat, LineNear | null>({
  run: (at, stop) =>
    worker.ask("lineNear", [at, Math.max(LEAST_NEAR_M, NEAR_PX * metresPerPixel.value)], stop),
  answered: (found) => (line.value = found ?? new Fault("bad-argument", fixWords.noLineThere)),
  failed: (fault) => (line.value = fault),
  patienceMs: 0,
});

const lineAsked = computed(() => {
  if (!fixOpen.value || way.value !== "onLine" || !openMap.value) return null;
  return orFault(() => readPlace(linePlace.value));
});

effect(() => {
  const at = lineAsked.value;
  line.value = at instanceof Fault ? at : null;
  if (at && !(at instanceof Fault)) askLine.ask(at.lonLat);
  else askLine.stop();
});
