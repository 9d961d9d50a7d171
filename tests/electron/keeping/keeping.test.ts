/** Versions, unsaved work and who has a file. The checks are the files on disk and plain counting. */
import { spawnSync } from "node:child_process";
import { randomUUID } from "node:crypto";
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Drafts } from "../../../electron/services/keeping/drafts.ts";
import { keepingCalls } from "../../../electron/services/keeping/keeping-calls.ts";
import { Locks } from "../../../electron/services/keeping/locks.ts";
import { keyOf, Versions } from "../../../electron/services/keeping/versions.ts";
import { Windows } from "../../../electron/services/keeping/windows.ts";
import { WalkFiles } from "../../../electron/services/walk-files.ts";

let folder: string;
let path: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-keeping-"));
  path = join(folder, "walk.walk.geojson");
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

const kept = (): string => join(folder, "kept");

describe("versions", () => {
  it("keeps what was saved and what was replaced, the newest first, and so many", async () => {
    writeFileSync(path, "from before");
    const versions = new Versions(kept(), () => 3);
    const walks = new WalkFiles(versions);
    const { file } = await walks.open(path);
    for (const text of ["one", "two", "two", "three"]) expect(await walks.save(file, text, false)).toBeNull();
    const list = await versions.list(await keyOf(path));
    expect(list.map(({ text }) => text)).toEqual(["three", "two", "one"]);
    expect(readdirSync(folder).sort()).toEqual(["kept", "walk.walk.geojson"]);
  });

  it("keeps what another program wrote before it is saved over", async () => {
    const versions = new Versions(kept(), () => 20);
    const walks = new WalkFiles(versions);
    const { file } = await walks.saveAs(path, "mine", false);
    writeFileSync(path, "the other's");
    expect(await walks.onDisk(file)).toBe("changed");
    await expect(walks.save(file, "mine too", false)).rejects.toThrow("Another program");
    await walks.save(file, "mine too", true);
    const texts = (await versions.list(await keyOf(path))).map(({ text }) => text);
    expect(texts).toEqual(["mine too", "the other's", "mine"]);
    rmSync(path);
    expect(await walks.onDisk(file)).toBe("gone");
    expect(await versions.walks()).toMatchObject([{ name: "walk.walk.geojson", there: false }]);
  });

  it("goes by its own count when the clock is set back and files have any time", async () => {
    const versions = new Versions(kept(), () => 20);
    const clock = vi.spyOn(Date, "now");
    for (const [text, at] of [
      ["first", 2_000_000_000_000],
      ["second", 1_000],
      ["third", 1_500_000_000_000],
    ] as const) {
      clock.mockReturnValue(at);
      await versions.keep(path, text);
    }
    const key = await keyOf(path);
    for (const name of readdirSync(join(kept(), key))) utimesSync(join(kept(), key, name), 5, 5);
    expect((await versions.list(key)).map(({ text }) => text)).toEqual(["third", "second", "first"]);
  });

  it("never costs a save: where versions cannot be kept the file is written, and why not is told", async () => {
    // A file where the folder should be: fails for every user, root included.
    writeFileSync(kept(), "in the way");
    const walks = new WalkFiles(new Versions(kept(), () => 20));
    const { file, notKept } = await walks.saveAs(path, "one", false);
    expect(notKept).toMatchObject({ where: "walk.walk.geojson" });
    expect(await walks.save(file, "two", false)).toMatchObject({ where: "walk.walk.geojson" });
    expect(readFileSync(path, "utf8")).toBe("two");
  });

  it("knows a file in folders as deep as a path can be, with names in any script", async () => {
    // 4,095 bytes is PATH_MAX without its end, 255 NAME_MAX, of Linux (limits.h).
    let deep = folder;
    while (Buffer.byteLength(deep) < 3_700) deep = join(deep, "山歩きの計画".repeat(9));
    mkdirSync(deep, { recursive: true });
    const name = "Прогулка नक्शा 🧭.walk.geojson";
    const versions = new Versions(kept(), () => 20);
    await new WalkFiles(versions).saveAs(join(deep, name), "deep", false);
    expect((await versions.list(await keyOf(join(deep, name)))).map(({ text }) => text)).toEqual(["deep"]);
  });

  it("takes no key that leaves its folder", async () => {
    await expect(new Versions(kept(), () => 1).list("../../etc")).rejects.toThrow("no such kept walk");
  });
});

