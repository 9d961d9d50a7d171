/** Walks opened lately: order, length, files that are gone, and that the window learns no path. */
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openConfSettings } from "../../electron/services/conf-settings.ts";
import { PickedFiles } from "../../electron/services/picked-files.ts";
import { MOST_RECENT, recentPathsIn, RecentWalks } from "../../electron/services/recent-walks.ts";
import { makePlace, makeServices, type Place } from "./support/host.ts";

let place: Place;
beforeEach(() => (place = makePlace()));
afterEach(() => place.remove());

const put = (name: string): string => {
  const path = join(place.walks, name);
  writeFileSync(path, "{}");
  return path;
};

describe("the list", () => {
  it("has the newest first, each once, and no more than a menu holds", async () => {
    const recents = new RecentWalks(openConfSettings(place.settings), new PickedFiles());
    const names = Array.from({ length: MOST_RECENT + 3 }, (_, i) => `walk-${i}.walk.geojson`);
    for (const name of names) recents.note(put(name));
    recents.note(join(place.walks, "walk-5.walk.geojson"));
    const listed = (await recents.list()).map(({ file }) => file.name);
    expect(listed).toEqual([5, 10, 9, 8, 7, 6, 4, 3].map((i) => `walk-${i}.walk.geojson`));
  });

  it("lasts until the next run, and keeps to the services where the files lie", async () => {
    const path = put("a.walk.geojson");
    new RecentWalks(openConfSettings(place.settings), new PickedFiles()).note(path);
    const settings = openConfSettings(place.settings);
    const listed = await new RecentWalks(settings, new PickedFiles()).list();
    expect(listed).toMatchObject([{ file: { name: "a.walk.geojson" }, folder: "walks", there: true }]);
    expect(JSON.stringify([listed, settings.get()])).not.toContain(place.root);
  });

  it("says which files are gone, and what is no file", async () => {
    const recents = new RecentWalks(openConfSettings(place.settings), new PickedFiles());
    recents.note(put("gone.walk.geojson"));
    mkdirSync(join(place.walks, "folder.walk.geojson"));
    recents.note(join(place.walks, "folder.walk.geojson"));
    rmSync(join(place.walks, "gone.walk.geojson"));
    expect((await recents.list()).map(({ there }) => there)).toEqual([false, false]);
  });

  it("loses one or all, in the system's own list too", async () => {
    let system: string[] = [];
    const documents = { add: (path: string) => void system.push(path), clear: () => void (system = []) };
    const recents = new RecentWalks(openConfSettings(place.settings), new PickedFiles(), documents);
    const [a, b, c] = ["a", "b", "c"].map((name) => put(`${name}.walk.geojson`)) as [string, string, string];
    for (const path of [a, b, c]) recents.note(path);
    expect(system).toEqual([a, b, c]);
    const [, second] = await recents.list();
    recents.forget(second!.file.id);
    expect((await recents.list()).map(({ file }) => file.name)).toEqual(["c.walk.geojson", "a.walk.geojson"]);
    expect(system).toEqual([a, c]);
    recents.forget(null);
    expect(await recents.list()).toEqual([]);
    expect(system).toEqual([]);
    expect(() => recents.forget("never given")).toThrow(/was not picked in this run/);
  });

  it("is no reason to fail where nothing can be kept", () => {
    const store = {
      recentWalks: () => [],
      setRecentWalks: () => {
        throw new Error("the disk is full");
      },
    };
    expect(() => new RecentWalks(store, new PickedFiles()).note("/a")).not.toThrow();
  });

  it.each([
    [undefined, []],
    ["x", []],
    [
      [1, null, "", "/a", "/a", { b: 1 }, "/b"],
      ["/a", "/b"],
    ],
  ])("is read from a settings file that holds %j", (stored, expected) => {
    expect(recentPathsIn(stored)).toEqual(expected);
  });
});

describe("the calls of the window", () => {
  it("note what was opened and saved, and open it again by handle, to be written", async () => {
    const { api } = makeServices(place);
    put("opened.walk.geojson");
    await api.openWalk({ name: "opened.walk.geojson" });
    await api.saveWalkAs("{}", "saved", { name: "saved.walk.geojson" });
    await api.openWalk({ upload: { name: "sent.walk.geojson", text: "{}" } });
    await api.openDemoWalk().catch(() => undefined);
    const listed = await api.recentWalks();
    expect(listed.map(({ file }) => file.name)).toEqual(["saved.walk.geojson", "opened.walk.geojson"]);
    const again = await api.openWalk({ file: listed[1]!.file.id });
    expect(again).toMatchObject({ text: "{}", readOnly: false, file: { name: "opened.walk.geojson" } });
    await api.saveWalk(again!.file, '{"a":1}');
    expect((await api.recentWalks())[0]?.file.name).toBe("opened.walk.geojson");
  });

  it("leave the list alone when a file cannot be opened", async () => {
    const { api } = makeServices(place);
    const path = put("gone.walk.geojson");
    await api.openWalk({ name: "gone.walk.geojson" });
    rmSync(path);
    const [gone] = await api.recentWalks();
    await expect(api.openWalk({ file: gone!.file.id })).rejects.toMatchObject({ code: "no-file" });
    await expect(api.openWalk({ file: "/etc/passwd" })).rejects.toMatchObject({ code: "bad-argument" });
    expect(await api.recentWalks()).toHaveLength(1);
    await api.forgetRecent(gone!.file.id);
    expect(await api.recentWalks()).toEqual([]);
  });
});
