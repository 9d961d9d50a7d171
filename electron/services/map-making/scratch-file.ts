import { randomBytes } from "node:crypto";
import { closeSync, openSync, readSync, unlinkSync, writeSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import type { Spool, SpoolReader } from "../../../core/mapmaking/spool.ts";
import { fileFault } from "../file-faults.ts";

/** A file for the time of one piece of work. */
export interface ScratchFile {
  /** Good in all threads of the process. */
  readonly fd: number;
  append(bytes: Uint8Array): number;
  /** Writes over what was appended. */
  write(offset: number, bytes: Uint8Array): void;
  close(): void;
}

/** Bytes gathered before they are written. */
const GATHER_BYTES = 1 << 20;

/**
 * Opens a nameless file beside a path: its name is taken away at once, so that it is gone however the process ends.
 * Where a system keeps names of open files (Windows), it is hidden, and taken away on closing.
 * @throws Fault "no-space", "read-only" … by the path
 */
export function scratchFile(beside: string): ScratchFile {
  const path = join(
    dirname(beside),
    `.${basename(beside).slice(0, 60)}.${randomBytes(6).toString("hex")}.tmp`,
  );
  const at = <T>(work: () => T): T => {
    try {
      return work();
    } catch (error) {
      throw fileFault(error, beside, "could not be worked on");
    }
  };
  const unlink = (): boolean => {
    try {
      unlinkSync(path);
      return true;
    } catch {
      return false;
    }
  };
  const fd = at(() => openSync(path, "wx+", 0o600));
  const gone = unlink();
  let length = 0;
  const put = (offset: number, bytes: Uint8Array): void =>
    at(() => {
      for (let done = 0; done < bytes.length;)
        done += writeSync(fd, bytes, done, bytes.length - done, offset + done);
    });
  return {
    fd,
    append(bytes) {
      put(length, bytes);
      length += bytes.length;
      return length - bytes.length;
    },
    write: put,
    close() {
      closeSync(fd);
      if (!gone) unlink();
    },
  };
}

/** Bytes of a file from an offset on. @throws Error when it has not that many */
export function readFully(fd: number, into: Uint8Array, offset: number): void {
  for (let done = 0; done < into.length;) {
    const read = readSync(fd, into, done, into.length - done, offset + done);
    if (read === 0) throw new Error("A file for work in between was cut short.");
    done += read;
  }
}

/** Reads what another thread has put into a spool's file. */
export const fileReader = (fd: number): SpoolReader => ({
  read(offset, length) {
    const bytes = new Uint8Array(length);
    readFully(fd, bytes, offset);
    return bytes;
  },
});

/** A spool in a scratch file. */
export function fileSpool(file: ScratchFile): Spool {
  const reader = fileReader(file.fd);
  let gathered: Uint8Array[] = [];
  let gatheredBytes = 0;
  let written = 0;
  const flush = (): void => {
    if (gatheredBytes === 0) return;
    written = file.append(Buffer.concat(gathered)) + gatheredBytes;
    gathered = [];
    gatheredBytes = 0;
  };
  return {
    append(bytes) {
      gathered.push(bytes);
      gatheredBytes += bytes.length;
      const at = written + gatheredBytes - bytes.length;
      if (gatheredBytes >= GATHER_BYTES) flush();
      return at;
    },
    read(offset, length) {
      if (offset + length > written) flush();
      return reader.read(offset, length);
    },
    flush,
  };
}
