import { randomUUID } from "node:crypto";
import { basename } from "node:path";
import { Fault } from "../../core/fault.ts";
import type { FileHandle } from "../contract.ts";

/** Files the person picked in this run, by dialog or by dropping them: the window knows them by handle only. */
export class PickedFiles {
  readonly #paths = new Map<string, string>();

  take(path: string): FileHandle {
    const known = [...this.#paths].find(([, one]) => one === path)?.[0];
    const id = known ?? randomUUID();
    this.#paths.set(id, path);
    return { id, name: basename(path) };
  }

  /** @throws Fault "bad-argument" for a handle that was never given */
  pathOf(id: string): string {
    const path = this.#paths.get(id);
    if (path === undefined)
      throw new Fault("bad-argument", "This file was not picked in this run.", null, "Choose it again.");
    return path;
  }
}
