import { promises as fs } from "node:fs";
import { basename, join } from "node:path";
import { Fault } from "../../../core/fault.ts";
import { saveAtomically } from "../atomic-save.ts";
import { keyOf } from "./versions.ts";
import type { Windows } from "./windows.ts";

/**
 * Which window writes which walk file. The locks lie in the app's own folder, so they are between windows of this
 * computer; a file that another computer writes is noticed by what is on disk.
 */
export class Locks {
  readonly #held = new Map<string, string>();

  constructor(
    private readonly folder: string,
    private readonly windows: Windows,
  ) {}

  /**
   * Takes the file for a window, which lets go of the one it had.
   * @param path null only lets go
   * @returns false when another window that is there has it
   */
  async hold(window: string, path: string | null, takeOver: boolean): Promise<boolean> {
    const lock = path === null ? null : await this.#lockOf(path);
    if (this.#held.get(window) !== lock) await this.release(window);
    if (lock === null) return true;
    await fs.mkdir(this.folder, { recursive: true });
    const holder = await holderIn(lock);
    const free = holder === null || holder === window || takeOver || !(await this.windows.isThere(holder));
    if (!free) return false;
    try {
      await saveAtomically(lock, JSON.stringify({ window }), { replace: holder !== null });
    } catch (thrown) {
      // Another was quicker.
      if (Fault.from(thrown).code === "exists") return false;
      throw thrown;
    }
    this.#held.set(window, lock);
    return true;
  }

  /** @throws Fault "taken-over" when another window that is there writes the file: asked at the moment of saving */
  async refuseIfTaken(window: string, path: string): Promise<void> {
    const holder = await holderIn(await this.#lockOf(path));
    if (holder === null || holder === window || !(await this.windows.isThere(holder))) return;
    throw new Fault(
      "taken-over",
      "The file is written from another window now.",
      basename(path),
      "Save the walk under another name.",
    );
  }

  /** Whether another window took the file over. */
  async isLost(window: string): Promise<boolean> {
    const lock = this.#held.get(window);
    if (lock === undefined) return false;
    const holder = await holderIn(lock);
    if (holder === null || holder === window) return false;
    this.#held.delete(window);
    return true;
  }

  async #lockOf(path: string): Promise<string> {
    return join(this.folder, `${await keyOf(path)}.json`);
  }

  async release(window: string): Promise<void> {
    const lock = this.#held.get(window);
    this.#held.delete(window);
    if (lock !== undefined && (await holderIn(lock)) === window) await fs.unlink(lock).catch(() => undefined);
  }
}

/** An unreadable lock is nobody's: null. */
async function holderIn(lock: string): Promise<string | null> {
  try {
    const { window } = JSON.parse(await fs.readFile(lock, "utf8")) as { window?: unknown };
    return typeof window === "string" ? window : "";
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "ENOENT" ? null : "";
  }
}
