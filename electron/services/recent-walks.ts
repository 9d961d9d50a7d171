import { promises as fs } from "node:fs";
import { basename, dirname, resolve } from "node:path";
import type { RecentWalk } from "../contract.ts";
import type { PickedFiles } from "./picked-files.ts";

/** More would not be read in a menu. */
export const MOST_RECENT = 8;

/** A disk that is asleep or far away must not hold the menu up: a file not heard of in this time is taken to be there. */
const LONGEST_LOOK_MS = 500;

/** The paths a settings file holds; what is none is passed over. */
export function recentPathsIn(value: unknown): string[] {
  if (!Array.isArray(value)) return [];
  const paths = (value as unknown[]).filter((one) => typeof one === "string" && one !== "");
  return [...new Set(paths as string[])].slice(0, MOST_RECENT);
}

/** Where the paths are kept. */
interface RecentStore {
  recentWalks(): readonly string[];
  setRecentWalks(paths: readonly string[]): void;
}

/** The system's own list, beside the program's. */
export interface RecentDocuments {
  add(path: string): void;
  clear(): void;
}

/** Walks opened or saved lately, the newest first. The window knows them by handle only. */
export class RecentWalks {
  constructor(
    private readonly store: RecentStore,
    private readonly picked: PickedFiles,
    private readonly documents?: RecentDocuments,
  ) {}

  /** A list that cannot be kept is no reason not to open or save. */
  note(path: string): void {
    const full = resolve(path);
    this.#write([full, ...this.store.recentWalks().filter((one) => one !== full)].slice(0, MOST_RECENT));
    this.documents?.add(full);
  }

  async list(): Promise<readonly RecentWalk[]> {
    return await Promise.all(
      this.store.recentWalks().map(async (path) => ({
        file: this.picked.take(path),
        folder: basename(dirname(path)),
        there: await isThere(path),
      })),
    );
  }

  /**
   * @param id of a handle that was listed; null takes off all
   * @throws Fault "bad-argument" for a handle that was never given
   */
  forget(id: string | null): void {
    const path = id === null ? null : this.picked.pathOf(id);
    const left = path === null ? [] : this.store.recentWalks().filter((one) => one !== path);
    this.#write(left);
    // The system's list can only be emptied: what is left is told again, the oldest first.
    this.documents?.clear();
    for (const one of left.toReversed()) this.documents?.add(one);
  }

  #write(paths: readonly string[]): void {
    try {
      this.store.setRecentWalks(paths);
    } catch {
      // Nothing can be kept on this computer: that was said when starting.
    }
  }
}

async function isThere(path: string): Promise<boolean> {
  const found = fs.stat(path).then(
    (stat) => stat.isFile(),
    () => false,
  );
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<true>((settle) => (timer = setTimeout(() => settle(true), LONGEST_LOOK_MS)));
  return await Promise.race([found, late]).finally(() => clearTimeout(timer));
}
