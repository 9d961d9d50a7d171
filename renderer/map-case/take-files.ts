/** Files from anywhere: dropped, or picked in the page. In the shell they are noted, in a browser copied to the walk folder. */
import { signal } from "@preact/signals";
import type { FileHandle } from "../../electron/contract.ts";
import { hostInfo } from "../app/host-info.ts";
import { sayFault } from "../app/notices.ts";
import { ask } from "../dialogs/dialogs.ts";
import { host, takeFile } from "../host/host.ts";
import { mapWords } from "../words/map-words.ts";

/** The file that is coming in, the share of it that has, and the way to stop it. */
export const takingIn = signal<{
  readonly name: string;
  readonly done: number;
  readonly stop: () => void;
} | null>(null);

/** Takes files one after the other; one that fails is said and passed over, stopping passes over the rest. */
export async function takeFiles(files: readonly File[]): Promise<FileHandle[]> {
  const controller = new AbortController();
  const taken: FileHandle[] = [];
  for (const file of files) {
    const told = (done: number): void => {
      takingIn.value = { name: file.name, done, stop: () => controller.abort() };
    };
    told(0);
    try {
      taken.push(await takeFile(file, told, controller.signal));
    } catch (thrown) {
      sayFault(thrown);
    }
    if (controller.signal.aborted) break;
  }
  takingIn.value = null;
  return taken;
}

/** Lets the person pick what a map is made of. */
export async function pickData(kind: "elevation" | "features"): Promise<readonly FileHandle[]> {
  if (hostInfo.value?.dialogs !== "page") return await host.pickDataFiles(kind);
  const answer = await ask("pick-files", {
    title: mapWords.pick[kind],
    names: await host.listDataFiles(kind),
    folder: hostInfo.value.folderName,
  });
  if (answer === null) return [];
  return "names" in answer ? await host.pickDataFiles(kind, answer.names) : await takeFiles(answer.files);
}
