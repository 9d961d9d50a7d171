import { createHash, randomUUID } from "node:crypto";
import { constants, promises as fs } from "node:fs";
import { basename } from "node:path";
import { Fault } from "../../core/fault.ts";
import type { FileHandle, OpenedText } from "../contract.ts";
import { saveAtomically } from "./atomic-save.ts";
import { fileFault } from "./file-faults.ts";

/** A walk of hundreds of points takes kilobytes; a file over this is not one, and would stall the window. */
export const MAX_WALK_BYTES = 32 * 1024 * 1024;

/** How a file was when it was last read or written here. */
interface Seen {
  readonly sizeBytes: number;
  readonly mtimeMs: number;
  readonly hash: string;
}

interface Opened {
  readonly path: string | null;
  seen: Seen | null;
  /** Saves of one file follow each other. */
  queue: Promise<unknown>;
}

/** The walk files the person opened or saved in this run. The window knows them by handle only. */
export class WalkFiles {
  readonly #opened = new Map<string, Opened>();

  /** @throws Fault "no-file", "read-only", "bad-walk" (too big, not text) */
  async open(path: string): Promise<OpenedText> {
    let bytes: Buffer;
    let seen: Seen;
    try {
      const stat = await fs.stat(path);
      if (stat.isDirectory()) throw Object.assign(new Error("a folder"), { code: "EISDIR" });
      if (stat.size > MAX_WALK_BYTES) throw tooBig(basename(path));
      bytes = await fs.readFile(path);
      seen = { sizeBytes: bytes.length, mtimeMs: stat.mtimeMs, hash: hashOf(bytes) };
    } catch (error) {
      throw fileFault(error, path, "could not be opened");
    }
    const text = decode(bytes, basename(path));
    const readOnly = await fs.access(path, constants.W_OK).then(
      () => false,
      () => true,
    );
    return { file: this.#remember(path, seen), text, readOnly };
  }

  /** A file whose content came from the window itself: where it lies is not known, so it can only be saved elsewhere. */
  openUploaded(name: string, text: string): OpenedText {
    if (Buffer.byteLength(text) > MAX_WALK_BYTES) throw tooBig(name);
    const id = randomUUID();
    this.#opened.set(id, { path: null, seen: null, queue: Promise.resolve() });
    return { file: { id, name }, text, readOnly: true };
  }

  /** @throws Fault "changed-on-disk", "read-only", "no-space", "no-file", "bad-argument" (unknown handle) */
  async save(file: FileHandle, text: string, evenIfChanged: boolean): Promise<void> {
    const opened = this.#opened.get(file.id);
    if (!opened) {
      throw new Fault(
        "bad-argument",
        "This file is not open in this run.",
        null,
        "Save the walk under a name.",
      );
    }
    const { path } = opened;
    if (path === null) {
      throw new Fault(
        "read-only",
        "This file came from the browser, which does not tell where it lies.",
        file.name,
        "Save the walk under a name.",
      );
    }
    const task = opened.queue.then(async () => {
      if (!evenIfChanged) await refuseIfChanged(path, opened.seen);
      await refuseIfLocked(path);
      await saveAtomically(path, text);
      opened.seen = await look(path, text);
    });
    opened.queue = task.catch(() => undefined);
    return await task;
  }

  /** @throws Fault "exists" when there is such a file and it may not be replaced; else as `save` */
  async saveAs(path: string, text: string, replace: boolean): Promise<FileHandle> {
    if (replace) await refuseIfLocked(path);
    await saveAtomically(path, text, { replace });
    return this.#remember(path, await look(path, text));
  }

  #remember(path: string, seen: Seen): FileHandle {
    const id = randomUUID();
    this.#opened.set(id, { path, seen, queue: Promise.resolve() });
    return { id, name: basename(path) };
  }
}

/** A file may be written by its owner's wish only: renaming over it would ignore that it is locked. */
async function refuseIfLocked(path: string): Promise<void> {
  try {
    await fs.access(path, constants.W_OK);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT")
      throw fileFault(error, path, "could not be saved");
  }
}

async function refuseIfChanged(path: string, seen: Seen | null): Promise<void> {
  if (!seen) return;
  const stat = await fs.stat(path).catch(() => null);
  // Gone: nothing can be overwritten. A folder that is gone shows when writing.
  if (!stat || (stat.size === seen.sizeBytes && stat.mtimeMs === seen.mtimeMs)) return;
  const content = await fs.readFile(path).catch(() => null);
  if (content && hashOf(content) === seen.hash) return;
  throw new Fault(
    "changed-on-disk",
    "Another program changed this file since it was opened.",
    basename(path),
    "Save the walk under another name, or replace the file.",
  );
}

async function look(path: string, text: string): Promise<Seen> {
  const bytes = Buffer.from(text);
  const stat = await fs.stat(path).catch(() => null);
  return { sizeBytes: bytes.length, mtimeMs: stat?.mtimeMs ?? 0, hash: hashOf(bytes) };
}

/** Text of a file: UTF-8, with or without a byte order mark. @throws Fault "bad-walk" */
export function decode(bytes: Uint8Array, where: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new Fault(
      "bad-walk",
      "The file is not UTF-8 text.",
      where,
      "Choose a walk file or a GeoJSON file.",
    );
  }
}

const hashOf = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

const tooBig = (where: string): Fault =>
  new Fault(
    "bad-walk",
    `The file is larger than ${MAX_WALK_BYTES / 1024 / 1024} MB.`,
    where,
    "Choose a walk file.",
  );
