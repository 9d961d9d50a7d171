import { spawn } from "node:child_process";
import {
  promises as fs,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Fault } from "../../core/fault.ts";
import { saveAll, saveAtomically, type SaveFs } from "../../electron/services/atomic-save.ts";
import { mountTiny } from "../support/tiny-disk.ts";

let folder: string;
let path: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-save-"));
  path = join(folder, "a.walk.geojson");
  writeFileSync(path, "old content");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const error = (code: string): NodeJS.ErrnoException => Object.assign(new Error(code), { code });

/** The real file system, except that one call fails with a code of open(2), write(2), fsync(2) or rename(2). */
function failing(call: "open" | "writeFile" | "sync" | "rename", code: string, half?: string): SaveFs {
  return {
    ...fs,
    open: async (name, flags, mode) => {
      if (call === "open" && flags === "wx") throw error(code);
      const file = await fs.open(name, flags, mode);
      return {
        writeFile: async (content) => {
          if (call !== "writeFile") return await file.writeFile(content);
          await file.writeFile(half ?? "");
          throw error(code);
        },
        sync: async () => {
          if (call === "sync" && flags === "wx") throw error(code);
          await file.sync();
        },
        close: () => file.close(),
        chmod: (mode) => file.chmod(mode),
      };
    },
    rename: async (from, to) => {
      if (call === "rename") throw error(code);
      await fs.rename(from, to);
    },
  };
}

describe("saving a file", () => {
  it("replaces the content and leaves nothing beside it", async () => {
    await saveAtomically(path, "new content");
    expect(readFileSync(path, "utf8")).toBe("new content");
    expect(readdirSync(folder)).toEqual(["a.walk.geojson"]);
  });

  it("keeps the permissions of the file it replaces", async () => {
    await fs.chmod(path, 0o640);
    await saveAtomically(path, "new content");
    expect(statSync(path).mode & 0o777).toBe(0o640);
  });

  it("writes through a symbolic link", async () => {
    const link = join(folder, "link.walk.geojson");
    await fs.symlink(path, link);
    await saveAtomically(link, "through the link");
    expect(readFileSync(path, "utf8")).toBe("through the link");
    expect((await fs.lstat(link)).isSymbolicLink()).toBe(true);
  });

  it("takes names in any script and of the greatest length", async () => {
    // 255 bytes is NAME_MAX of Linux file systems (limits.h).
    for (const name of ["Прогулка 山歩き 🧭.walk.geojson", "x".repeat(255)]) {
      await saveAtomically(join(folder, name), "x");
      expect(readFileSync(join(folder, name), "utf8")).toBe("x");
    }
  });

  it("does not replace when told not to", async () => {
    await expect(saveAtomically(path, "new", { replace: false })).rejects.toMatchObject({ code: "exists" });
    expect(readFileSync(path, "utf8")).toBe("old content");
    await saveAtomically(join(folder, "b"), "new", { replace: false });
    expect(readdirSync(folder).sort()).toEqual(["a.walk.geojson", "b"]);
  });

  // Error codes as in POSIX.1-2017, open, write, fsync and rename.
  it.each([
    ["open", "EROFS", "read-only"],
    ["open", "EACCES", "read-only"],
    ["open", "ENOENT", "no-file"],
    ["open", "ENOSPC", "no-space"],
    ["writeFile", "ENOSPC", "no-space"],
    ["writeFile", "EDQUOT", "no-space"],
    ["writeFile", "EIO", "unavailable"],
    ["sync", "EIO", "unavailable"],
    ["sync", "ENOSPC", "no-space"],
    ["rename", "EACCES", "read-only"],
    ["rename", "EBUSY", "unavailable"],
  ] as const)(
    "when %s fails with %s, says %s and leaves the old file and no other",
    async (call, code, fault) => {
      const attempt = saveAtomically(path, "new content", {}, failing(call, code, "new con"));
      await expect(attempt).rejects.toMatchObject({ name: "Fault", code: fault, where: "a.walk.geojson" });
      expect(readFileSync(path, "utf8")).toBe("old content");
      expect(readdirSync(folder)).toEqual(["a.walk.geojson"]);
    },
  );

  it("says that the folder is gone", async () => {
    const fault = await saveAtomically(join(folder, "gone", "a"), "x").catch((thrown: Fault) => thrown);
    expect(fault).toMatchObject({ code: "no-file" });
    expect((fault as Fault).remedy).toMatch(/disk is connected, or choose another place/);
  });

  it("writes files that belong together all or none", async () => {
    const other = join(folder, "gone", "b");
    await expect(
      saveAll([
        { path, content: "new" },
        { path: other, content: "new" },
      ]),
    ).rejects.toMatchObject({ code: "no-file" });
    expect(readFileSync(path, "utf8")).toBe("old content");
    expect(readdirSync(folder)).toEqual(["a.walk.geojson"]);
  });
});

const disk = mountTiny(mkdtempSync(join(tmpdir(), "legwright-disk-")));

describe.skipIf(!disk)("on a real disk that fills up (skipped where mounting is not allowed)", () => {
  it("keeps the old walk whole when only part of the new one fits", async () => {
    const tiny = disk!;
    const { place } = tiny;
    try {
      const file = join(place, "a.walk.geojson");
      writeFileSync(file, "old content");
      writeFileSync(join(place, "filler"), "x".repeat(40_000));
      await expect(saveAtomically(file, "y".repeat(60_000))).rejects.toMatchObject({ code: "no-space" });
      expect(readFileSync(file, "utf8")).toBe("old content");
      expect(readdirSync(place).sort()).toEqual(["a.walk.geojson", "filler"]);
    } finally {
      tiny.remove();
    }
  });
});

describe("killed while saving", () => {
  // Twelve programs are started one after the other.
  it("leaves a whole old or a whole new file, whenever it was killed", { timeout: 240_000 }, async () => {
    const saver = fileURLToPath(new URL("./support/save-for-ever.ts", import.meta.url));
    const contents = new Set<string>();
    for (let round = 0; round < 12; round++) {
      const child = spawn(process.execPath, ["--import", "tsx", saver, path], {
        stdio: ["ignore", "pipe", "inherit"],
      });
      const ended = new Promise((resolve) => child.once("exit", resolve));
      // It says so when the first save is done; then it is killed at a moment that differs each round.
      await new Promise((resolve) => child.stdout.once("data", resolve));
      await new Promise((resolve) => setTimeout(resolve, 3 + round * 5));
      child.kill("SIGKILL");
      await ended;
      const text = readFileSync(path, "utf8");
      const parsed = JSON.parse(text) as { n: number; filler: string; end: number };
      expect(parsed.end).toBe(parsed.n);
      contents.add(text);
    }
    // Unless it saved in between, nothing was tested.
    expect(contents.size).toBeGreaterThan(1);
  });
});
