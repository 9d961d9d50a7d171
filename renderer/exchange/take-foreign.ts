/** Ways in: by menu, by a file, by text; and the way out of the preview, into the walk. */
import { batch } from "@preact/signals";
import { addToWalk } from "../../core/exchange/add-to-walk.ts";
import { emptyWalk, type Walk } from "../../core/walk/walk.ts";
import { hostInfo } from "../app/host-info.ts";
import { say, sayFault } from "../app/notices.ts";
import { mayLeaveWalk, openKnown, takeText } from "../app/walk-files.ts";
import { ask, openDialogs } from "../dialogs/dialogs.ts";
import { takeFile } from "../host/host.ts";
import { pickLeg } from "../walk-state/selection.ts";
import { edit, openDocument, walk } from "../walk-state/walk-document.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import { clearSource, placeAtEnd, setSource } from "./import-state.ts";

const { in: words } = exchangeWords;
export const importIsOpen = (): boolean => openDialogs.peek().some(({ kind }) => kind === "import");

export const OWN_WALK = /\.walk\.geojson$/i;
export const FOREIGN = /\.(gpx|kml|kmz|geojson|json|csv|tsv|txt)$/i;

export function openImport(): void {
  if (importIsOpen()) return;
  placeAtEnd.value = false;
  void ask("import", null).then(clearSource);
}

/** A file of any kind that can be read; walks of our own are opened as such. */
export async function takeForeign(file: File): Promise<void> {
  try {
    if (OWN_WALK.test(file.name)) {
      // Where the system tells where it lies, it can be saved there too.
      if (hostInfo.value?.dialogs === "native") await openKnown(await takeFile(file));
      else await takeText(await file.text(), file.name, () => null);
      return;
    }
    setSource(file.name, new Uint8Array(await file.arrayBuffer()));
    openImport();
  } catch (thrown) {
    sayFault(thrown);
  }
}

export function takeForeignText(text: string): void {
  if (text.trim() === "") return;
  try {
    setSource(words.pasted, new TextEncoder().encode(text));
    openImport();
  } catch (thrown) {
    sayFault(thrown);
  }
}

/** @returns whether it was taken; false when the person would rather keep the open walk */
export async function takeIn(taken: Walk, name: string, atEnd: boolean): Promise<boolean> {
  const before = walk.peek().points.length;
  if (atEnd) edit(words.step(name), (now) => addToWalk(now, taken));
  else {
    if (!(await mayLeaveWalk())) return false;
    batch(() => {
      openDocument(emptyWalk(taken.date), null);
      // As an edit it can be undone, and counts as not saved.
      edit(words.step(name), () => taken);
    });
  }
  if (atEnd && walk.peek().points.length === before) return false;
  pickLeg(atEnd ? Math.max(0, before - 1) : 0);
  say(words.taken(walk.peek().points.length - (atEnd ? before : 0), name));
  return true;
}