describe("unsaved work", () => {
  const make = (): Drafts => new Drafts(join(folder, "drafts"), new Windows(join(folder, "windows")));
  const text = (n: number): string => JSON.stringify({ n });

  it("is found once its window is gone, and no longer when it was saved", async () => {
    const windows = new Windows(join(folder, "windows"));
    const mine = new Drafts(join(folder, "drafts"), windows);
    const window = randomUUID();
    await windows.beat(window);
    await mine.keep(window, 0, { title: "Moor", text: text(1), path });
    // The same process is there: for itself and for another host.
    expect(await mine.found()).toEqual([]);
    expect(await make().found()).toEqual([]);
    await windows.leave(window);
    expect(await make().found()).toMatchObject([{ title: "Moor", text: text(1), saved: null }]);
    writeFileSync(path, text(1));
    expect(await make().found()).toEqual([]);
    expect(readdirSync(join(folder, "drafts"))).toEqual([]);
  });

  it("is told by name when it cannot be kept", async () => {
    writeFileSync(join(folder, "drafts"), "in the way");
    const draft = { title: "Moor", text: text(1), path: null };
    await expect(make().keep(randomUUID(), 0, draft)).rejects.toMatchObject({ where: "Moor" });
  });
});

describe("two windows on one file", () => {
  const [first, second] = [randomUUID(), randomUUID()];

  it("has one that writes; the other may take it over, and the first is told", async () => {
    const windows = new Windows(join(folder, "windows"));
    const locks = new Locks(join(folder, "locks"), windows);
    await windows.beat(first);
    await windows.beat(second);
    expect(await locks.hold(first, path, false)).toBe(true);
    expect(await locks.hold(second, path, false)).toBe(false);
    expect(await locks.isLost(first)).toBe(false);
    expect(await locks.hold(second, path, true)).toBe(true);
    expect(await locks.isLost(first)).toBe(true);
    await locks.release(second);
    expect(await locks.hold(first, path, false)).toBe(true);
  });

  it("knows a lock of a process that is gone, and of one whose number another has now", async () => {
    const locksOf = (windows: Windows): Locks => new Locks(join(folder, "locks"), windows);
    mkdirSync(join(folder, "locks"));
    mkdirSync(join(folder, "windows"));
    const note = (pid: number, beats: number, hidden: boolean): void =>
      writeFileSync(
        join(folder, "windows", `${first}.json`),
        JSON.stringify({ pid, run: "other", beats, hidden }),
      );
    writeFileSync(join(folder, "locks", `${await keyOf(path)}.json`), JSON.stringify({ window: first }));
    // This test's own process stands for the one that has the number.
    note(process.pid, 7, true);
    let now = 0;
    const windows = new Windows(join(folder, "windows"), () => now);
    expect(await locksOf(windows).hold(second, path, false)).toBe(false);
    now = 60_000;
    note(process.pid, 8, true);
    expect(await locksOf(windows).hold(second, path, false)).toBe(false);
    // Hidden, it may be silent for a minute and a half; seen, for half a minute.
    now = 149_000;
    expect(await locksOf(windows).hold(second, path, false)).toBe(false);
    note(process.pid, 9, false);
    expect(await locksOf(windows).hold(second, path, false)).toBe(false);
    now = 178_000;
    expect(await locksOf(windows).hold(second, path, false)).toBe(false);
    now = 180_000;
    expect(await locksOf(windows).hold(second, path, false)).toBe(true);

    const ended = spawnSync(process.execPath, ["-e", ""]);
    writeFileSync(join(folder, "locks", `${await keyOf(path)}.json`), JSON.stringify({ window: first }));
    note(ended.pid, 9, true);
    expect(await locksOf(new Windows(join(folder, "windows"))).hold(second, path, false)).toBe(true);
  });

  it("lets only the one save that has it, from the moment it was taken over", async () => {
    const walks = new WalkFiles();
    const { calls } = keepingCalls(join(folder, "kept"), walks, new Versions(join(folder, "v"), () => 5));
    await walks.saveAs(path, "one", false);
    const [{ file: mine }, { file: theirs }] = [await walks.open(path), await walks.open(path)];
    for (const window of [first, second]) await calls.beat(window, false);
    expect(await calls.holdWalk(first, mine)).toBe(true);
    expect(await calls.holdWalk(second, theirs)).toBe(false);
    // Looking only, it cannot write either.
    await expect(walks.save(theirs, "theirs", true)).rejects.toMatchObject({ code: "taken-over" });
    await walks.save(mine, "mine", true);
    expect(await calls.holdWalk(second, theirs, true)).toBe(true);
    // No beat has told the first of it yet.
    await expect(walks.save(mine, "mine again", true)).rejects.toMatchObject({
      code: "taken-over",
      where: "walk.walk.geojson",
    });
    expect(readFileSync(path, "utf8")).toBe("mine");
    await walks.save(theirs, "theirs", true);
    expect(readFileSync(path, "utf8")).toBe("theirs");
    await calls.leave(second);
    await walks.save(mine, "mine after all", true);
    expect(readFileSync(path, "utf8")).toBe("mine after all");
  });

  it("gives a torn lock to whoever asks", async () => {
    mkdirSync(join(folder, "locks"));
    const lock = join(folder, "locks", `${await keyOf(path)}.json`);
    writeFileSync(lock, '{"wind');
    const locks = new Locks(join(folder, "locks"), new Windows(join(folder, "windows")));
    expect(await locks.hold(first, path, false)).toBe(true);
  });
});
