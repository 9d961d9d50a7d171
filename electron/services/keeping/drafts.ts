import { promises as fs } from "node:fs";
import { basename, join } from "node:path";
import { Fault } from "../../../core/fault.ts";
import type { FoundDraft } from "../../contract.ts";
import { saveAtomically } from "../atomic-save.ts";
import { fileFault } from "../file-faults.ts";
import type { Windows } from "./windows.ts";

/** Window and slot: a window has its open walk in slot 0, and walks beside it in others. */
const ID = /^([0-9a-f-]{36})\.(\d{1,9})$/;

export interface Draft {
  readonly title: string;
  /** Text of the walk's file. */
  readonly text: string;
  /** Where it is saved; null when it never was. */
  readonly path: string | null;
}

interface Stored extends Draft {
  readonly version: 1;
  readonly at: number;
}

/** Unsaved work, written every few seconds into the app's own folder and taken away once it is saved or given up. */
export class Drafts {
  /** Writes and removals of one draft follow each other. */
  readonly #queues = new Map<string, Promise<unknown>>();

  constructor(
    private readonly folder: string,
    private readonly windows: Windows,
  ) {}

  /** @param draft null takes it away. @throws Fault "no-space", "read-only" */
  async keep(window: string, slot: number, draft: Draft | null): Promise<void> {
    const id = `${window}.${slot}`;
    await this.#after(id, async () => {
      if (draft === null) return await this.#remove(id);
      const stored: Stored = { version: 1, at: Date.now(), ...draft };
      await fs.mkdir(this.folder, { recursive: true }).catch((error: unknown) => {
        throw fileFault(error, draft.title, "could not be kept");
      });
      await saveAtomically(this.#path(id), JSON.stringify(stored));
    });
  }

  async drop(id: string): Promise<void> {
    await this.#after(id, () => this.#remove(id));
  }

  async dropAll(window: string): Promise<void> {
    for (const id of await this.#ids()) if (ID.exec(id)?.[1] === window) await this.drop(id);
  }

  /**
   * Work left by windows that are gone.
   * What is on disk already as it is kept is no longer work: it is taken away.
   */
  async found(): Promise<readonly FoundDraft[]> {
    const found: FoundDraft[] = [];
    for (const id of await this.#ids()) {
      const window = ID.exec(id)?.[1] ?? "";
      if (await this.windows.isThere(window)) continue;
      const stored = await this.read(id).catch(() => null);
      if (!stored) continue;
      const saved = stored.path === null ? null : await fs.readFile(stored.path, "utf8").catch(() => null);
      if (saved === stored.text) await this.drop(id);
      else {
        const fileName = stored.path === null ? null : basename(stored.path);
        found.push({ id, title: stored.title, at: stored.at, text: stored.text, fileName, saved });
      }
    }
    return found.sort((a, b) => a.title.localeCompare(b.title));
  }

  /** @throws Fault "no-file" */
  async read(id: string): Promise<Stored> {
    try {
      const stored = JSON.parse(await fs.readFile(this.#path(id), "utf8")) as Partial<Stored>;
      if (stored.version !== 1 || typeof stored.text !== "string" || typeof stored.at !== "number")
        throw new Fault("bad-walk", "This unsaved work is of another version of Legwright.");
      const path = typeof stored.path === "string" ? stored.path : null;
      return { version: 1, title: String(stored.title), text: stored.text, path, at: stored.at };
    } catch (error) {
      throw fileFault(error, id, "could not be taken up");
    }
  }

  async #ids(): Promise<string[]> {
    const names = await fs.readdir(this.folder).catch(() => []);
    return names.flatMap((name) => (ID.test(name.slice(0, -5)) ? [name.slice(0, -5)] : []));
  }

  #path(id: string): string {
    if (!ID.test(id)) throw new Fault("bad-argument", "There is no such unsaved work.");
    return join(this.folder, `${id}.json`);
  }

  async #remove(id: string): Promise<void> {
    await fs.unlink(this.#path(id)).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== "ENOENT") throw fileFault(error, id, "could not be removed");
    });
  }

  async #after(id: string, run: () => Promise<void>): Promise<void> {
    const task = (this.#queues.get(id) ?? Promise.resolve()).then(run);
    this.#queues.set(
      id,
      task.catch(() => undefined),
    );
    await task;
  }
}
