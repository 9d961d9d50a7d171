import { mkdtempSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { MapCase } from "../../electron/services/map-case.ts";
import { OpenedMaps } from "../../electron/services/opened-maps.ts";
import { readInfoOfText } from "./support/host.ts";

let folder: string;
let added: string[];
let reads: string[];
let maps: MapCase;
const put = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-case-"));
  added = [];
  reads = [];
  maps = new MapCase({
    folders: [join(folder, "gone"), folder],
    added: () => added,
    remember: (path) => added.push(path),
    readInfo: async (source) => {
      reads.push(source.key);
      return await readInfoOfText(source);
    },
  });
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe("the map case", () => {
  it("takes archives, each with its terrain, and nothing else", async () => {
    put("b.pmtiles", "bog");
    put("a.pmtiles", "alp");
    put("a.terrain.pmtiles", "heights");
    put("orphan.terrain.pmtiles", "heights");
    put("notes.txt", "x");
    const list = (await maps.list()).map(({ entry }) => [entry.title, entry.hasTerrain, entry.sizeBytes]);
    expect(list).toEqual([
      ["alp", true, 3],
      ["bog", false, 3],
    ]);
  });

  it("reads an archive again only when it has changed", async () => {
    const path = put("a.pmtiles", "alp");
    await maps.list();
    await maps.list();
    expect(reads).toHaveLength(1);
    put("a.pmtiles", "arm");
    utimesSync(path, new Date(), new Date(Date.now() + 5000));
    expect((await maps.list())[0]?.entry.title).toBe("arm");
    expect(reads).toHaveLength(2);
  });

  it("gives two copies of one map two ids, the first its own", async () => {
    put("a.pmtiles", "alp");
    put("copy.pmtiles", "alp");
    expect((await maps.list()).map(({ entry }) => entry.id)).toEqual(["id-alp", "id-alp~2"]);
    expect((await maps.find("id-alp~2")).entry.fileName).toBe("copy.pmtiles");
  });

  it("remembers an added map, also when it is gone later", async () => {
    const elsewhere = mkdtempSync(join(tmpdir(), "legwright-elsewhere-"));
    writeFileSync(join(elsewhere, "far.pmtiles"), "far");
    expect(await maps.add(join(elsewhere, "far.pmtiles"))).toMatchObject({ id: "id-far", fault: null });
    expect(added).toEqual([join(elsewhere, "far.pmtiles")]);
    rmSync(elsewhere, { recursive: true });
    const [entry] = (await maps.list()).map((map) => map.entry);
    expect(entry).toMatchObject({ fileName: "far.pmtiles", fault: { code: "no-file" } });
    await expect(maps.find(entry?.id ?? "")).rejects.toMatchObject({ code: "no-file" });
  });

  it("does not add what cannot be read, or the terrain alone", async () => {
    await expect(maps.add(put("torn.pmtiles", "broken"))).rejects.toMatchObject({ code: "bad-archive" });
    await expect(maps.add(put("a.terrain.pmtiles", "heights"))).rejects.toMatchObject({
      code: "bad-archive",
    });
    expect(added).toEqual([]);
  });

  it("shows no path to the window", async () => {
    put("a.pmtiles", "alp");
    put("torn.pmtiles", "broken");
    const shown = JSON.stringify((await maps.list()).map(({ entry }) => entry));
    expect(shown).not.toContain(folder);
  });
});

describe("opened maps", () => {
  it("are open once, however often they are asked for, and stay the same when the file is replaced", async () => {
    put("a.pmtiles", "alp archive");
    const opened = new OpenedMaps();
    const first = await opened.open(await maps.find("id-alp archive"));
    expect(await opened.open(await maps.find("id-alp archive"))).toEqual(first);
    // As another program saves: a new file under the old name.
    rmSync(join(folder, "a.pmtiles"));
    put("a.pmtiles", "other archive");
    const second = await opened.open(await maps.find("id-other archive"));
    expect(second.archiveUrl).not.toBe(first.archiveUrl);
    const read = async (url: string): Promise<string> =>
      Buffer.from((await (await opened.answer(url, null)).read?.(0, 100)) ?? []).toString();
    expect(await read(first.archiveUrl)).toBe("alp archive");
    expect(await read(second.archiveUrl)).toBe("other archive");
    expect((await opened.answer(first.archiveUrl, null)).headers["etag"]).not.toBe(
      (await opened.answer(second.archiveUrl, null)).headers["etag"],
    );
    await opened.close();
    expect((await opened.answer(first.archiveUrl, null)).status).toBe(404);
  });
});
