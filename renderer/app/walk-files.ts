/** New, open, save: nothing that is open is given up before the new is read, and nothing unsaved without asking. */
import { Fault, type FaultRecord } from "../../core/fault.ts";
import { formatWalk, parseWalk } from "../../core/walk/walk-file.ts";
import { emptyWalk, type Walk } from "../../core/walk/walk.ts";
import type { FileHandle, OpenedText } from "../../electron/contract.ts";
import { ask } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { mapEntries, openMap, openMapById } from "../map-case/map-case.ts";
import { picked, pickLeg } from "../walk-state/selection.ts";
import { today } from "../walk-state/today.ts";
import {
  edit,
  lockFile,
  markSaved,
  markUnsaved,
  openDocument,
  unsaved,
  walk,
  type WalkFile,
  walkFile,
} from "../walk-state/walk-document.ts";
import { savingWords } from "../words/saving-words.ts";
import { words } from "../words/words.ts";
import { hostInfo } from "./host-info.ts";
import { say, sayFault } from "./notices.ts";
import { fileNameFrom, saveSomewhere } from "./save-choice.ts";

/** @returns whether the open walk may go: saved, or given up on purpose */
export async function mayLeaveWalk(): Promise<boolean> {
  if (!unsaved.value) return true;
  const answer = await ask("question", {
    title: words.dialogs.unsavedTitle(walk.value.title),
    text: words.dialogs.unsavedText,
    buttons: [
      { id: "drop", label: words.dialogs.unsavedDrop },
      { id: "save", label: words.dialogs.unsavedSave, strong: true },
    ],
  });
  if (answer === "drop") return true;
  return answer === "save" && (await saveWalk());
}

export async function newWalk(): Promise<void> {
  if (!(await mayLeaveWalk())) return;
  picked.value = null;
  openDocument(emptyWalk(today()), null);
}

/** Asks which file, and reads it; null when none is chosen. */
async function chooseFile(): Promise<OpenedText | null> {
  const page = hostInfo.value?.dialogs === "page";
  const choice = page
    ? await ask("open-walk", {
        names: await host.listWalkFiles(),
        folder: hostInfo.value?.folderName ?? "",
      })
    : undefined;
  return choice === null ? null : host.openWalk(choice);
}

/**
 * A walk the person chooses, read but not put on the table; null when they choose none.
 * @throws Fault for a file that is no walk
 */
export async function chooseWalk(): Promise<ReadWalk | null> {
  const opened = await chooseFile();
  return opened && readOpened(opened);
}

/** A walk whose file the host knows already, read but not put on the table. @throws Fault as `openKnown` */
export async function readKnown({ id }: FileHandle): Promise<ReadWalk | null> {
  const opened = await host.openWalk({ file: id });
  return opened && readOpened(opened);
}

interface ReadWalk {
  readonly walk: Walk;
  readonly file: WalkFile;
}

function readOpened(opened: OpenedText): ReadWalk {
  const { walk: read, newer, foreign } = parseWalk(opened.text, opened.file.name, today());
  return { walk: read, file: { handle: opened.file, locked: opened.readOnly || newer || foreign } };
}

/** @returns whether another walk is on the table now, as with all that open one */
export async function openWalk(): Promise<boolean> {
  try {
    const opened = await chooseFile();
    return opened !== null && (await takeOpened(opened));
  } catch (thrown) {
    sayFault(thrown);
    return false;
  }
}

/** Opens a walk whose file the host knows already. @throws Fault "no-file" when it is gone */
export async function openKnown({ id }: FileHandle): Promise<boolean> {
  const opened = await host.openWalk({ file: id });
  return opened !== null && (await takeOpened(opened));
}

const takeOpened = ({ text, file, readOnly }: OpenedText): Promise<boolean> =>
  takeText(text, file.name, (locked) => ({ handle: file, locked: readOnly || locked }));

export async function openDemoWalk(): Promise<void> {
  try {
    const { text } = await host.openDemoWalk();
    await takeText(text, words.bar.openDemo, () => null);
  } catch (thrown) {
    sayFault(thrown);
  }
}

/** Reads a walk's text and, once it is known to be good, puts it on the table. */
export async function takeText(
  text: string,
  name: string,
  fileOf: (locked: boolean) => WalkFile | null,
): Promise<boolean> {
  const { walk: read, repairs, newer, foreign } = parseWalk(text, name, today());
  if (!(await mayLeaveWalk())) return false;
  openDocument(read, fileOf(newer || foreign));
  // A walk is read from its start; with no leg this picks nothing.
  pickLeg(0);
  if (newer) say(words.notices.newer(name));
  if (foreign) say(words.notices.foreign(name));
  if (repairs.length > 0) say(words.notices.repaired(name, repairs));
  await openMapOf(read);
  return true;
}

