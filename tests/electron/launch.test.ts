/** Starting from nothing: what is looked for, what is said, and that nothing is fetched that was not asked for. */
import { spawn } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { browserCommand } from "../../electron/browser-host/open-browser.ts";
import { electronBinary } from "../../electron/launch/electron-binary.mjs";
import { fetchElectron } from "../../electron/launch/fetch-electron.mjs";
import { isInstalled } from "../../electron/launch/ensure-installed.mjs";
import { findChromium } from "../../electron/launch/find-chromium.mjs";
import { settingsFolder, walksFolder } from "../../electron/services/folders.ts";
import { send } from "./support/host.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-launch-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const program = (name: string): string => {
  const path = join(folder, name);
  writeFileSync(path, "#!/bin/sh\n");
  chmodSync(path, 0o755);
  return path;
};

describe("whether the packages are there", () => {
  const lock = (packages: object): void =>
    writeFileSync(join(folder, "package-lock.json"), JSON.stringify({ packages }));
  const installed = (packages: object): void => {
    mkdirSync(join(folder, "node_modules"), { recursive: true });
    writeFileSync(join(folder, "node_modules", ".package-lock.json"), JSON.stringify({ packages }));
  };
  const a = { version: "1.0.0", integrity: "sha512-a" };

  it("not without node_modules", () => {
    lock({ "": {}, "node_modules/a": a });
    expect(isInstalled(folder)).toBe(false);
  });
  it("when what is installed is what is locked, packages of other platforms aside", () => {
    lock({
      "": {},
      "node_modules/a": a,
      "node_modules/other-platform": { version: "1.0.0", optional: true },
    });
    installed({ "node_modules/a": a });
    expect(isInstalled(folder)).toBe(true);
  });
  it.each([
    ["another version", { "node_modules/a": { ...a, version: "1.0.1" } }],
    ["another content", { "node_modules/a": { ...a, integrity: "sha512-b" } }],
    ["one missing", {}],
  ])("not with %s", (_what, there) => {
    lock({ "": {}, "node_modules/a": a });
    installed(there);
    expect(isInstalled(folder)).toBe(false);
  });
  it("not when the list cannot be read", () => {
    lock({});
    mkdirSync(join(folder, "node_modules"));
    writeFileSync(join(folder, "node_modules", ".package-lock.json"), "{");
    expect(isInstalled(folder)).toBe(false);
  });
});

describe("the Electron executable", () => {
  const before = process.env["ELECTRON_OVERRIDE_DIST_PATH"];
  afterEach(() => {
    if (before === undefined) delete process.env["ELECTRON_OVERRIDE_DIST_PATH"];
    else process.env["ELECTRON_OVERRIDE_DIST_PATH"] = before;
  });

  it("is found where it is, and asking for it fetches nothing", () => {
    const home = dirname(createRequire(import.meta.url).resolve("electron/package.json"));
    const had = existsSync(join(home, "dist"));
    process.env["ELECTRON_OVERRIDE_DIST_PATH"] = folder;
    expect(electronBinary()).toBeNull();
    const path = program("electron");
    if (!existsSync(join(home, "path.txt"))) expect(electronBinary()).toBe(path);
    delete process.env["ELECTRON_OVERRIDE_DIST_PATH"];
    electronBinary();
    expect(existsSync(join(home, "dist"))).toBe(had);
  });
});

describe("the browser", () => {
  it("is the one named, or none", () => {
    const path = program("my-browser");
    expect(findChromium({ CHROMIUM_PATH: path, PATH: "/usr/bin" })).toBe(path);
    expect(findChromium({ CHROMIUM_PATH: join(folder, "gone"), PATH: "/usr/bin" })).toBeNull();
  });

  it.skipIf(process.platform === "win32")("is looked for on the path", () => {
    const path = program("chromium");
    expect(findChromium({ PATH: `/nowhere:${folder}` })).toBe(path);
  });

  it("is opened by the system's own way, and not at all as root or without a screen", () => {
    const address = "http://127.0.0.1:1/enter?key=x";
    const none = { CHROMIUM_PATH: join(folder, "gone") };
    expect(browserCommand(address, { ...none, DISPLAY: ":0" }, "linux", 1000)).toEqual({
      command: "xdg-open",
      args: [address],
    });
    expect(browserCommand(address, none, "darwin", 501)).toEqual({ command: "open", args: [address] });
    expect(browserCommand(address, none, "win32", 1000)?.args.at(-1)).toBe(address);
    expect(browserCommand(address, none, "linux", 1000)).toBeNull();
    expect(browserCommand(address, { DISPLAY: ":0" }, "linux", 0)).toBeNull();
    const path = program("my-browser");
    const env = { CHROMIUM_PATH: path, WAYLAND_DISPLAY: "wayland-0" };
    expect(browserCommand(address, env, "linux", 1000)).toMatchObject({
      command: path,
      args: [`--app=${address}`, "--no-first-run"],
    });
  });
});

