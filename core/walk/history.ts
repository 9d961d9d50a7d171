/**
 * Undo and redo as a stack of walks. Unchanged parts are shared between states; an edit knows nothing of this.
 * Each step carries its name, so that the button can say what it would undo.
 */
import type { Walk } from "./walk.ts";

interface Step {
  /** What was done to reach `after`, in words: "Move C". */
  readonly name: string;
  readonly before: Walk;
  readonly after: Walk;
  /** Steps made one after another with the same group (typing in one field) undo as one. */
  readonly group: string | null;
}

export interface History {
  readonly present: Walk;
  readonly past: readonly Step[];
  readonly future: readonly Step[];
}

/** Far more than a person remembers; states share their points, so a step costs little. */
const MAX_STEPS = 1_000;

export const startHistory = (walk: Walk): History => ({ present: walk, past: [], future: [] });

/**
 * The history after an edit. A walk that is the same object leaves everything as it was, redo included.
 * @param group steps in a row with the same non-null group become one
 */
export function recordEdit(history: History, name: string, walk: Walk, group: string | null = null): History {
  if (walk === history.present) return history;
  const last = history.past.at(-1);
  if (group !== null && last?.group === group && history.future.length === 0)
    return { present: walk, past: [...history.past.slice(0, -1), { ...last, after: walk }], future: [] };
  const step: Step = { name, before: history.present, after: walk, group };
  return { present: walk, past: [...history.past.slice(-(MAX_STEPS - 1)), step], future: [] };
}

/** Ends a group: the next edit starts a step of its own even with the same group. */
export function closeGroup(history: History): History {
  const last = history.past.at(-1);
  if (!last || last.group === null) return history;
  return { ...history, past: [...history.past.slice(0, -1), { ...last, group: null }] };
}

export function undo(history: History): History {
  const step = history.past.at(-1);
  if (!step) return history;
  return { present: step.before, past: history.past.slice(0, -1), future: [step, ...history.future] };
}

export function redo(history: History): History {
  const [step, ...future] = history.future;
  if (!step) return history;
  return { present: step.after, past: [...history.past, { ...step, group: null }], future };
}

export const undoName = (history: History): string | null => history.past.at(-1)?.name ?? null;
export const redoName = (history: History): string | null => history.future[0]?.name ?? null;
