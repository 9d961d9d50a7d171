/** What a person does with the maps of the case. */
import type { FileHandle, MapChoice, MapEntry } from "../../electron/contract.ts";
import { hostInfo } from "../app/host-info.ts";
import { say, sayFault } from "../app/notices.ts";
import { ask } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { mapWords } from "../words/map-words.ts";
import { openMapById, refreshMapCase } from "./map-case.ts";
import { takeFiles } from "./take-files.ts";

/** Chooses an archive; undefined lets the host's own dialog ask, null is none. */
async function chooseArchive(): Promise<readonly MapChoice[] | undefined | null> {
  if (hostInfo.value?.dialogs !== "page") return undefined;
  const answer = await ask("pick-files", {
    title: mapWords.pick.map,
    names: await host.listDataFiles("map"),
    folder: hostInfo.value.folderName,
  });
  if (answer === null) return null;
  if ("names" in answer) return answer.names.map((name) => ({ name }));
  return mapsOf(await takeFiles(answer.files)).map(({ id }) => ({ file: id }));
}

const isTerrain = (name: string): boolean => /\.terrain\.pmtiles$/i.test(name);
const isArchive = (name: string): boolean => /\.(pmtiles|mbtiles)$/i.test(name);

/** Of taken files those that are maps; terrain only lies beside one. */
function mapsOf(files: readonly FileHandle[]): readonly FileHandle[] {
  const maps = files.filter(({ name }) => isArchive(name) && !isTerrain(name));
  if (maps.length === 0 && files.length > 0) say(mapWords.terrainAlone);
  return maps;
}

/** Adds a map, and opens it. */
export async function addMap(): Promise<void> {
  try {
    const choices = await chooseArchive();
    if (choices !== null) await addChosen(choices);
  } catch (thrown) {
    sayFault(thrown);
  }
}

export async function addTaken(files: readonly FileHandle[]): Promise<void> {
  await addChosen(mapsOf(files).map(({ id }) => ({ file: id })));
}

async function addChosen(choices: readonly MapChoice[] | undefined): Promise<void> {
  for (const choice of choices ?? [undefined]) {
    if (choice && "name" in choice && /\.mbtiles$/i.test(choice.name)) say(mapWords.converting(choice.name));
    try {
      const entry = await host.addMap(choice);
      if (!entry) continue;
      await refreshMapCase();
      say(mapWords.added(entry.title));
      await openMapById(entry.id);
    } catch (thrown) {
      sayFault(thrown);
    }
  }
}

export async function findAgain({ id }: MapEntry): Promise<void> {
  try {
    const choices = await chooseArchive();
    if (choices === null) return;
    const entry = await host.relocateMap(id, choices?.[0]);
    await refreshMapCase();
    if (entry) say(mapWords.added(entry.title));
  } catch (thrown) {
    sayFault(thrown);
  }
}

export async function removeMap({ id, title, fileName }: MapEntry): Promise<void> {
  const answer = await ask("question", {
    title: mapWords.removeAsk(title),
    text: mapWords.removeText(fileName),
    buttons: [{ id: "remove", label: mapWords.removeYes, strong: true }],
  });
  if (answer !== "remove") return;
  try {
    await host.removeMap(id);
    await refreshMapCase();
    say(mapWords.removed(title));
  } catch (thrown) {
    sayFault(thrown);
  }
}

export async function renameMap({ id }: MapEntry, title: string): Promise<void> {
  try {
    await host.renameMap(id, title.trim() === "" ? null : title.trim());
    await refreshMapCase();
  } catch (thrown) {
    sayFault(thrown);
  }
}

/** @returns where the file lies, in words, when the host could not show it */
export async function revealMap({ id }: MapEntry): Promise<string | null> {
  try {
    const { shown, place } = await host.revealMap(id);
    return shown ? null : place;
  } catch (thrown) {
    sayFault(thrown);
    return null;
  }
}
