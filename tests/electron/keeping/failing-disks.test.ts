/**
 * Unsaved work, versions and walks on disks that are full, cannot be written, do not answer or are gone. On a real disk in
 * memory where one can be mounted; with the errors of open(2), write(2) and fsync(2) put in place of the calls everywhere.
 */
import { execFileSync } from "node:child_process";
import { randomUUID } from "node:crypto";
import {
  promises as fs,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Drafts } from "../../../electron/services/keeping/drafts.ts";
import { keyOf, Versions } from "../../../electron/services/keeping/versions.ts";
import { Windows } from "../../../electron/services/keeping/windows.ts";
import { WalkFiles } from "../../../electron/services/walk-files.ts";
import { mountTiny, type TinyDisk } from "../../support/tiny-disk.ts";

let folder: string;
beforeEach(() => void (folder = mkdtempSync(join(tmpdir(), "legwright-disks-"))));
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

const draftsIn = (place: string): Drafts =>
  new Drafts(join(place, "drafts"), new Windows(join(folder, "windows")));
const draft = (text: string) => ({ title: "Moor", text, path: null });
/** Every file below a folder, the hidden ones included. */
const filesBelow = (place: string): string[] =>
  readdirSync(place, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ name }) => name);

describe("where a call fails", () => {
  const error = (code: string): NodeJS.ErrnoException => Object.assign(new Error(code), { code });
  /** New files cannot be opened, or written, from now on. */
  function failFrom(call: "open" | "writeFile", code: string): void {
    const open = fs.open.bind(fs);
    vi.spyOn(fs, "open").mockImplementation(async (path, flags, mode) => {
      if (flags !== "wx") return await open(path, flags, mode);
      if (call === "open") throw error(code);
      const file = await open(path, flags, mode);
      file.writeFile = () => Promise.reject(error(code));
      return file;
    });
  }

  it.each([
    ["open", "ENOSPC", "no-space"],
    ["writeFile", "ENOSPC", "no-space"],
    ["open", "EROFS", "read-only"],
    ["writeFile", "EIO", "unavailable"],
    ["open", "ENXIO", "unavailable"],
  ] as const)("(%s: %s) what was kept before stays, and it is told as %s", async (call, code, told) => {
    const window = randomUUID();
    const drafts = draftsIn(folder);
    const path = join(folder, "walk.walk.geojson");
    const versions = new Versions(join(folder, "versions"), () => 20);
    const walks = new WalkFiles(versions);
    const { file } = await walks.saveAs(path, "one", false);
    await drafts.keep(window, 0, draft("first"));
    const before = filesBelow(folder).sort();
    failFrom(call, code);

    await expect(drafts.keep(window, 0, draft("second"))).rejects.toMatchObject({ code: told });
    await expect(walks.save(file, "two", false)).rejects.toMatchObject({ code: told });
    await expect(walks.saveAs(join(folder, "b"), "two", false)).rejects.toMatchObject({ code: told });
    vi.restoreAllMocks();
    expect(readFileSync(path, "utf8")).toBe("one");
    expect(await drafts.found()).toMatchObject([{ text: "first" }]);
    expect((await versions.list(await keyOf(path))).map(({ text }) => text)).toEqual(["one"]);
    expect(filesBelow(folder).sort()).toEqual(before);
    // Once the disk is well again, so is keeping.
    await drafts.keep(window, 0, draft("second"));
    expect(await drafts.found()).toMatchObject([{ text: "second" }]);
  });
});

describe("a disk that is gone", () => {
  it("is told when a walk is saved on it; unsaved work is kept all the same", async () => {
    const away = join(folder, "disk");
    mkdirSync(away);
    const walks = new WalkFiles(new Versions(join(folder, "versions"), () => 20));
    const { file } = await walks.saveAs(join(away, "walk.walk.geojson"), "one", false);
    rmSync(away, { recursive: true });
    expect(await walks.onDisk(file)).toBe("gone");
    await expect(walks.save(file, "two", false)).rejects.toMatchObject({ code: "no-file" });
    await draftsIn(folder).keep(randomUUID(), 0, { ...draft("two"), path: join(away, "walk.walk.geojson") });
    expect(await draftsIn(folder).found()).toMatchObject([{ text: "two", saved: null }]);
  });

  it("takes the app's own folder with it: that is made anew", async () => {
    const drafts = draftsIn(folder);
    const window = randomUUID();
    await drafts.keep(window, 0, draft("first"));
    rmSync(join(folder, "drafts"), { recursive: true });
    await drafts.keep(window, 0, draft("second"));
    expect(await drafts.found()).toMatchObject([{ text: "second" }]);
  });
});

const canMount = ((): boolean => {
  const disk = mountTiny(mkdtempSync(join(tmpdir(), "legwright-mount-")));
  disk?.remove();
  return disk !== null;
})();

