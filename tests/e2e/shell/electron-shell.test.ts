/**
 * Main and preload as built, over a stand-in for Electron. The safety settings asked for are those of the security
 * checklist in Electron's own documentation (tutorial/security).
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeHillsMap } from "../support/hills-map.ts";
import { startShell, type Shell } from "../support/shell.ts";

let shell: Shell;
beforeAll(async () => {
  shell = await startShell();
});
afterAll(async () => await shell.close());

describe("the window", () => {
  it("shows the app, sandboxed and isolated, and the page reaches nothing of Node", async () => {
    expect(await shell.ask("preferences")).toMatchObject({
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webSecurity: true,
    });
    expect(await shell.ask("sandboxed")).toBe(true);
    const reach = await shell.ask("evaluate", {
      code: "[typeof require, typeof process, typeof Buffer, Object.keys(window.legwright).join()].join(' ')",
    });
    expect(reach).toBe("undefined undefined undefined call,takeFile,onCommand");
    expect(await shell.ask("evaluate", { code: "document.title" })).toMatch(/Legwright/);
  });

  it("loads without an error and without a violation of its content policy", async () => {
    expect(await shell.ask("problems")).toEqual([]);
    const policy = await shell.ask("evaluate", {
      code: "fetch('/').then((r) => r.headers.get('content-security-policy'))",
    });
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
  });

  it("registers its scheme without the rights of file addresses", async () => {
    const [scheme] = (await shell.ask("privileged")) as { privileges: Record<string, boolean> }[];
    expect(scheme).toMatchObject({ scheme: "legwright", privileges: { standard: true, secure: true } });
    expect(scheme?.privileges["bypassCSP"]).toBeFalsy();
    expect(scheme?.privileges["corsEnabled"]).toBeFalsy();
  });
});

describe("what the window may not do", () => {
  it.each(["will-navigate", "will-redirect", "will-frame-navigate"])("%s to elsewhere", async (name) => {
    for (const url of [
      "https://example.com/",
      "file:///etc/passwd",
      "legwright://print/",
      "legwright://app.evil/",
      "javascript:1",
      "data:text/html,x",
    ]) {
      expect(await shell.ask("navigation", { name, url }), url).toBe(false);
    }
    expect(await shell.ask("navigation", { name, url: "legwright://app/" })).toBe(true);
  });

  it("open windows, embed pages, download, or get a permission", async () => {
    expect(await shell.ask("newWindow", { url: "legwright://app/" })).toEqual({ action: "deny" });
    expect(await shell.ask("navigation", { name: "will-attach-webview", url: "" })).toBe(false);
    expect(await shell.ask("download")).toBe(false);
    for (const permission of [
      "geolocation",
      "media",
      "notifications",
      "clipboard-read",
      "usb",
      "openExternal",
    ]) {
      expect(await shell.ask("permission", { permission }), permission).toBe(false);
    }
  });

  it("reach the network", async () => {
    for (const url of [
      "https://example.com/",
      "http://127.0.0.1:80/",
      "file:///etc/passwd",
      "legwright://print/",
      "ws://example.com/",
    ]) {
      expect(await shell.ask("network", { url }), url).toBe(false);
    }
    expect(await shell.ask("network", { url: "legwright://app/index.html" })).toBe(true);
  });

  it("be called for by another frame or page", async () => {
    for (const url of ["https://example.com/", "legwright://app/", null]) {
      expect(await shell.ask("stranger", { url, method: "listMaps" })).toMatchObject({
        ok: false,
        fault: { code: "not-allowed" },
      });
    }
  });

  it("read files that are not the window's", async () => {
    for (const path of ["/../package.json", "/..%2fpackage.json", "/%2e%2e/package.json", "/map/x/archive"]) {
      expect(
        await shell.ask("evaluate", { code: `fetch(${JSON.stringify(path)}).then((r) => r.status)` }),
        path,
      ).toBe(404);
    }
  });
});

describe("the services behind it", () => {
  it("say which host they are", async () => {
    expect(await shell.call("info")).toMatchObject({
      ok: true,
      value: { host: "electron", dialogs: "native", notices: [] },
    });
  });

  it("refuse arguments that make no sense", async () => {
    expect(await shell.call("saveWalk", { id: "x", name: "y", path: "/etc/passwd" }, "text")).toMatchObject({
      ok: false,
      fault: { code: "bad-argument" },
    });
    expect(await shell.call("constructor")).toMatchObject({ ok: false, fault: { code: "not-allowed" } });
  });

  it("hand out an opened archive in parts, and the terrain beside it", async () => {
    const archive = readFileSync(await writeHillsMap(shell.walks));
    const listed = (await shell.call("listMaps")) as {
      value: { id: string; title: string; hasTerrain: boolean }[];
    };
    const entry = listed.value.find(({ title }) => title === "Hills");
    expect(entry).toMatchObject({ hasTerrain: true, fault: null });
    const opened = (await shell.call("openMap", entry?.id)) as {
      value: { archiveUrl: string; terrainUrl: string };
    };
    const fetched = (url: string, range: string): Promise<unknown> =>
      shell.ask("evaluate", {
        code: `fetch(${JSON.stringify(url)}, { headers: { range: ${JSON.stringify(range)} } }).then(async (r) =>
          [r.status, r.headers.get("content-range"), String.fromCharCode(...new Uint8Array(await r.arrayBuffer()).subarray(0, 7))])`,
      });
    // A PMTiles archive begins with this word: PMTiles version 3 specification, "Header".
    expect(await fetched(opened.value.archiveUrl, "bytes=0-126")).toEqual([
      206,
      `bytes 0-126/${archive.length}`,
      "PMTiles",
    ]);
    expect(await fetched(opened.value.terrainUrl, "bytes=0-126")).toMatchObject([
      206,
      expect.any(String),
      "PMTiles",
    ]);
    expect(await fetched(opened.value.archiveUrl, `bytes=${archive.length}-`)).toEqual([
      416,
      `bytes */${archive.length}`,
      "",
    ]);
  });

  it("save where the dialog says, open it again, and do nothing when the person chooses nothing", async () => {
    const path = join(shell.walks, "evening.walk.geojson");
    await shell.ask("answer", { answer: { canceled: false, filePath: path } });
    expect(await shell.call("saveWalkAs", "text", "evening")).toMatchObject({
      ok: true,
      value: { file: { name: "evening.walk.geojson" }, notKept: null },
    });
    expect(readFileSync(path, "utf8")).toBe("text");
    await shell.ask("answer", { answer: { canceled: false, filePaths: [path] } });
    expect(await shell.call("openWalk")).toMatchObject({
      ok: true,
      value: { text: "text", readOnly: false },
    });
    expect(await shell.call("openWalk")).toEqual({ ok: true, value: null });
    expect(await shell.call("saveWalkAs", "other", "evening")).toEqual({ ok: true, value: null });
    expect(readFileSync(path, "utf8")).toBe("text");
  });

  it("do not replace a file that the dialog did not ask about", async () => {
    writeFileSync(join(shell.walks, "table.csv"), "old");
    await shell.ask("answer", { answer: { canceled: false, filePath: join(shell.walks, "table") } });
    expect(await shell.call("exportText", "csv", "new", "table")).toMatchObject({
      ok: false,
      fault: { code: "exists" },
    });
    expect(readFileSync(join(shell.walks, "table.csv"), "utf8")).toBe("old");
  });

  it("keep settings in the file that the other hosts read", async () => {
    expect(await shell.call("setSettings", { theme: "night" })).toMatchObject({
      ok: true,
      value: { theme: "night" },
    });
    expect(JSON.parse(readFileSync(join(shell.settings, "settings.json"), "utf8"))).toMatchObject({
      theme: "night",
    });
  });
});

describe("life", () => {
  it("comes forward instead of starting a second time", async () => {
    expect(await shell.ask("secondInstance", { files: [] })).toBe(true);
    expect(await shell.ask("windowCount")).toBeGreaterThan(0);
  });
});
