import { createHash, randomUUID } from "node:crypto";
import { constants, promises as fs } from "node:fs";
import { basename } from "node:path";
import { Fault, type FaultRecord } from "../../core/fault.ts";
import type { FileHandle, OpenedText, SavedWalk } from "../contract.ts";
import { saveAtomically } from "./atomic-save.ts";
import { fileFault } from "./file-faults.ts";
import type { Versions } from "./keeping/versions.ts";

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

  #beforeSaving: (file: FileHandle, path: string) => Promise<void> = async () => undefined;

  /** @param versions where texts are kept; left out, none are */
  constructor(private readonly versions?: Versions) {}

  /** @param check asked at the moment of each save over an open file; what it throws refuses the save */
  checkSaves(check: (file: FileHandle, path: string) => Promise<void>): void {
    this.#beforeSaving = check;
  }

  /** @throws Fault "no-file", "read-only", "bad-walk" (too big, not text) */
  async open(path: string): Promise<OpenedText> {
    const { text, seen, readOnly } = await readWalkFile(path);
    return { file: this.#remember(path, seen), text, readOnly };
  }

  /** Reads a file again, and takes what it holds now for known. @throws Fault as `open` */
  async reopen(file: FileHandle): Promise<OpenedText> {
    const opened = this.#get(file);
    const { text, seen, readOnly } = await readWalkFile(this.#pathOf(file));
    opened.seen = seen;
    return { file, text, readOnly };
  }

  /** Whether it is as it was last read or written here; one from the browser itself is always. */
  async onDisk(file: FileHandle): Promise<"same" | "changed" | "gone"> {
    const { path, seen, queue } = this.#get(file);
    await queue;
    if (path === null) return "same";
    const there = await fs.stat(path).catch(() => null);
    if (!there) return "gone";
    return (await isChanged(path, seen)) ? "changed" : "same";
  }

  /** Null for a file that came from the browser, and for one that is not known. */
  pathOf(file: FileHandle): string | null {
    return this.#opened.get(file.id)?.path ?? null;
  }

  /** A file whose content came from the window itself: where it lies is not known, so it can only be saved elsewhere. */
  openUploaded(name: string, text: string): OpenedText {
    if (Buffer.byteLength(text) > MAX_WALK_BYTES) throw tooBig(name);
    const id = randomUUID();
    this.#opened.set(id, { path: null, seen: null, queue: Promise.resolve() });
    return { file: { id, name }, text, readOnly: true };
  }

  /**
   * @returns why the versions could not be kept; null when they are: a save is never lost to that
   * @throws Fault "changed-on-disk", "taken-over", "read-only", "no-space", "no-file", "bad-argument" (unknown handle)
   */
  async save(file: FileHandle, text: string, evenIfChanged: boolean): Promise<FaultRecord | null> {
    const opened = this.#get(file);
    const path = this.#pathOf(file);
    const task = opened.queue.then(async () => {
      if (!evenIfChanged) await refuseIfChanged(path, opened.seen);
      await refuseIfLocked(path);
      await this.#beforeSaving(file, path);
      // What is replaced may be another program's, or older than the app's own folder.
      const before = await fs.readFile(path, "utf8").catch(() => null);
      const fault = before === null ? null : await this.#keep(path, before);
      await saveAtomically(path, text);
      opened.seen = await look(path, text);
      return (await this.#keep(path, text)) ?? fault;
    });
    opened.queue = task.catch(() => undefined);
    return await task;
  }

  /** @throws Fault "exists" when there is such a file and it may not be replaced; else as `save` */
  async saveAs(path: string, text: string, replace: boolean): Promise<SavedWalk> {
    let before: string | null = null;
    if (replace) {
      await refuseIfLocked(path);
      before = await fs.readFile(path, "utf8").catch(() => null);
    }
    const fault = before === null ? null : await this.#keep(path, before);
    await saveAtomically(path, text, { replace });
    const notKept = (await this.#keep(path, text)) ?? fault;
    return { file: this.#remember(path, await look(path, text)), notKept };
  }

  async #keep(path: string, text: string): Promise<FaultRecord | null> {
    try {
      await this.versions?.keep(path, text);
      return null;
    } catch (thrown) {
      return Fault.from(thrown).toRecord();
    }
  }

  #get(file: FileHandle): Opened {
    const opened = this.#opened.get(file.id);
    if (opened) return opened;
    throw new Fault(
      "bad-argument",
      "This file is not open in this run.",
      null,
      "Save the walk under a name.",
    );
  }

  #pathOf(file: FileHandle): string {
    const { path } = this.#get(file);
    if (path !== null) return path;
    throw new Fault(
      "read-only",
      "This file came from the browser, which does not tell where it lies.",
      file.name,
      "Save the walk under a name.",
    );
  }

  #remember(path: string, seen: Seen): FileHandle {
    const id = randomUUID();
    this.#opened.set(id, { path, seen, queue: Promise.resolve() });
    return { id, name: basename(path) };
  }
}

async function readWalkFile(
  path: string,
): Promise<{ readonly text: string; readonly seen: Seen; readonly readOnly: boolean }> {
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
  return { text, seen, readOnly };
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

/** Gone is not changed: nothing can be overwritten, and a folder that is gone shows when writing. */
async function isChanged(path: string, seen: Seen | null): Promise<boolean> {
  if (!seen) return false;
  const stat = await fs.stat(path).catch(() => null);
  if (!stat || (stat.size === seen.sizeBytes && stat.mtimeMs === seen.mtimeMs)) return false;
  const content = await fs.readFile(path).catch(() => null);
  return !content || hashOf(content) !== seen.hash;
}

async function refuseIfChanged(path: string, seen: Seen | null): Promise<void> {
  if (!(await isChanged(path, seen))) return;
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