describe.skipIf(!canMount)("on a real disk of 64 kB (skipped where none can be mounted)", () => {
  let disk: TinyDisk;
  beforeEach(() => {
    const place = join(folder, "disk");
    mkdirSync(place);
    disk = mountTiny(place)!;
  });
  afterEach(() => disk.remove());

  it("full: the draft before stays whole, and keeping goes on when there is room", async () => {
    const drafts = draftsIn(disk.place);
    const window = randomUUID();
    await drafts.keep(window, 0, draft("a".repeat(20_000)));
    const more = draft("b".repeat(50_000));
    await expect(drafts.keep(window, 0, more)).rejects.toMatchObject({ code: "no-space" });
    expect(await drafts.found()).toMatchObject([{ text: "a".repeat(20_000) }]);
    expect(filesBelow(disk.place)).toHaveLength(1);
    await drafts.keep(window, 0, draft("b".repeat(30_000)));
    expect(await drafts.found()).toMatchObject([{ text: "b".repeat(30_000) }]);
  });

  it("full of versions: the walk itself is saved elsewhere, and what could not be kept is told", async () => {
    const versions = new Versions(disk.place, () => 20);
    const walks = new WalkFiles(versions);
    const path = join(folder, "walk.walk.geojson");
    const { file, notKept } = await walks.saveAs(path, "a".repeat(40_000), false);
    expect(notKept).toBeNull();
    expect(await walks.save(file, "b".repeat(40_000), false)).toMatchObject({ code: "no-space" });
    expect(readFileSync(path, "utf8")).toBe("b".repeat(40_000));
    const other = await walks.saveAs(join(folder, "other"), "c".repeat(40_000), false);
    expect(other.notKept).toMatchObject({ code: "no-space" });
    expect((await versions.list(await keyOf(path))).map(({ text }) => text)).toEqual(["a".repeat(40_000)]);
  });

  it("without a single byte left: nothing new can be kept, nothing old is lost", async () => {
    const path = join(disk.place, "walk.walk.geojson");
    const walks = new WalkFiles();
    const { file } = await walks.saveAs(path, "one", false);
    disk.fill();
    await expect(walks.save(file, "two", false)).rejects.toMatchObject({ code: "no-space" });
    await expect(draftsIn(disk.place).keep(randomUUID(), 0, draft("x"))).rejects.toMatchObject({
      code: "no-space",
    });
    expect(readFileSync(path, "utf8")).toBe("one");
  });

  it("turned read-only: it is told, old things are read on", async () => {
    const drafts = draftsIn(disk.place);
    const window = randomUUID();
    const path = join(disk.place, "walk.walk.geojson");
    const walks = new WalkFiles();
    const { file } = await walks.saveAs(path, "one", false);
    await drafts.keep(window, 0, draft("first"));
    execFileSync("mount", ["-o", "remount,ro", disk.place]);
    await expect(drafts.keep(window, 0, draft("second"))).rejects.toMatchObject({ code: "read-only" });
    await expect(walks.save(file, "two", false)).rejects.toMatchObject({ code: "read-only" });
    expect((await walks.open(path)).readOnly).toBe(true);
    expect(await drafts.found()).toMatchObject([{ text: "first" }]);
  });
});

describe("names in any script", () => {
  // Unicode 15, UAX 15: the same word composed (NFC) and decomposed (NFD); a disk may hold both, or one for both.
  it("composed and decomposed are two files where the disk has two, each with its own versions and lock", async () => {
    const [composed, decomposed] = ["Süd-Åse".normalize("NFC"), "Süd-Åse".normalize("NFD")];
    writeFileSync(join(folder, composed), "composed");
    const apart = !readdirSync(folder).includes(decomposed) && !(await isThere(join(folder, decomposed)));
    const versions = new Versions(join(folder, "versions"), () => 20);
    const walks = new WalkFiles(versions);
    const saved = await walks.saveAs(join(folder, decomposed), "decomposed", true);
    expect(saved.file.name.normalize("NFC")).toBe(composed);
    expect(readFileSync(join(folder, composed), "utf8")).toBe(apart ? "composed" : "decomposed");
    const keys = [await keyOf(join(folder, composed)), await keyOf(join(folder, decomposed))];
    expect(new Set(keys).size).toBe(apart ? 2 : 1);
    expect((await versions.list(keys[1]!)).map(({ text }) => text)[0]).toBe("decomposed");
  });

  const isThere = (path: string): Promise<boolean> =>
    fs.stat(path).then(
      () => true,
      () => false,
    );

  it.each(["سفر", "עמק", "नक्शा-यात्रा", "ทางเดิน", "山道", "🧭🥾", "O’Neill & “co”", "x".repeat(240)])(
    "%s is saved, kept and found again",
    async (stem) => {
      const path = join(folder, `${stem}.walk`);
      const versions = new Versions(join(folder, "versions"), () => 20);
      const { file, notKept } = await new WalkFiles(versions).saveAs(path, "one", false);
      expect([file.name, notKept]).toEqual([`${stem}.walk`, null]);
      const window = randomUUID();
      await draftsIn(folder).keep(window, 0, { title: stem, text: "two", path });
      expect(await draftsIn(folder).found()).toMatchObject([
        { title: stem, fileName: `${stem}.walk`, saved: "one" },
      ]);
      expect(await versions.walks()).toMatchObject([{ name: `${stem}.walk`, there: true }]);
    },
  );

  it("longer than any disk takes are told as that", async () => {
    const walks = new WalkFiles(new Versions(join(folder, "versions"), () => 20));
    // 256 bytes: one more than NAME_MAX (limits.h).
    await expect(walks.saveAs(join(folder, "x".repeat(256)), "one", false)).rejects.toMatchObject({
      code: "bad-argument",
      remedy: "Choose a shorter name.",
    });
  });
});
