/** Files that a page sends into the walk folder. Common practice, no source. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { takeUpload } from "../../electron/services/take-upload.ts";
import type { BrowserHost } from "../../electron/browser-host/server.ts";
import { enter, makePlace, type Place, send, startHost } from "./support/host.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-take-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function* pieces(...texts: string[]): AsyncGenerator<Uint8Array> {
  for (const text of texts) yield new TextEncoder().encode(text);
}

describe("taking in a file", () => {
  it("has it whole under its name", async () => {
    expect(await takeUpload(folder, "a.pmtiles", 6, pieces("abc", "def"))).toBe(join(folder, "a.pmtiles"));
    expect(readFileSync(join(folder, "a.pmtiles"), "utf8")).toBe("abcdef");
    expect(readdirSync(folder)).toEqual(["a.pmtiles"]);
  });

  it("leaves nothing of one that is shorter or longer than was said", async () => {
    await expect(takeUpload(folder, "a.tif", 7, pieces("abc"))).rejects.toMatchObject({ code: "cancelled" });
    await expect(takeUpload(folder, "a.tif", 2, pieces("abc"))).rejects.toMatchObject({
      code: "bad-argument",
    });
    async function* broken(): AsyncGenerator<Uint8Array> {
      yield new Uint8Array(3);
      throw new Error("the page is gone");
    }
    await expect(takeUpload(folder, "a.tif", 9, broken())).rejects.toMatchObject({ code: "internal" });
    expect(readdirSync(folder)).toEqual([]);
  });

  it("never replaces a file", async () => {
    writeFileSync(join(folder, "a.tif"), "mine");
    await expect(takeUpload(folder, "a.tif", 3, pieces("abc"))).rejects.toMatchObject({ code: "exists" });
    expect(readFileSync(join(folder, "a.tif"), "utf8")).toBe("mine");
  });

  it.each(["../a.tif", "a/b.tif", ".a.tif", "con.tif", "a.exe", "a.html", "settings", ""])(
    "refuses the name %j",
    async (name) => {
      await expect(takeUpload(folder, name, 3, pieces("abc"))).rejects.toMatchObject({ code: "not-allowed" });
      expect(readdirSync(folder)).toEqual([]);
    },
  );

  it("refuses what the disk has no room for before a byte is written", async () => {
    await expect(takeUpload(folder, "a.tif", Number.MAX_SAFE_INTEGER, pieces("abc"))).rejects.toMatchObject({
      code: "no-space",
    });
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe("the address for files", () => {
  let place: Place;
  let host: BrowserHost;
  beforeEach(async () => {
    place = makePlace();
    host = await startHost(place);
  });
  afterEach(async () => {
    await host.close();
    place.remove();
  });
  const put = (headers: Record<string, string>, path = "/take/bog.pmtiles") =>
    send(host.origin, { method: "POST", path, body: "bog", headers });

  it("is for the page of this run alone", async () => {
    const type = { "content-type": "application/octet-stream" };
    const cookie = await enter(host);
    expect((await put({ ...type, origin: host.origin })).status).toBe(403);
    expect((await put({ ...type, cookie })).status).toBe(403);
    expect((await put({ ...type, cookie, origin: "http://elsewhere.example" })).status).toBe(403);
    expect((await put({ "content-type": "text/plain", cookie, origin: host.origin })).text).toContain(
      "bad-argument",
    );
    expect((await put({ ...type, cookie, origin: host.origin }, "/take/..%2Fsecret.pmtiles")).text).toContain(
      "not-allowed",
    );
    expect(readdirSync(place.walks)).toEqual([]);
  });

  it("gives a handle with which the file is added as a map", async () => {
    const cookie = await enter(host);
    const headers = { "content-type": "application/octet-stream", cookie, origin: host.origin };
    const { value } = JSON.parse((await put(headers)).text) as { value: { id: string; name: string } };
    expect(value.name).toBe("bog.pmtiles");
    const reply = await send(host.origin, {
      method: "POST",
      path: "/api/addMap",
      headers: { "content-type": "application/json", cookie, origin: host.origin },
      body: JSON.stringify({ args: [{ file: value.id }] }),
    });
    expect(JSON.parse(reply.text)).toMatchObject({ ok: true, value: { id: "id-bog", title: "bog" } });
  });
});
