/**
 * Each point of the security checklist in Electron's own documentation ("Security", tutorial/security; points 18 to 20 are
 * those of its newer editions), with a check, and with the reason where there is nothing to check. The shell's own code
 * runs over a recorder of what it asks of Electron; tests/e2e/shell runs it as built.
 */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { type HostApi, USUAL_SETTINGS } from "../../../electron/contract.ts";
import { CONTENT_POLICY, PRINT_POLICY } from "../../../electron/services/content-policy.ts";
import { OpenedMaps } from "../../../electron/services/opened-maps.ts";
import type { SettingsFile } from "../../../electron/services/settings.ts";
import { RecordedContents, RecordedWindow, recorder, sessionOf } from "./electron-recorder.ts";

vi.mock("electron", async () => {
  const { electron } = await import("./electron-recorder.ts");
  return { ...electron, default: electron };
});

const at = (path: string): string => fileURLToPath(new URL(`../../../${path}`, import.meta.url));
const sources = (folder: string): string[] =>
  readdirSync(at(folder), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.(ts|tsx|mjs|html)$/.test(name))
    .map((name) => join(at(folder), name));
/** Code alone: comments may name what code may not. */
const code = (path: string): string =>
  readFileSync(path, "utf8").replace(/\/\*[\s\S]*?\*\/|(?<![:"'`])\/\/.*$/gm, "");
const inSources = (pattern: RegExp): string[] =>
  ["electron", "renderer", "core"].flatMap(sources).filter((path) => pattern.test(code(path)));

let window: RecordedWindow;
let printing: RecordedWindow;
let contents: RecordedContents;
let folder = "";
const maps = new OpenedMaps();
const called: unknown[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "legwright-checklist-"));
  mkdirSync(join(folder, "window"));
  writeFileSync(join(folder, "window", "index.html"), "<title>window</title>");
  writeFileSync(join(folder, "secret.txt"), "secret");
  const { openWindow } = await import("../../../electron/shell/window.ts");
  const { windowPrinter } = await import("../../../electron/shell/window-printer.ts");
  const lock = await import("../../../electron/shell/lock-down.ts");
  const { registerScheme, serveApp } = await import("../../../electron/shell/app-protocol.ts");
  const { answerCalls } = await import("../../../electron/shell/calls.ts");
  registerScheme();
  lock.denyPermissions();
  lock.denyNetwork();
  lock.denyNavigation();
  serveApp(join(folder, "window"), maps);
  const settings = { get: () => ({ window: { ...USUAL_SETTINGS.window, width: 800, height: 600 } }) };
  window = openWindow("preload.cjs", settings as unknown as SettingsFile, () => false) as never;
  const api = { listMaps: async () => called.push("listMaps") } as unknown as HostApi;
  answerCalls(api, () => window as never, () => ({ id: "1", name: "a" })); // prettier-ignore
  await windowPrinter().print("x", [{ svg: "<svg/>", widthMm: 210, heightMm: 297 }]);
  printing = RecordedWindow.all.at(-1)!;
  contents = new RecordedContents();
  recorder.app.emit("web-contents-created", {}, contents);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const preferences = (): Readonly<Record<string, unknown>>[] => [
  window.options.webPreferences,
  printing.options.webPreferences,
];
const fetched = async (url: string, init?: RequestInit): Promise<Response> =>
  await sessionOf("default").schemes.get("legwright")!(new Request(url, init));
const allowed = (event: string, url: string): boolean => {
  let stopped = false;
  contents.emit(event, { url, preventDefault: () => (stopped = true) });
  return !stopped;
};

const ELSEWHERE = ["https://example.com/", "http://example.com/", "file:///etc/passwd", "legwright://print/", "legwright://app.evil/", "javascript:1", "data:text/html,x"]; // prettier-ignore

describe("Electron's security checklist", () => {
  it("1. only secure content is loaded: nothing but what ships with the program", async () => {
    expect(window.urls).toEqual(["legwright://app/"]);
    expect(printing.urls).toEqual(["legwright://print/"]);
    for (const session of ["default", "print"])
      for (const url of ["http://example.com/", "https://example.com/x.js", "ws://example.com/", "file:///etc/passwd"]) {
        let cancelled: unknown = null;
        sessionOf(session).handlers["request"]!(...([{ url }, (answer: { cancel: boolean }) => (cancelled = answer.cancel)] as never[]));
        expect(cancelled, `${session} ${url}`).toBe(true);
      }
    expect(inSources(/loadURL\(\s*["'`]http/)).toEqual([]);
  }); // prettier-ignore

  it("2. no Node in a window, its workers or its frames", () => {
    expect(window.options.webPreferences).toMatchObject({ nodeIntegration: false });
    for (const one of preferences()) {
      expect(one["nodeIntegration"] ?? false).toBe(false);
      expect(one["nodeIntegrationInWorker"] ?? false).toBe(false);
      expect(one["nodeIntegrationInSubFrames"] ?? false).toBe(false);
    }
  });

  it("3. contexts are isolated", () => {
    for (const one of preferences()) expect(one["contextIsolation"]).toBe(true);
  });

  it("4. processes are sandboxed, each and by the app as a whole; printing runs no scripts at all", () => {
    for (const one of preferences()) expect(one["sandbox"]).toBe(true);
    expect(code(at("electron/main.ts"))).toMatch(/app\.enableSandbox\(\)/);
    expect(printing.options.webPreferences["javascript"]).toBe(false);
    expect(inSources(/no-sandbox|disableHardwareAcceleration/)).toEqual([]);
  });

  it("5. every permission is refused in every session, and downloads too", () => {
    for (const name of ["default", "print"]) {
      const { handlers } = sessionOf(name);
      for (const permission of ["geolocation", "media", "notifications", "clipboard-read", "openExternal", "fileSystem", "usb"]) {
        let given: unknown = null;
        handlers["permission"]!(...([null, permission, (answer: boolean) => (given = answer)] as never[]));
        expect(given, `${name} ${permission}`).toBe(false);
        expect(handlers["check"]!(...([null, permission] as never[])), `${name} ${permission}`).toBe(false);
      }
      expect(handlers["device"]!()).toBe(false);
      let stopped = false;
      sessionOf(name).emit("will-download", { preventDefault: () => (stopped = true) });
      expect(stopped, name).toBe(true);
    }
  }); // prettier-ignore

  it("6. web security is on", () => {
    expect(window.options.webPreferences["webSecurity"]).toBe(true);
    expect(inSources(/webSecurity:\s*false|disablewebsecurity|disable-web-security/)).toEqual([]);
  });

  it("7. a content policy lets own files run and nothing inline, and goes with every answer", async () => {
    expect(CONTENT_POLICY).not.toMatch(/unsafe|\*|https?:/);
    const rules = new Map(CONTENT_POLICY.split("; ").map((rule) => [rule.split(" ")[0], rule]));
    expect(rules.get("default-src")).toBe("default-src 'none'");
    expect(rules.get("script-src")).toBe("script-src 'self'");
    expect(rules.get("style-src")).toBe("style-src 'self'");
    for (const name of ["base-uri", "form-action", "frame-ancestors", "frame-src", "object-src"])
      expect(rules.get(name)).toBe(`${name} 'none'`);
    // MapLibre makes pictures and its worker from blobs; it needs neither inline styles nor eval.
    expect([...rules.keys()].filter((name) => rules.get(name)!.includes("blob:"))).toEqual(["img-src", "worker-src"]);
    for (const path of ["", "index.html", "nothing", "../secret.txt", "map/x/archive"])
      expect((await fetched(`legwright://app/${path}`)).headers.get("content-security-policy"), path).toBe(CONTENT_POLICY);
    // The printed document has its own styles inline, and nothing in it can run.
    expect(PRINT_POLICY).toMatch(/^default-src 'none'/);
    expect(PRINT_POLICY).not.toMatch(/script-src|connect-src|https?:/);
  }); // prettier-ignore

  it("8. insecure content is not let run", () => {
    for (const one of preferences()) expect(one["allowRunningInsecureContent"] ?? false).toBe(false);
  });

  it("9. and 10. no experimental feature and no feature of Blink is switched on", () => {
    for (const one of preferences()) {
      expect(one["experimentalFeatures"] ?? false).toBe(false);
      expect(one["enableBlinkFeatures"]).toBeUndefined();
    }
    expect(inSources(/enable-(experimental|blink-features)|appendSwitch/)).toEqual([]);
  });

  it("11. and 12. there is no <webview>: none may be attached, whatever its options", () => {
    for (const one of preferences()) expect(one["webviewTag"] ?? false).toBe(false);
    expect(allowed("will-attach-webview", "legwright://app/")).toBe(false);
    expect(inSources(/<webview|allowpopups/i)).toEqual([]);
  });

  it("13. a window stays where it is", () => {
    for (const event of ["will-navigate", "will-redirect", "will-frame-navigate"]) {
      for (const url of ELSEWHERE) expect(allowed(event, url), `${event} ${url}`).toBe(false);
      expect(allowed(event, "legwright://app/")).toBe(true);
    }
    expect(window.options.webPreferences["navigateOnDragDrop"]).toBe(false);
  });

  it("14. no window opens another", () => {
    for (const url of [...ELSEWHERE, "legwright://app/"])
      expect(contents.windowOpen!(...([{ url }] as never[])), url).toEqual({ action: "deny" });
  });

  it("15. nothing is handed to the desktop to open: openExternal and openPath are not used at all", () => {
    expect(inSources(/openExternal|openPath/)).toEqual([]);
  });

  it("16. Electron is of this generation, and pinned", () => {
    // Its newest at the time of writing is 45; raised with each release, by hand: `npm ci` must not depend on downloads.
    const { devDependencies } = JSON.parse(readFileSync(at("package.json"), "utf8")) as {
      devDependencies: Record<string, string>;
    };
    expect(devDependencies["electron"]).toMatch(/^\d+\.\d+\.\d+$/);
    expect(Number(devDependencies["electron"]!.split(".")[0])).toBeGreaterThanOrEqual(45);
  });

  it("17. only the window's own page is answered, on every channel", async () => {
    expect(recorder.ipc.size).toBeGreaterThan(1);
    const strangers = [null, { url: "legwright://app/" }, { url: "https://example.com/" }];
    for (const [channel, handler] of recorder.ipc)
      for (const senderFrame of strangers)
        expect(await handler(...([{ senderFrame }, "listMaps", []] as never[])), channel).toMatchObject({
          ok: false,
          fault: { code: "not-allowed" },
        });
    const own = window.webContents.mainFrame;
    own.url = "legwright://print/";
    const call = recorder.ipc.get("legwright:call")!;
    expect(await call(...([{ senderFrame: own }, "listMaps", []] as never[]))).toMatchObject({ ok: false });
    expect(called).toEqual([]);
    own.url = "legwright://app/";
    expect(await call(...([{ senderFrame: own }, "listMaps", []] as never[]))).toMatchObject({ ok: true });
    expect(called).toEqual(["listMaps"]);
  });

  it("18. no file: addresses; our own scheme serves the window and opened archives, and nothing else", async () => {
    expect(inSources(/loadFile\(|["'`]file:\/\//)).toEqual([]);
    const [scheme] = recorder.privileged;
    expect(scheme).toEqual({
      scheme: "legwright",
      privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true },
    });
    expect(await (await fetched("legwright://app/")).text()).toContain("window");
    for (const path of ["secret.txt", "../secret.txt", "..%2fsecret.txt", "%2e%2e/secret.txt", "..%5csecret.txt", `map/${"0".repeat(8)}-0000-4000-8000-${"0".repeat(12)}/archive`]) {
      const response = await fetched(`legwright://app/${path}`);
      expect(response.status, path).toBe(404);
      expect(await response.text(), path).not.toContain("secret");
    }
    expect((await fetched("legwright://other/index.html")).status).toBe(404);
    expect((await fetched("legwright://app/", { method: "POST", body: "x" })).status).toBe(405);
  }); // prettier-ignore

  it("19. fuses: see fuses.test.ts beside this file, which names each", () => {
    expect(readFileSync(at("tests/electron/security/fuses.test.ts"), "utf8")).toContain("RunAsNode: false");
  });

  it("20. the page gets verbs of our own, never Electron's own objects", () => {
    const preload = code(at("electron/preload.ts"));
    expect(preload.match(/exposeInMainWorld/g)).toHaveLength(1);
    // Nothing received with an event, and nothing of Electron, is handed on.
    expect(preload).not.toMatch(/exposeInMainWorld\([^)]*(ipcRenderer|webUtils|require|process)/);
    expect(preload).toMatch(
      /\(_event: IpcRendererEvent, command: HostCommand\): void => listener\(command\)/,
    );
    expect(inSources(/@electron\/remote|enableRemoteModule/)).toEqual([]);
  });
});
