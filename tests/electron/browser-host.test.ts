/**
 * Who is let in and what is handed out. What is refused follows the Fetch Metadata and Same-Origin rules (W3C Fetch
 * Metadata Request Headers; RFC 6454), ranges RFC 9110 §14, cookies RFC 6265bis.
 */
import {
  existsSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { USUAL_WISH } from "../../core/sheet/sheet-job.ts";
import { type Envelope, GONE_HEADER, type OpenedMap } from "../../electron/contract.ts";
import type { BrowserHost } from "../../electron/browser-host/server.ts";
import { enter, makePlace, type Place, send, startHost } from "./support/host.ts";

let place: Place;
let host: BrowserHost;
let cookie: string;
const fresh: string[] = [];

beforeAll(async () => {
  place = makePlace();
  writeFileSync(join(place.samples, "moor.pmtiles"), "moor archive bytes 0123456789");
  writeFileSync(join(place.samples, "moor.terrain.pmtiles"), "terrain bytes");
  writeFileSync(join(place.samples, "torn.pmtiles"), "broken");
  host = await startHost(place, (address) => fresh.push(address));
  cookie = await enter(host);
});
afterAll(async () => {
  await host.close();
  place.remove();
});

const call = async (
  method: string,
  args: unknown,
  headers: Record<string, string> = {},
): Promise<{ status: number; envelope: Envelope<unknown> }> => {
  const reply = await send(host.origin, {
    method: "POST",
    path: `/api/${method}`,
    headers: { cookie, origin: host.origin, "content-type": "application/json", ...headers },
    body: JSON.stringify({ args }),
  });
  return { status: reply.status, envelope: JSON.parse(reply.text) as Envelope<unknown> };
};

const value = async (method: string, ...args: unknown[]): Promise<unknown> => {
  const { envelope } = await call(method, args);
  if (!envelope.ok) throw new Error(`${envelope.fault.code}: ${envelope.fault.what}`);
  return envelope.value;
};

describe("coming in", () => {
  it("serves on 127.0.0.1 only", () => {
    expect(host.origin).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
  });

  it("gives the cookie once, out of reach of scripts and of other sites", async () => {
    const other = await startHost(place);
    const address = new URL(other.entrance());
    const first = await send(other.origin, { path: address.pathname + address.search });
    expect(first.status).toBe(303);
    expect(first.headers["location"]).toBe("/");
    expect(first.headers["set-cookie"]?.[0]).toMatch(/; HttpOnly; SameSite=Strict; Path=\/$/);
    const second = await send(other.origin, { path: address.pathname + address.search });
    expect(second.status).toBe(403);
    expect(second.headers["set-cookie"]).toBeUndefined();
    await other.close();
  });

  it("names a fresh address at the terminal when one is used twice", async () => {
    const { pathname, search } = new URL(host.entrance());
    await send(host.origin, { path: pathname + search });
    await send(host.origin, { path: pathname + search });
    expect(fresh.at(-1)).toBe(host.entrance());
    expect(fresh.at(-1)).not.toContain(search);
  });

  it("refuses a wrong key", async () => {
    const reply = await send(host.origin, { path: "/enter?key=AAAA" });
    expect(reply.status).toBe(403);
    expect(reply.headers["set-cookie"]).toBeUndefined();
  });

  it.each([
    ["no cookie", {}],
    ["another's cookie", { cookie: "legwright-1=x" }],
    ["a wrong secret", { cookie: "COOKIE=AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA" }],
  ])("refuses %s on every kind of address", async (_name, headers: Record<string, string>) => {
    const name = cookie.split("=")[0] as string;
    const sent = headers["cookie"] ? { cookie: headers["cookie"].replace("COOKIE", name) } : {};
    for (const path of ["/", "/index.html", "/map/x/archive", "/nothing"]) {
      expect((await send(host.origin, { path, headers: sent })).status).toBe(403);
    }
    const posted = await send(host.origin, {
      method: "POST",
      path: "/api/info",
      headers: { ...sent, origin: host.origin, "content-type": "application/json" },
      body: "{}",
    });
    expect(posted.status).toBe(403);
  });
});

describe("requests from elsewhere", () => {
  it.each(["evil.example", "localhost", "127.0.0.1", "127.0.0.1:1", "[::1]"])(
    "refuses Host %s",
    async (name) => {
      const reply = await send(host.origin, { path: "/", headers: { cookie, host: name } });
      expect(reply.status).toBe(403);
      expect(reply.text).not.toContain("window");
    },
  );

  it.each(["http://evil.example", "null", "http://127.0.0.1:1", "https://127.0.0.1"])(
    "refuses Origin %s",
    async (origin) => {
      expect((await call("info", [], { origin }).catch(() => ({ status: 403 }))).status).toBe(403);
      expect((await send(host.origin, { path: "/", headers: { cookie, origin } })).status).toBe(403);
    },
  );

  it("refuses a call that does not say where it comes from", async () => {
    const reply = await send(host.origin, {
      method: "POST",
      path: "/api/info",
      headers: { cookie, "content-type": "application/json" },
      body: "{}",
    });
    expect(reply.status).toBe(403);
  });

  it.each(["cross-site", "same-site"])("refuses Sec-Fetch-Site %s", async (site) => {
    const reply = await send(host.origin, { path: "/", headers: { cookie, "sec-fetch-site": site } });
    expect(reply.status).toBe(403);
  });

  it("never sends CORS headers, and answers no preflight", async () => {
    const reply = await send(host.origin, {
      method: "OPTIONS",
      path: "/api/info",
      headers: { cookie, origin: host.origin, "access-control-request-method": "POST" },
    });
    expect(reply.status).toBe(405);
    for (const path of ["/", "/api/info", "/none"]) {
      const { headers } = await send(host.origin, { path, headers: { cookie } });
      expect(Object.keys(headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
    }
  });
});

describe("files of the window", () => {
  it("serves them with the content policy, and HEAD without a body", async () => {
    const reply = await send(host.origin, { path: "/", headers: { cookie } });
    expect(reply.status).toBe(200);
    expect(reply.text).toContain("window");
    const policy = String(reply.headers["content-security-policy"]);
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
    expect(reply.headers["x-content-type-options"]).toBe("nosniff");
    const head = await send(host.origin, { method: "HEAD", path: "/", headers: { cookie } });
    expect(head.status).toBe(200);
    expect(head.headers["content-length"]).toBe(String(reply.bytes.length));
    expect(head.bytes.length).toBe(0);
  });

  it.each([
    "/../secret.txt",
    "/..%2fsecret.txt",
    "/%2e%2e/secret.txt",
    "/%2e%2e%2fsecret.txt",
    "/assets/../../secret.txt",
    "/..\\secret.txt",
    "/..%5csecret.txt",
    "/%252e%252e/secret.txt",
    "/index.html%00.js",
    "/.hidden",
    "/link.txt",
    "//etc/passwd",
    "/C:/windows/win.ini",
    "/%",
  ])("does not serve %s", async (path) => {
    if (!existsSync(join(place.window, "link.txt")))
      symlinkSync(join(place.root, "secret.txt"), join(place.window, "link.txt"));
    writeFileSync(join(place.window, ".hidden"), "secret");
    const reply = await send(host.origin, { path, headers: { cookie } });
    expect([400, 404]).toContain(reply.status);
    expect(reply.text).not.toContain("secret");
  });

  it("refuses an address with a whole URL in it", async () => {
    const reply = await send(host.origin, { path: "http://evil.example/", headers: { cookie } });
    expect(reply.status).toBe(400);
  });
});

describe("archives", () => {
  const open = async (): Promise<OpenedMap> =>
    (await value("openMap", "id-moor archive bytes 0")) as OpenedMap;
  const bytes = "moor archive bytes 0123456789";

  it("lists maps with those that cannot be opened, and says why", async () => {
    const maps = (await value("listMaps")) as {
      id: string;
      hasTerrain: boolean;
      fault: { code: string } | null;
    }[];
    expect(maps).toHaveLength(2);
    expect(maps[0]).toMatchObject({ fileName: "moor.pmtiles", hasTerrain: true, fault: null });
    expect(maps[1]).toMatchObject({
      fileName: "torn.pmtiles",
      hasTerrain: false,
      fault: { code: "bad-archive" },
    });
    await expect(value("openMap", maps[1]?.id)).rejects.toThrow("bad-archive");
  });

  it("serves what was opened, and nothing that was not", async () => {
    const { archiveUrl, terrainUrl } = await open();
    expect((await send(host.origin, { path: archiveUrl, headers: { cookie } })).text).toBe(bytes);
    expect((await send(host.origin, { path: terrainUrl ?? "", headers: { cookie } })).text).toBe(
      "terrain bytes",
    );
    for (const path of [
      "/map/00000000-0000-4000-8000-000000000000/archive",
      `${archiveUrl}/..`,
      archiveUrl.replace("archive", "other"),
      "/map/",
    ]) {
      expect((await send(host.origin, { path, headers: { cookie } })).status).toBe(404);
    }
  });

  // RFC 9110 §14.1.2 and §14.4.
  it.each([
    ["bytes=0-3", 206, "moor", "bytes 0-3/29"],
    ["bytes=5-11", 206, "archive", "bytes 5-11/29"],
    ["bytes=19-", 206, "0123456789", "bytes 19-28/29"],
    ["bytes=-4", 206, "6789", "bytes 25-28/29"],
    ["bytes=-100", 206, bytes, "bytes 0-28/29"],
    ["bytes=25-999", 206, "6789", "bytes 25-28/29"],
    ["bytes=29-", 416, "", "bytes */29"],
    ["bytes=-0", 416, "", "bytes */29"],
    ["bytes=5-2", 200, bytes, undefined],
    ["bytes=0-1,4-5", 200, bytes, undefined],
    ["lines=0-1", 200, bytes, undefined],
    ["bytes=x-y", 200, bytes, undefined],
  ])("answers Range %s with %i", async (range, status, text, contentRange) => {
    const { archiveUrl } = await open();
    const reply = await send(host.origin, { path: archiveUrl, headers: { cookie, range } });
    expect(reply).toMatchObject({ status, text });
    expect(reply.headers["content-range"]).toBe(contentRange);
    expect(reply.headers["content-length"]).toBe(String(text.length));
    const head = await send(host.origin, { method: "HEAD", path: archiveUrl, headers: { cookie, range } });
    expect(head).toMatchObject({ status, text: "" });
  });

  it.each([
    ["cut short", (path: string) => truncateSync(path, 10)],
    ["written over", (path: string) => writeFileSync(path, `bog${"y".repeat(3_000_000)}`)],
  ])(
    "sends nothing of an archive that was %s while open, and says why (RFC 9110 §15.5.10)",
    async (how, change) => {
      const path = join(place.samples, "fen.pmtiles");
      const text = `fen ${how}${"x".repeat(3_000_000)}`;
      writeFileSync(path, text);
      const { archiveUrl } = (await value("openMap", `id-${text.slice(0, 20)}`)) as OpenedMap;
      // Files are told apart by size and time of writing; the clock of some disks ticks slowly.
      await new Promise((resolve) => setTimeout(resolve, 20));
      change(path);
      const reply = await send(host.origin, { path: archiveUrl, headers: { cookie } });
      expect(reply.status).toBe(409);
      expect(reply.bytes.length).toBe(0);
    },
  );

  it("goes on with an archive that was removed or replaced while open, and says so", async () => {
    const path = join(place.samples, "carr.pmtiles");
    writeFileSync(path, "carr archive of old");
    const { archiveUrl } = (await value("openMap", "id-carr archive of old")) as OpenedMap;
    const reply = (): ReturnType<typeof send> => send(host.origin, { path: archiveUrl, headers: { cookie } });
    expect((await reply()).headers[GONE_HEADER]).toBeUndefined();
    writeFileSync(`${path}.new`, "another archive");
    renameSync(`${path}.new`, path);
    for (const change of [() => undefined, () => rmSync(path)]) {
      change();
      const { status, text, headers } = await reply();
      expect([status, text, headers[GONE_HEADER]]).toEqual([200, "carr archive of old", "1"]);
    }
  });
});

describe("calls", () => {
  it("answers with an envelope", async () => {
    expect(await value("info")).toMatchObject({
      host: "browser",
      dialogs: "page",
      folderName: "walks",
      notices: [],
    });
  });

  it.each(["__proto__", "constructor", "toString", "no-such", "", "info/x", "hasOwnProperty"])(
    "has no call %j",
    async (method) => {
      const { envelope } = await call(method, []);
      expect(envelope).toMatchObject({ ok: false, fault: { code: "not-allowed" } });
    },
  );

  it.each([
    ["info", [1]],
    ["openMap", [{}]],
    ["openMap", []],
    ["openWalk", [{ path: "/etc/passwd" }]],
    ["openWalk", [{ name: "a", upload: { name: "b", text: "" } }]],
    ["saveWalk", [{ id: "x", name: "y", path: "/etc/passwd" }, "text"]],
    ["saveWalk", ["/etc/passwd", "text"]],
    ["exportText", ["exe", "x", "x"]],
    ["startSheets", [{ walk: "{}", mapId: null, wish: { ...USUAL_WISH, paper: "a9" } }]],
    ["startSheets", [{ walk: "{}", mapId: null, wish: { ...USUAL_WISH, scale: 0 } }]],
    ["startSheets", [{ walk: "{}", mapId: null, wish: { ...USUAL_WISH, frames: [{ centre: [0, 91] }] } }]],
    ["sheetsPage", ["key", -1]],
    ["saveSheets", ["key", "exe", "x"]],
    ["setSettings", [{ theme: "pink" }]],
    ["setSettings", [{ addedMaps: ["/etc/passwd"] }]],
    ["setSettings", [{ window: { width: 1e9, height: 300, maximised: false } }]],
    ["info", { length: 0 }],
    ["info", null],
  ])("refuses %s with arguments %j", async (method, args) => {
    const { envelope } = await call(method, args);
    expect(envelope).toMatchObject({ ok: false, fault: { code: "bad-argument" } });
  });

  it("refuses a body that is not JSON, not said to be, or too large", async () => {
    const headers = { cookie, origin: host.origin, "content-type": "application/json" };
    const post = (body: string, extra: Record<string, string> = {}) =>
      send(host.origin, { method: "POST", path: "/api/info", headers: { ...headers, ...extra }, body });
    expect((await post("{")).status).toBe(400);
    // A form can be sent by any page without a preflight, if its type is one of these.
    for (const type of ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data"]) {
      expect((await post("{}", { "content-type": type })).status).toBe(415);
    }
    const big = await post(JSON.stringify({ args: ["x".repeat(200_000)] })).catch(() => null);
    if (big) expect(big.status).toBe(413);
    const chunked = await send(host.origin, {
      method: "POST",
      path: "/api/info",
      headers: { ...headers, "transfer-encoding": "chunked" },
      body: "x".repeat(200_000),
    }).catch(() => null);
    if (chunked) expect(chunked.status).toBe(413);
    expect(await value("info")).toMatchObject({ host: "browser", dialogs: "page" });
  });
});

describe("files chosen on the page", () => {
  it("saves, lists, opens and saves again", async () => {
    const saved = await value("saveWalkAs", "one", "My walk", { name: "My walk" });
    expect(saved).toMatchObject({ file: { name: "My walk.walk.geojson" }, notKept: null });
    expect(readFileSync(join(place.walks, "My walk.walk.geojson"), "utf8")).toBe("one");
    expect(await value("listWalkFiles")).toEqual(["My walk.walk.geojson"]);
    const opened = (await value("openWalk", { name: "My walk.walk.geojson" })) as {
      file: object;
      text: string;
    };
    expect(opened.text).toBe("one");
    await value("saveWalk", opened.file, "two");
    expect(readFileSync(join(place.walks, "My walk.walk.geojson"), "utf8")).toBe("two");
  });

  it("replaces a file only when told to", async () => {
    await expect(value("saveWalkAs", "three", "x", { name: "My walk" })).rejects.toThrow("exists");
    await value("saveWalkAs", "three", "x", { name: "My walk", replace: true });
    expect(readFileSync(join(place.walks, "My walk.walk.geojson"), "utf8")).toBe("three");
  });

  it("notices that another program changed a file", async () => {
    const opened = (await value("openWalk", { name: "My walk.walk.geojson" })) as { file: object };
    writeFileSync(join(place.walks, "My walk.walk.geojson"), "theirs");
    await expect(value("saveWalk", opened.file, "ours")).rejects.toThrow("changed-on-disk");
    expect(readFileSync(join(place.walks, "My walk.walk.geojson"), "utf8")).toBe("theirs");
    await value("saveWalk", opened.file, "ours", { evenIfChanged: true });
    await value("saveWalk", opened.file, "ours again");
    expect(readFileSync(join(place.walks, "My walk.walk.geojson"), "utf8")).toBe("ours again");
  });

  it("cannot save over a file that came from the browser", async () => {
    const opened = (await value("openWalk", { upload: { name: "theirs.geojson", text: "{}" } })) as {
      file: object;
      readOnly: boolean;
    };
    expect(opened).toMatchObject({ text: "{}", readOnly: true });
    await expect(value("saveWalk", opened.file, "x")).rejects.toThrow("read-only");
  });

  // Reserved names: Microsoft, "Naming Files, Paths, and Namespaces".
  it.each([
    "../x",
    "a/b",
    "a\\b",
    "..",
    ".",
    ".hidden",
    "",
    " ",
    "CON",
    "nul.geojson",
    "COM1",
    "lpt9.walk.geojson",
    "C:x",
    "a\u0000b",
    "a\nb",
    "x ",
    "x.",
    "\u202Egnp.exe",
    "x".repeat(300),
  ])("refuses the name %j", async (name) => {
    await expect(value("openWalk", { name })).rejects.toThrow("not-allowed");
    await expect(value("saveWalkAs", "x", "x", { name })).rejects.toThrow("not-allowed");
  });

  it("exports beside the walks", async () => {
    expect(await value("exportText", "csv", "a,b", "My walk", { name: "My walk" })).toMatchObject({
      name: "My walk.csv",
    });
    expect(readFileSync(join(place.walks, "My walk.csv"), "utf8")).toBe("a,b");
  });

  it("keeps no pages that nobody asked for, and has no printer of its own", async () => {
    for (const [method, ...args] of [
      ["sheetsState", "key"],
      ["sheetsPage", "key", 0],
      ["saveSheets", "key", "pdf", "x", { name: "x" }],
    ] as const)
      await expect(value(method, ...args), method).rejects.toThrow("no-file");
    await expect(value("printSheets", "key")).rejects.toThrow("unavailable");
    await expect(value("startSheets", { walk: "{", mapId: null, wish: USUAL_WISH })).rejects.toThrow(
      "bad-walk",
    );
  });

  it("adds a map from the folder, once", async () => {
    writeFileSync(join(place.walks, "bog.pmtiles"), "bog");
    expect(await value("addMap", { name: "bog.pmtiles" })).toMatchObject({ id: "id-bog", title: "bog" });
    const ids = ((await value("listMaps")) as { id: string }[]).map(({ id }) => id);
    expect(ids.filter((id) => id === "id-bog")).toHaveLength(1);
    await expect(value("addMap", { name: "gone.pmtiles" })).rejects.toThrow("no-file");
    await expect(value("addMap", { name: "My walk.csv" })).rejects.toThrow("bad-argument");
  });

  it("keeps settings", async () => {
    expect(await value("getSettings")).toMatchObject({ theme: "system", cautionSeen: false });
    expect(await value("setSettings", { theme: "night", lastMapId: "id-bog" })).toMatchObject({
      theme: "night",
      lastMapId: "id-bog",
    });
    expect(await value("getSettings")).toMatchObject({ theme: "night", lengthUnit: "metric" });
  });
});

it("closes with connections open", async () => {
  const other = await startHost(place);
  await enter(other);
  await other.close();
  await expect(send(other.origin, {})).rejects.toThrow();
});
