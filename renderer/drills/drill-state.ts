/** The questions on the practice screen, made anew whenever what is asked for changes, and how the learner did. */
import { computed, effect, signal } from "@preact/signals";
import {
  DRILL_KINDS,
  type DrillKind,
  type DrillWish,
  type Worksheet,
} from "../../core/course/drills/drill.ts";
import type { Judgement } from "../../core/course/drills/judge-answer.ts";
import type { DrillLevel } from "../../core/course/drills/level.ts";
import { Fault } from "../../core/fault.ts";
import { inverse } from "../../core/geodesy/geodesic.ts";
import { bboxOf, type LonLat } from "../../core/units/position.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import type { SheetOrder, WorksheetOrder } from "../../electron/contract.ts";
import { askAdvice } from "../analysis/advice-worker.ts";
import { openMap } from "../map-case/map-case.ts";
import { mapView } from "../map/view-state.ts";
import { choices as printChoices } from "../print/print-state.ts";
import { legSettings } from "../walk-state/figures.ts";
import { walk } from "../walk-state/walk-document.ts";

export interface DrillChoices {
  readonly kinds: readonly DrillKind[];
  readonly questions: number;
  readonly level: DrillLevel;
  readonly place: "view" | "walk";
  readonly scale: number;
  readonly seed: number;
}

export const drillChoices = signal<DrillChoices>({
  kinds: DRILL_KINDS,
  questions: 10,
  level: "middle",
  place: "view",
  scale: 25_000,
  seed: 1,
});
export const chooseDrill = (change: Partial<DrillChoices>): void => {
  drillChoices.value = { ...drillChoices.value, ...change };
};

/** A sheet reaches no less and no more from its middle, metres: enough for a line of some centimetres, not for a whole country. */
const REACH_M = { least: 800, most: 6000 } as const;

const reach = (metres: number): number => Math.min(REACH_M.most, Math.max(REACH_M.least, metres));

/** What the map shows, or what the walk covers with some ground around it. */
function ground(place: DrillChoices["place"]): { readonly centre: LonLat; readonly radiusM: number } | null {
  if (place === "walk") {
    const box = bboxOf(walk.value.points.map(({ lonLat }) => lonLat));
    if (!box) return null;
    const centre: LonLat = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    return { centre, radiusM: reach(inverse(centre, [box[2], box[3]]).distanceM + 300) };
  }
  const map = mapView.value;
  if (!map) return null;
  const { lng, lat } = map.getCenter();
  const view = map.getBounds();
  const centre: LonLat = [lng, lat];
  const up = inverse(centre, [lng, view.getNorth()]).distanceM;
  const aside = inverse(centre, [view.getEast(), lat]).distanceM;
  return { centre, radiusM: reach(Math.min(up, aside)) };
}

/** Null where there is no ground to ask about. */
export const drillWish = computed<DrillWish | null>(() => {
  const { place, ...rest } = drillChoices.value;
  const where = ground(place);
  return where && { ...where, ...rest };
});

export type Questions =
  | { readonly kind: "none" }
  | { readonly kind: "making" }
  | { readonly kind: "failed"; readonly fault: Fault }
  | { readonly kind: "ready"; readonly sheet: Worksheet };

export const questions = signal<Questions>({ kind: "none" });
/** Which one is being asked, from 0. */
export const asked = signal(0);

export interface Tried {
  readonly typed: string;
  readonly judged: Judgement;
  /** By the learner's own eye, where no program can compare. */
  readonly own: boolean | null;
}
/** By the number of the question. */
export const tried = signal<ReadonlyMap<number, Tried>>(new Map());

export function keepTry(n: number, one: Tried): void {
  tried.value = new Map([...tried.value, [n, one]]);
}

export const tally = computed(() => {
  const all = [...tried.value.values()];
  const settled = all.filter(({ judged, own }) => (judged.kind === "compare" ? own !== null : true));
  const right = settled.filter(({ judged, own }) => judged.kind === "right" || own === true);
  return { done: settled.length, right: right.length };
});

/** Clicks through choices are not followed one by one, milliseconds. */
const CALM_MS = 250;

/** @returns stops */
export function followDrill(): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let stop: AbortController | null = null;
  const end = effect(() => {
    const [wish, map, settings] = [drillWish.value, openMap.value, legSettings.value];
    clearTimeout(timer);
    stop?.abort();
    tried.value = new Map();
    asked.value = 0;
    if (!wish || !map) {
      questions.value = { kind: "none" };
      return;
    }
    questions.value = { kind: "making" };
    const mine = (stop = new AbortController());
    timer = setTimeout(() => {
      askAdvice(map, "worksheet", [wish, settings], mine.signal).then(
        (sheet) => {
          if (!mine.signal.aborted) questions.value = { kind: "ready", sheet };
        },
        (thrown: unknown) => {
          if (!mine.signal.aborted) questions.value = { kind: "failed", fault: Fault.from(thrown) };
        },
      );
    }, CALM_MS);
  });
  return () => {
    clearTimeout(timer);
    stop?.abort();
    end();
  };
}

/** The same questions as pages: the host makes them anew from the same seed. */
export function orderOf(drill: DrillWish, parts: WorksheetOrder["parts"]): SheetOrder {
  return {
    walk: formatWalk(walk.peek()),
    mapId: openMap.peek()?.opened.id ?? null,
    wish: { ...printChoices.peek(), frames: null },
    worksheet: { drill, parts },
  };
}
