/** A file system of 64 kB in memory, for tests of full disks. */
import { execFileSync } from "node:child_process";
import { closeSync, openSync, rmSync, writeSync } from "node:fs";
import { join } from "node:path";

export interface TinyDisk {
  readonly place: string;
  /** Takes what room there is left. */
  fill(): void;
  /** Gives that room back. */
  empty(): void;
  remove(): void;
}

/** @param place an empty folder, which goes with it @returns null where mounting is not allowed */
export function mountTiny(place: string): TinyDisk | null {
  if (process.platform !== "linux") return null;
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=64k", "tmpfs", place], { stdio: "ignore" });
  } catch {
    return null;
  }
  const filler = join(place, ".filler");
  return {
    place,
    fill() {
      const file = openSync(filler, "w");
      try {
        for (const size of [4096, 1]) for (;;) writeSync(file, Buffer.alloc(size));
      } catch {
        // Full.
      }
      closeSync(file);
    },
    empty: () => rmSync(filler, { force: true }),
    remove() {
      execFileSync("umount", ["-l", place]);
      rmSync(place, { recursive: true, force: true });
    },
  };
}
