/** Maps that are gone, moved, replaced, renamed or taken out of the case. Common practice, no source. */
import { mkdirSync, readFileSync, renameSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openConfSettings } from "../../electron/services/conf-settings.ts";
import { readCaseNotes } from "../../electron/services/map-case-notes.ts";
import type { Services } from "../../electron/services/services.ts";
import { makePlace, makeServices, type Place } from "./support/host.ts";

let place: Place;
let services: Services;
const api = () => services.api;
const put = (name: string, text: string): string => {
  writeFileSync(join(place.walks, name), text);
  return join(place.walks, name);
};
/** Titles of the case, with the faults of those that cannot be opened. */
const titles = async (): Promise<string[]> =>
  (await api().listMaps()).map(({ title, fault }) => (fault ? `${title}: ${fault.code}` : title));
/** Adds an archive that lies elsewhere, as the shell does for a dropped file. */
const addFrom = async (name: string, text: string): Promise<string> => {
  mkdirSync(join(place.root, "elsewhere"), { recursive: true });
  const path = join(place.root, "elsewhere", name);
  writeFileSync(path, text);
  await api().addMap({ file: services.picked.take(path).id });
  return path;
};

beforeEach(() => {
  place = makePlace();
  services = makeServices(place);
});
afterEach(async () => {
  await services.close();
  place.remove();
});

describe("renaming a map", () => {
  it("changes what the case calls it and not the file", async () => {
    const path = put("a.pmtiles", "alp");
    await api().renameMap("id-alp", "High pasture");
    expect((await api().listMaps())[0]).toMatchObject({ title: "High pasture", ownTitle: "alp" });
    expect(readFileSync(path, "utf8")).toBe("alp");
    await services.close();
    services = makeServices(place);
    expect(await titles()).toEqual(["High pasture"]);
    await api().renameMap("id-alp", null);
    expect((await api().listMaps())[0]).toMatchObject({ title: "alp", ownTitle: null });
  });

  it("tells two maps of one name apart", async () => {
    put("a.pmtiles", "alp");
    put("b.pmtiles", "alp");
    await api().renameMap("id-alp~2", "the copy");
    expect(await titles()).toEqual(["alp", "the copy"]);
  });

  it("refuses a map that is not there", async () => {
    await expect(api().renameMap("id-none", "x")).rejects.toMatchObject({ code: "no-file" });
  });
});

describe("taking a map out of the case", () => {
  it("leaves a file of the folder where it is, and adding it brings it back", async () => {
    const path = put("a.pmtiles", "alp");
    await api().removeMap("id-alp");
    expect(await titles()).toEqual([]);
    expect(readFileSync(path, "utf8")).toBe("alp");
    await api().addMap({ name: "a.pmtiles" });
    expect(await titles()).toEqual(["alp"]);
  });

  it("forgets one from elsewhere, also when its file is gone", async () => {
    const path = await addFrom("far.pmtiles", "far");
    rmSync(path);
    const [entry] = await api().listMaps();
    await api().removeMap(entry!.id);
    expect(await titles()).toEqual([]);
    expect(openConfSettings(place.settings).addedMaps()).toEqual([]);
  });
});

describe("a file that is not as it was", () => {
  it("is told by its title when it is gone, and is found again with title and view", async () => {
    const path = await addFrom("far.pmtiles", "far");
    await api().listMaps();
    await api().renameMap("id-far", "Far moor");
    await api().keepMapView("id-far", { lonLat: [0.5, 0.25], zoom: 12 });
    const moved = join(place.root, "elsewhere", "renamed.pmtiles");
    renameSync(path, moved);
    expect(await titles()).toEqual(["Far moor: no-file"]);
    const [gone] = await api().listMaps();
    await expect(api().openMap(gone!.id)).rejects.toMatchObject({ code: "no-file" });
    const entry = await api().relocateMap(gone!.id, { file: services.picked.take(moved).id });
    expect(entry).toMatchObject({
      title: "Far moor",
      fileName: "renamed.pmtiles",
      fault: null,
      view: { lonLat: [0.5, 0.25], zoom: 12 },
    });
    expect(await titles()).toEqual(["Far moor"]);
  });

  it("is told by the title it had of its own", async () => {
    const path = await addFrom("far.pmtiles", "far");
    await api().listMaps();
    rmSync(path);
    expect(await titles()).toEqual(["far: no-file"]);
  });

  it("is not found again in what cannot be read: the old place stays", async () => {
    const path = await addFrom("far.pmtiles", "far");
    await api().listMaps();
    rmSync(path);
    const [gone] = await api().listMaps();
    put("torn.pmtiles", "broken");
    await expect(api().relocateMap(gone!.id, { name: "torn.pmtiles" })).rejects.toMatchObject({
      code: "bad-archive",
    });
    expect(await titles()).toContain("far: no-file");
  });

  it("is read again when another took its place", async () => {
    const path = put("a.pmtiles", "alp");
    const [before] = await api().listMaps();
    writeFileSync(path, "arm");
    utimesSync(path, new Date(), new Date(Date.now() + 5000));
    const [after] = await api().listMaps();
    expect(after).toMatchObject({ id: "id-arm", title: "arm" });
    expect(after?.tag).not.toBe(before?.tag);
  });

  it("is shown by its place only when asked for", async () => {
    put("a.pmtiles", "alp");
    expect(await api().revealMap("id-alp")).toEqual({ shown: false, place: "walks/a.pmtiles" });
    const path = await addFrom("far.pmtiles", "far");
    expect(await api().revealMap("id-far")).toEqual({ shown: false, place: path });
  });
});

it("takes no handle that was never given", async () => {
  await expect(api().addMap({ file: "made-up" })).rejects.toMatchObject({ code: "bad-argument" });
});

it("reads notes of a spoilt settings file entry by entry", () => {
  const view = { lonLat: [1, 2], zoom: 3 };
  expect(
    readCaseNotes({ hidden: ["/a", 4], titles: { "/b": "B", "/c": 5 }, views: { "/d": view, "/e": {} } }),
  ).toEqual({
    hidden: ["/a"],
    titles: { "/b": "B" },
    seen: {},
    views: { "/d": view },
  });
  expect(readCaseNotes("nonsense")).toEqual({ hidden: [], titles: {}, seen: {}, views: {} });
});
