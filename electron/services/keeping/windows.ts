import { randomUUID } from "node:crypto";
import { promises as fs } from "node:fs";
import { join } from "node:path";

/** A browser wakes the timers of a hidden page once a minute; one silent for longer is gone. */
const SILENT_HIDDEN_MS = 90_000;
/** A page that can be seen beats every few seconds: six beats in a row are not missed by being busy. No source. */
const SILENT_MS = 30_000;
const silenceOf = (hidden: boolean): number => (hidden ? SILENT_HIDDEN_MS : SILENT_MS);

interface Noted {
  readonly pid: number;
  readonly run: string;
  readonly beats: number;
  /** Its page could not be seen at that beat. */
  readonly hidden: boolean;
}

interface Watched {
  readonly beats: number;
  readonly since: number;
}

/**
 * Which windows are there, of this host and of others on this computer. A window that was killed says no goodbye:
 * its process is gone, or its count of beats stands still. Clock times are never compared, only this process's own
 * running time, because a clock may be set while we run.
 */
export class Windows {
  readonly #run = randomUUID();
  readonly #ours = new Map<string, { readonly heard: number; readonly hidden: boolean }>();
  readonly #watched = new Map<string, Watched>();
  #beats = 0;

  constructor(
    private readonly folder: string,
    private readonly now: () => number = () => performance.now(),
  ) {}

  /** @param hidden its page cannot be seen, and may beat once a minute only */
  async beat(id: string, hidden = false): Promise<void> {
    this.#ours.set(id, { heard: this.now(), hidden });
    const noted: Noted = { pid: process.pid, run: this.#run, beats: ++this.#beats, hidden };
    await fs.mkdir(this.folder, { recursive: true });
    await fs.writeFile(join(this.folder, `${id}.json`), JSON.stringify(noted));
  }

  async leave(id: string): Promise<void> {
    this.#ours.delete(id);
    await fs.unlink(join(this.folder, `${id}.json`)).catch(() => undefined);
  }

  /** Ids of this host's windows, to be left when it closes. */
  get ours(): readonly string[] {
    return [...this.#ours.keys()];
  }

  async isThere(id: string): Promise<boolean> {
    const ours = this.#ours.get(id);
    if (ours) return this.now() - ours.heard < silenceOf(ours.hidden);
    const noted = await this.#read(id);
    if (!noted || noted.run === this.#run || !isRunning(noted.pid)) return false;
    // A number of a process may have gone to another since: only a count that goes on proves the window.
    const before = this.#watched.get(id);
    if (!before || before.beats !== noted.beats) {
      this.#watched.set(id, { beats: noted.beats, since: this.now() });
      return true;
    }
    return this.now() - before.since < silenceOf(noted.hidden);
  }

  async #read(id: string): Promise<Noted | null> {
    try {
      return JSON.parse(await fs.readFile(join(this.folder, `${id}.json`), "utf8")) as Noted;
    } catch {
      return null;
    }
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
