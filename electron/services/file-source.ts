import { open } from "node:fs/promises";
import { basename } from "node:path";
import type { ByteSource } from "../../core/map/source.ts";
import { fileFault } from "./file-faults.ts";

/** An opened file as a byte source. It stays the same file when its name is given to another; `close` it. */
export interface FileSource extends ByteSource {
  readonly sizeBytes: number;
  /** Changes when the file does: for caches. */
  readonly tag: string;
  close(): Promise<void>;
}

/** @throws Fault "no-file", "read-only" … when it cannot be opened */
export async function openFileSource(path: string): Promise<FileSource> {
  const name = basename(path);
  try {
    const file = await open(path, "r");
    const stat = await file.stat();
    if (!stat.isFile()) {
      await file.close();
      throw Object.assign(new Error("not a file"), { code: "EISDIR" });
    }
    return {
      key: name,
      sizeBytes: stat.size,
      tag: `${stat.size.toString(36)}-${Math.round(stat.mtimeMs).toString(36)}`,
      async read(offset, length, signal) {
        signal?.throwIfAborted();
        const wanted = Math.max(0, Math.min(length, stat.size - offset));
        const bytes = new Uint8Array(wanted);
        let done = 0;
        try {
          while (done < wanted) {
            const { bytesRead } = await file.read(bytes, done, wanted - done, offset + done);
            // Cut short by another program since it was opened.
            if (bytesRead === 0) break;
            done += bytesRead;
          }
        } catch (error) {
          throw fileFault(error, path, "could not be read");
        }
        return bytes.subarray(0, done);
      },
      close: () => file.close(),
    };
  } catch (error) {
    throw fileFault(error, path, "could not be opened");
  }
}