describe("folders", () => {
  // Where Electron puts userData for an app of this name: app.getPath in Electron's documentation.
  it.each([
    ["linux", { XDG_CONFIG_HOME: "/c" }, /^\/c\/legwright$/],
    ["linux", {}, /\/\.config\/legwright$/],
    ["darwin", {}, /\/Library\/Application Support\/legwright$/],
    ["win32", { APPDATA: "/roaming" }, /\/roaming\/legwright$/],
    ["linux", { LEGWRIGHT_SETTINGS: "/elsewhere" }, /^\/elsewhere$/],
  ])("of settings on %s with %j", (platform, env, expected) => {
    expect(settingsFolder(env, platform).replaceAll("\\", "/")).toMatch(expected);
  });
  it("of walks can be chosen", () => {
    expect(walksFolder({ LEGWRIGHT_WALKS: "/my/walks" })).toBe("/my/walks");
    expect(walksFolder({})).toMatch(/Legwright$/);
  });
});

describe("fetching Electron", () => {
  const script = (text: string): string => {
    const path = join(folder, `fetch-${text.length}.mjs`);
    writeFileSync(path, text);
    return path;
  };
  it("succeeds or fails as the fetch does, and gives up when nothing answers", async () => {
    expect(await fetchElectron({}, script("process.exit(0)"))).toBe(true);
    expect(await fetchElectron({}, script("throw new TypeError('fetch failed')"))).toBe(false);
    expect(await fetchElectron({}, script("setInterval(() => {}, 1000)"), 300)).toBe(false);
    expect(await fetchElectron({}, join(folder, "not-there.mjs"))).toBe(false);
  });
  it("is not tried where the person said not to, or where Electron lies", async () => {
    const works = script("process.exit(0)");
    expect(await fetchElectron({ ELECTRON_SKIP_BINARY_DOWNLOAD: "1" }, works)).toBe(false);
    expect(await fetchElectron({ ELECTRON_OVERRIDE_DIST_PATH: folder }, works)).toBe(false);
  });
});

describe("npm start without Electron", () => {
  it("says so in one line, serves the window, gives it the named files, and ends when told to", async () => {
    mkdirSync(join(folder, "walks"));
    const named = join(folder, "walks", "round.walk.geojson");
    writeFileSync(named, "{}");
    const child = spawn(
      process.execPath,
      [fileURLToPath(new URL("../../electron/launch/start.mjs", import.meta.url)), "round.walk.geojson"],
      {
        env: {
          ...process.env,
          // As npm does for `npm start -- round.walk.geojson` from that folder.
          npm_lifecycle_event: "start",
          INIT_CWD: join(folder, "walks"),
          ELECTRON_OVERRIDE_DIST_PATH: join(folder, "no-electron"),
          LEGWRIGHT_NO_BROWSER: "1",
          LEGWRIGHT_WALKS: join(folder, "walks"),
          LEGWRIGHT_SETTINGS: join(folder, "settings"),
        },
        stdio: ["ignore", "pipe", "inherit"],
      },
    );
    const ended = new Promise<number | null>((resolve) => child.once("exit", resolve));
    let text = "";
    await new Promise<void>((resolve) => {
      child.stdout.on("data", (piece: Buffer) => {
        text += piece.toString();
        if (text.includes("Ctrl+C")) resolve();
      });
      void ended.then(() => resolve());
    });
    const lines = text.trim().split("\n");
    expect(lines[0]).toMatch(/^Electron is not on this computer/);
    expect(lines).toHaveLength(3);
    const address = new URL(/http:\S+/.exec(lines[1] as string)?.[0] ?? "");
    const entered = await send(address.origin, { path: address.pathname + address.search });
    expect(entered.status).toBe(303);
    const page = await send(address.origin, {
      path: "/",
      headers: { cookie: String(entered.headers["set-cookie"]).split(";")[0] as string },
    });
    expect(page.status).toBe(200);
    expect(page.text).toMatch(/<script type="module"/);
    const call = async (method: string, ...args: unknown[]): Promise<unknown> =>
      JSON.parse(
        (
          await send(address.origin, {
            method: "POST",
            path: `/api/${method}`,
            headers: {
              cookie: String(entered.headers["set-cookie"]).split(";")[0] as string,
              origin: address.origin,
              "content-type": "application/json",
            },
            body: JSON.stringify({ args }),
          })
        ).text,
      );
    const given = (await call("filesToOpen")) as { value: { id: string; name: string }[] };
    expect(given.value).toMatchObject([{ name: "round.walk.geojson" }]);
    expect(JSON.stringify(given)).not.toContain(folder);
    expect(await call("openWalk", { file: given.value[0]?.id })).toMatchObject({
      ok: true,
      value: { text: "{}", readOnly: false },
    });
    expect(await call("filesToOpen")).toMatchObject({ value: [] });
    child.kill("SIGTERM");
    expect(await ended).toBe(0);
  }, 120_000);
});