async function openMapOf({ mapId }: Walk): Promise<void> {
  if (mapId === null || mapId === openMap.value?.opened.id) return;
  if (mapEntries.value.some((entry) => entry.id === mapId)) await openMapById(mapId);
  else say(words.notices.otherMap);
}

/** The walk as it is written: tied to the map it is seen on. */
export const asWritten = (now: Walk): Walk => {
  const mapId = openMap.value?.opened.id ?? now.mapId;
  return mapId === now.mapId ? now : { ...now, mapId };
};

/** @returns whether it is on disk now */
export async function saveWalk(): Promise<boolean> {
  const file = walkFile.value;
  if (!file || file.locked) return saveWalkAs();
  const now = walk.value;
  const text = formatWalk(asWritten(now));
  try {
    await write(file, now, text, false);
    return true;
  } catch (thrown) {
    const { code } = Fault.from(thrown);
    if (code === "changed-on-disk") return saveChanged(file, now, text);
    if (code === "taken-over") tellTakenOver(file);
    else sayFault(thrown);
    return false;
  }
}

/** From here on another window writes the file: here it is looked at, and saved as another. */
export function tellTakenOver({ handle }: WalkFile): void {
  lockFile();
  say(savingWords.takenOver(handle.name));
}

async function write({ handle }: WalkFile, now: Walk, text: string, evenIfChanged: boolean): Promise<void> {
  const notKept = await host.saveWalk(handle, text, { evenIfChanged });
  markSaved(now, handle);
  tellSaved(handle, notKept);
}

/** What could not be kept stays to be read; that all went well does not. */
function tellSaved({ name }: FileHandle, notKept: FaultRecord | null): void {
  if (notKept) sayFault(new Fault(notKept.code, savingWords.notKept(notKept.what), null, notKept.remedy));
  else say(words.notices.saved(name));
}

type Choice = "mine" | "theirs" | "another";

async function askAboutChange({ handle }: WalkFile): Promise<Choice | null> {
  return (await ask("question", {
    title: words.dialogs.changedTitle(handle.name),
    text: savingWords.changedText,
    buttons: [
      { id: "theirs", label: savingWords.takeTheirs },
      { id: "mine", label: savingWords.keepMine },
      { id: "another", label: savingWords.saveAnother, strong: true },
    ],
  })) as Choice | null;
}

async function saveChanged(file: WalkFile, now: Walk, text: string): Promise<boolean> {
  const choice = await askAboutChange(file);
  try {
    if (choice === "another") return await saveWalkAs();
    if (choice === "theirs") await takeFromFile(file);
    if (choice === "mine") await write(file, now, text, true);
    return choice !== null;
  } catch (thrown) {
    sayFault(thrown);
    return false;
  }
}

/** One step of the history: undoing it brings one's own back. */
async function takeFromFile({ handle }: WalkFile): Promise<void> {
  const { text, readOnly } = await host.reopenWalk(handle);
  const { walk: read, newer, foreign } = parseWalk(text, handle.name, today());
  edit(savingWords.tookTheirs, () => read);
  markSaved(read, handle);
  if (readOnly || newer || foreign) lockFile();
}

export const fileOnDisk = ({ handle }: WalkFile): ReturnType<typeof host.walkOnDisk> =>
  host.walkOnDisk(handle);

/** What to do about a file that is no longer as it was. */
export async function tellChange(file: WalkFile, state: "changed" | "gone"): Promise<void> {
  if (state === "gone") {
    if (!unsaved.value) say(savingWords.fileGone(file.handle.name));
    return markUnsaved();
  }
  const choice = await askAboutChange(file);
  if (choice === "theirs") return takeFromFile(file);
  // What the file holds now is known from here on.
  if (choice === "mine") await host.reopenWalk(file.handle);
  markUnsaved();
  if (choice === "another") await saveWalkAs();
}

export async function saveWalkAs(): Promise<boolean> {
  const now = walk.value;
  const text = formatWalk(asWritten(now));
  try {
    const suggested = walkFile.value?.handle.name ?? fileNameFrom(now.title, ".walk.geojson");
    const saved = await saveSomewhere(words.dialogs.saveTitle, suggested, (choice) =>
      host.saveWalkAs(text, suggested, choice),
    );
    if (!saved) return false;
    markSaved(now, saved.file);
    tellSaved(saved.file, saved.notKept);
    return true;
  } catch (thrown) {
    sayFault(thrown);
    return false;
  }
}
