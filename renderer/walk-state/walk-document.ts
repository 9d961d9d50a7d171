/**
 * The open walk: its history, its file, whether it is saved, and the live state of a drag.
 * Every change goes through `edit` (one undo step) or `dragTo` … `drop` (one undo step at the end).
 */
import { batch, computed, signal } from "@preact/signals";
import {
  closeGroup,
  type History,
  recordEdit,
  redo,
  redoName,
  startHistory,
  undo,
  undoName,
} from "../../core/walk/history.ts";
import { emptyWalk, type Walk } from "../../core/walk/walk.ts";
import type { FileHandle } from "../../electron/contract.ts";
import { sayFault } from "../app/notices.ts";
import { today } from "./today.ts";

export interface WalkFile {
  readonly handle: FileHandle;
  /** Saving needs another name: read-only on disk, of a newer version, or another program's. */
  readonly locked: boolean;
}

const history = signal<History>(startHistory(emptyWalk(today())));
/** What is on disk: the walk is saved while it is this very object. */
const onDisk = signal<Walk>(history.value.present);
/** The walk as a drag has it now; null when nothing is dragged. */
const dragged = signal<Walk | null>(null);

export const walkFile = signal<WalkFile | null>(null);
/** The walk to show: with the drag in progress, if there is one. */
export const walk = computed<Walk>(() => dragged.value ?? history.value.present);
export const dragging = computed(() => dragged.value !== null);
export const unsaved = computed(() => history.value.present !== onDisk.value);
export const undoStep = computed(() => undoName(history.value));
export const redoStep = computed(() => redoName(history.value));

/** Counts documents opened, so that the map can show a newly opened walk as a whole. */
export const documentNumber = signal(0);

/**
 * One change, one step of the history. A refused change says why and changes nothing.
 * @param name of the step, for undo: "Move C"
 * @param group changes in a row with the same group undo as one
 */
export function edit(name: string, change: (walk: Walk) => Walk, group: string | null = null): void {
  try {
    const changed = change(history.value.present);
    batch(() => {
      dragged.value = null;
      history.value = recordEdit(history.value, name, changed, group);
    });
  } catch (thrown) {
    sayFault(thrown);
  }
}

/** Ends typing in a field: the next change is a step of its own. */
export function endGroup(): void {
  history.value = closeGroup(history.value);
}

/** Shows a change without recording it, always from where the drag began. */
export function dragTo(change: (walk: Walk) => Walk): void {
  try {
    dragged.value = change(history.value.present);
  } catch {
    // Dragged to where a point cannot be (beyond a pole): it stays at the last good place.
  }
}

/** Records the drag as one step. */
export function drop(name: string): void {
  const result = dragged.value;
  if (result) edit(name, () => result);
}

export function cancelDrag(): void {
  dragged.value = null;
}

export function undoEdit(): void {
  batch(() => {
    dragged.value = null;
    history.value = undo(history.value);
  });
}

export function redoEdit(): void {
  batch(() => {
    dragged.value = null;
    history.value = redo(history.value);
  });
}

/**
 * Puts another walk on the table; what was there is gone, so ask first.
 * @param isSaved whether it is on disk, or worth nothing: closing the window asks nothing then
 */
export function openDocument(opened: Walk, file: WalkFile | null, isSaved = true): void {
  batch(() => {
    dragged.value = null;
    history.value = startHistory(opened);
    // Of a walk that was never saved there is nothing on disk.
    onDisk.value = isSaved ? opened : emptyWalk(opened.date);
    walkFile.value = file;
    documentNumber.value++;
  });
}

/** The file cannot be written from here any more: saving asks for another name. */
export function lockFile(): void {
  const file = walkFile.value;
  if (file) walkFile.value = { ...file, locked: true };
}

/** What is on disk is not this walk. */
export function markUnsaved(): void {
  onDisk.value = emptyWalk(today());
}

export function markSaved(saved: Walk, handle: FileHandle): void {
  batch(() => {
    onDisk.value = saved;
    walkFile.value = { handle, locked: false };
  });
}
