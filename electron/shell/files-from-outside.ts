import { app } from "electron";
import { filesAmong } from "../services/given-files.ts";

type Take = (paths: readonly string[]) => void;

/** What this run was asked to open: a program that is not packaged is itself started with a path. */
const ownFiles = (): string[] => filesAmong(process.argv.slice(app.isPackaged ? 1 : 2), process.cwd());

/**
 * Lets one run have the program; another hands its files over and ends. They go as data, because the system may put the
 * arguments of a second run in another order.
 * @param take called with files of later runs, none too: then the person only looks for the window
 * @returns whether this is the one
 */
export function beTheOnlyOne(take: Take): boolean {
  if (!app.requestSingleInstanceLock({ files: ownFiles() })) return false;
  app.on("second-instance", (_event, _args, _folder, data) => take(filesIn(data)));
  return true;
}

/** Files this run was started with, and those a Mac sends to a program that runs. */
export function listenForFiles(take: Take): void {
  take(ownFiles());
  app.on("open-file", (event, path) => {
    event.preventDefault();
    take([path]);
  });
}

/** A second run may be of another version. */
function filesIn(data: unknown): string[] {
  const { files } = (typeof data === "object" && data !== null ? data : {}) as { readonly files?: unknown };
  return Array.isArray(files) ? (files as unknown[]).filter((one) => typeof one === "string") : [];
}
