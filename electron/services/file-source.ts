import { open, stat as statOf } from "node:fs/promises";
import { basename } from "node:path";
import type { ByteSource } from "../../core/map/source.ts";
import { fileFault } from "./file-faults.ts";

/** An opened file as a byte source. It stays the same file when its name is given to another; `close` it. */
export interface FileSource extends ByteSource {
  readonly sizeBytes: number;
  /** Changes when the file does: for caches. */
  readonly tag: string;
  /** Whether it is as it was opened: written over or cut short since, or no longer where it was. */
  state(): Promise<"same" | "changed" | "gone">;
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
      async state() {
        const now = await file.stat();
        if (now.size !== stat.size || now.mtimeMs !== stat.mtimeMs) return "changed";
        // Removed, or another file was put in its place: what was opened can be read still.
        const there = now.nlink > 0 ? await statOf(path).catch(() => null) : null;
        return there?.ino === now.ino && there.dev === now.dev ? "same" : "gone";
      },
      close: () => file.close(),
    };
  } catch (error) {
    throw fileFault(error, path, "could not be opened");
  }
}
