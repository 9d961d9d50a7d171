/** Keeps unsaved work with the host, a second after the last change and every few seconds while changes go on. */
import { effect } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import type { Walk } from "../../core/walk/walk.ts";
import type { FileHandle } from "../../electron/contract.ts";
import { sayFault } from "../app/notices.ts";
import { asWritten } from "../app/walk-files.ts";
import { unsavedBeside } from "../beside/beside-state.ts";
import { host } from "../host/host.ts";
import { dragging, unsaved, walk, walkFile } from "../walk-state/walk-document.ts";
import { savingWords } from "../words/saving-words.ts";
import { windowId } from "./window-id.ts";

const QUIET_MS = 1_000;
const MOST_MS = 4_000;

interface Work {
  readonly walk: Walk;
  readonly file: FileHandle | null;
}

interface Slot {
  /** What waits to be kept. */
  next: Work | null;
  since: number;
  timer: number | undefined;
  /** The walk that is kept. */
  kept: Walk | null;
  queue: Promise<void>;
}

const slots = new Map<number, Slot>();
let failing = false;

function slotOf(number: number): Slot {
  const slot = slots.get(number) ?? {
    next: null,
    since: 0,
    timer: undefined,
    kept: null,
    queue: Promise.resolve(),
  };
  slots.set(number, slot);
  return slot;
}

function later(number: number, work: Work | null): void {
  const slot = slotOf(number);
  window.clearTimeout(slot.timer);
  if (work === null) {
    slot.next = null;
    if (slot.kept) send(number, slot, null);
    return;
  }
  if (slot.kept === work.walk) return;
  const now = performance.now();
  if (!slot.next) slot.since = now;
  slot.next = work;
  const wait = Math.max(0, Math.min(QUIET_MS, slot.since + MOST_MS - now));
  slot.timer = window.setTimeout(() => flush(number), wait);
}

function flush(number: number): void {
  const slot = slotOf(number);
  window.clearTimeout(slot.timer);
  if (slot.next) send(number, slot, slot.next);
  slot.next = null;
}

function send(number: number, slot: Slot, work: Work | null): void {
  slot.kept = work?.walk ?? null;
  slot.queue = slot.queue.then(async () => {
    const draft = work && { title: work.walk.title, text: formatWalk(work.walk), file: work.file };
    try {
      await host.keepDraft(windowId, number, draft);
      failing = false;
    } catch (thrown) {
      // Tried again with the next change; said once.
      slot.kept = null;
      const { code, what, remedy } = Fault.from(thrown);
      if (!failing) sayFault(new Fault(code, savingWords.cannotKeep(what), null, remedy));
      failing = true;
    }
  });
}

/** Keeps everything that waits, and answers when it is kept. */
export async function keepNow(): Promise<void> {
  for (const number of slots.keys()) flush(number);
  await Promise.all([...slots.values()].map(({ queue }) => queue));
}

/** Follows the walks from now on; called once. */
export function keepDrafts(): void {
  effect(() => {
    if (dragging.value) return;
    later(0, unsaved.value ? { walk: asWritten(walk.value), file: walkFile.value?.handle ?? null } : null);
  });
  let beside: readonly number[] = [];
  effect(() => {
    const now = unsavedBeside.value;
    for (const { id, walk: laid, file } of now) later(id, { walk: laid, file: file?.handle ?? null });
    for (const id of beside) if (!now.some((one) => one.id === id)) later(id, null);
    beside = now.map(({ id }) => id);
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") void keepNow();
  });
}
