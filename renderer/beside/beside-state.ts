/** The walks that lie beside the one being worked on: seen on the map, taken up, joined, put away. */
import { computed, signal } from "@preact/signals";
import { joinWalks, splitWalk } from "../../core/walk/several.ts";
import { pointLabel, type Walk } from "../../core/walk/walk.ts";
import type { FileHandle } from "../../electron/contract.ts";
import { chooseWalk, mayLeaveWalk, readKnown } from "../app/walk-files.ts";
import { sayFault } from "../app/notices.ts";
import { ask } from "../dialogs/dialogs.ts";
import { picked, pickedPoint, pickLeg } from "../walk-state/selection.ts";
import { edit, openDocument, unsaved, walk, type WalkFile, walkFile } from "../walk-state/walk-document.ts";
import { besideWords } from "../words/beside-words.ts";

export interface BesideWalk {
  readonly id: number;
  readonly walk: Walk;
  readonly file: WalkFile | null;
  /** It is on disk as it is. */
  readonly saved: boolean;
  readonly shown: boolean;
}

export const besideOpen = signal(false);
export const besideWalks = signal<readonly BesideWalk[]>([]);
export const unsavedBeside = computed(() => besideWalks.value.filter(({ saved }) => !saved));

let lastId = 0;

function lay(laid: Walk, file: WalkFile | null, saved: boolean): void {
  besideWalks.value = [...besideWalks.value, { id: ++lastId, walk: laid, file, saved, shown: true }];
}

export const openBeside = (): void => void (besideOpen.value = true);

export async function layChosen(): Promise<void> {
  try {
    const chosen = await chooseWalk();
    if (chosen) lay(chosen.walk, chosen.file, true);
  } catch (thrown) {
    sayFault(thrown);
  }
}

/** A walk whose file the host knows already. @returns its title. @throws Fault for a file that is no walk */
export async function layKnown(file: FileHandle): Promise<string> {
  const read = await readKnown(file);
  if (read) lay(read.walk, read.file, true);
  return read?.walk.title ?? file.name;
}

/** A walk that was just written to its file. */
export const laySaved = (laid: Walk, handle: FileHandle): void => lay(laid, { handle, locked: false }, true);

export function layCopy(): void {
  const { title } = walk.value;
  lay({ ...walk.value, title: besideWords.copied(title) }, null, false);
}

export function showBeside(id: number, shown: boolean): void {
  besideWalks.value = besideWalks.value.map((one) => (one.id === id ? { ...one, shown } : one));
}

export function takeAway(id: number): void {
  besideWalks.value = besideWalks.value.filter((one) => one.id !== id);
}

/** Works on another; the one that was worked on lies beside from now on, unless it was given up. */
export async function takeUp(id: number): Promise<void> {
  if (!(await mayLeaveWalk())) return;
  const next = besideWalks.value.find((one) => one.id === id);
  if (!next) return;
  const [before, file, kept] = [walk.value, walkFile.value, !unsaved.value && walk.value.points.length > 0];
  takeAway(id);
  if (kept) lay(before, file, true);
  openDocument(next.walk, next.file, next.saved);
  pickLeg(0);
}

/** One step back takes the points out again; the walk that was joined is no longer beside. */
export function joinBeside(id: number): void {
  const other = besideWalks.value.find((one) => one.id === id);
  if (!other) return;
  const before = walk.value;
  edit(besideWords.joinStep(other.walk.title), (now) => joinWalks(now, other.walk));
  if (walk.value !== before) takeAway(id);
}

/** Where the walk can be cut: at the picked point, when it lies between the ends. */
export const cutAt = computed<number | null>(() => {
  const at = pickedPoint.value;
  return at !== null && at > 0 && at < walk.value.points.length - 1 ? at : null;
});

/** The first part is worked on further, the second lies beside. */
export function cutHere(): void {
  const at = cutAt.value;
  const point = at === null ? undefined : walk.value.points[at];
  if (at === null || !point) return;
  const label = pointLabel(walk.value, at);
  const [first, second] = splitWalk(walk.value, point.id);
  lay({ ...second, title: besideWords.secondPart(walk.value.title) }, null, false);
  edit(besideWords.splitStep(label), () => first);
  picked.value = null;
}

/** @returns whether those that are not saved may be given up, as the person says */
export async function mayLeaveBeside(): Promise<boolean> {
  if (unsavedBeside.value.length === 0) return true;
  const answer = await ask("question", {
    title: besideWords.lostTitle,
    text: besideWords.lostText(unsavedBeside.value.map((one) => one.walk.title)),
    buttons: [{ id: "drop", label: besideWords.giveUp }],
  });
  return answer === "drop";
}
