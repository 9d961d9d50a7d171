/** Files the program was asked from outside to open: double-clicked, or named when it was started. */
import type { FileHandle } from "../../electron/contract.ts";
import { layKnown } from "../beside/beside-state.ts";
import { openDialogs } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { addTaken } from "../map-case/case-actions.ts";
import { menuWords } from "../words/menu-words.ts";
import { say, sayFault } from "./notices.ts";
import { once } from "./once.ts";
import { openKnown } from "./walk-files.ts";

const ARCHIVE = /\.(pmtiles|mbtiles)$/i;
const WALK = /\.(geojson|json)$/i;

/** The first walk is opened, as if chosen; others are laid beside it. */
async function openAll(files: readonly FileHandle[]): Promise<void> {
  await addTaken(files.filter(({ name }) => ARCHIVE.test(name)));
  const [first, ...others] = files.filter(({ name }) => WALK.test(name));
  if (first && (await openKnown(first)))
    for (const file of others) say(menuWords.given.beside(await layKnown(file)));
  for (const { name } of files)
    if (!ARCHIVE.test(name) && !WALK.test(name)) say(menuWords.given.notOurs(name));
}

/** Asks the host for them; each is told once. */
export async function openGiven(): Promise<void> {
  try {
    const files = await host.filesToOpen();
    const [first] = files;
    if (!first) return;
    if (openDialogs.value.length > 0) say(menuWords.given.waits(first.name));
    // What a dialog is about would change behind it.
    await once(() => openDialogs.value.length === 0);
    await openAll(files);
  } catch (thrown) {
    sayFault(thrown);
  }
}
