import { join } from "node:path";
import type { HostApi } from "../../contract.ts";
import type { WalkFiles } from "../walk-files.ts";
import { Drafts } from "./drafts.ts";
import { Locks } from "./locks.ts";
import { keyOf, type Versions } from "./versions.ts";
import { Windows } from "./windows.ts";

type Calls = Pick<
  HostApi,
  | "beat"
  | "leave"
  | "holdWalk"
  | "keepDraft"
  | "takeDraft"
  | "dropDraft"
  | "keptWalks"
  | "keptVersions"
  | "walkOnDisk"
  | "reopenWalk"
>;

/** The calls about unsaved work, earlier versions, and who has a file. */
export function keepingCalls(
  folder: string,
  walks: WalkFiles,
  versions: Versions,
): { readonly calls: Calls; close(): Promise<void> } {
  const windows = new Windows(join(folder, "windows"));
  const drafts = new Drafts(join(folder, "drafts"), windows);
  const locks = new Locks(join(folder, "locks"), windows);
  /** Which window has an open file, by its handle. */
  const windowOf = new Map<string, string>();
  walks.checkSaves(async (file, path) => {
    const window = windowOf.get(file.id);
    if (window !== undefined) await locks.refuseIfTaken(window, path);
  });
  const leave = async (window: string, forget: boolean): Promise<void> => {
    await locks.release(window);
    if (forget) await drafts.dropAll(window);
    await windows.leave(window);
  };
  return {
    calls: {
      beat: async (window, hidden) => {
        // Where nothing can be written, work goes on; keeping a draft says so.
        await windows.beat(window, hidden).catch(() => undefined);
        return {
          takenOver: await locks.isLost(window),
          drafts: await drafts.found(),
        };
      },
      leave: (window, forget) => leave(window, forget === true),
      holdWalk: async (window, file, takeOver) => {
        if (file) windowOf.set(file.id, window);
        return locks.hold(window, file && walks.pathOf(file), takeOver === true);
      },
      keepDraft: (window, slot, draft) =>
        drafts.keep(
          window,
          slot,
          draft && { title: draft.title, text: draft.text, path: draft.file && walks.pathOf(draft.file) },
        ),
      takeDraft: async (id) => {
        const { text, path } = await drafts.read(id);
        // A file that is gone, or no longer readable, leaves a walk without a file.
        const opened = path === null ? null : await walks.open(path).catch(() => null);
        return { text, file: opened?.file ?? null, readOnly: opened?.readOnly ?? false };
      },
      dropDraft: (id) => drafts.drop(id),
      keptWalks: async (file) => {
        const path = file && walks.pathOf(file);
        return { walks: await versions.walks(), open: path === null ? null : await keyOf(path) };
      },
      keptVersions: (key) => versions.list(key),
      walkOnDisk: (file) => walks.onDisk(file),
      reopenWalk: (file) => walks.reopen(file),
    },
    async close() {
      for (const window of windows.ours) await leave(window, false);
    },
  };
}
