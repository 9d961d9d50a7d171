import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openConfSettings } from "../../electron/services/conf-settings.ts";
import { DEFAULT_SETTINGS, openSettings } from "../../electron/services/settings.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-settings-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const PLACE = { width: 900, height: 700, x: -40, y: 12, maximised: true, fullScreen: false };
const onDisk = (): string => readFileSync(join(folder, "settings.json"), "utf8");

describe("the settings file", () => {
  it("begins with the usual settings and keeps changes for the next run", () => {
    const settings = openConfSettings(folder);
    expect(settings.get()).toMatchObject({ theme: "system", lengthUnit: "metric", lastMapId: null });
    settings.set({ theme: "dark", window: PLACE });
    settings.addMap("/maps/a.pmtiles");
    settings.addMap("/maps/a.pmtiles");
    const again = openConfSettings(folder);
    expect(again.get()).toMatchObject({
      theme: "dark",
      window: PLACE,
    });
    expect(again.addedMaps()).toEqual(["/maps/a.pmtiles"]);
    expect(again.notices).toEqual([]);
  });

  it("does not tell the window where added maps lie", () => {
    const settings = openConfSettings(folder);
    settings.addMap("/home/someone/a.pmtiles");
    expect(JSON.stringify(settings.get())).not.toContain("someone");
  });

  it("keeps members that a newer version wrote", () => {
    writeFileSync(
      join(folder, "settings.json"),
      JSON.stringify({ theme: "dark", fromTheFuture: { a: [1] } }),
    );
    const settings = openConfSettings(folder);
    settings.set({ cautionSeen: true });
    expect(JSON.parse(onDisk())).toMatchObject({
      theme: "dark",
      cautionSeen: true,
      fromTheFuture: { a: [1] },
    });
  });

  it("fills in members that an older version did not know", () => {
    writeFileSync(join(folder, "settings.json"), JSON.stringify({ window: { width: 500 } }));
    const { window } = openConfSettings(folder).get();
    expect(window).toEqual({ ...DEFAULT_SETTINGS.window, width: 500 });
  });

  it.each([
    ["not JSON", "{ theme: "],
    ["cut short", '{"theme":"dark","addedMaps":["/ma'],
    ["of another shape", '{"theme":"pink"}'],
    ["with a number for a list", '{"addedMaps":7}'],
    ["an array", "[1,2]"],
    ["empty", ""],
    ["bytes", "\u0000\u0001\ufffd"],
  ])("puts a file that is %s aside, says so, and goes on", (_what, text) => {
    writeFileSync(join(folder, "settings.json"), text);
    const settings = openConfSettings(folder);
    expect(settings.get().theme).toBe("system");
    const aside = readdirSync(folder).filter((name) => name.includes("unreadable"));
    expect(aside).toHaveLength(1);
    expect(readFileSync(join(folder, aside[0] as string), "utf8")).toBe(text);
    expect(settings.notices.join()).toContain(aside[0]);
    settings.set({ theme: "night" });
    expect(openConfSettings(folder).get().theme).toBe("night");
    expect(openConfSettings(folder).notices).toEqual([]);
  });

  it("keeps what was read when another program spoils the file meanwhile", () => {
    const settings = openConfSettings(folder);
    settings.set({ theme: "dark" });
    writeFileSync(join(folder, "settings.json"), "{");
    expect(settings.get().theme).toBe("dark");
  });

  it("says that a setting makes no sense, and leaves the file as it was", () => {
    const settings = openConfSettings(folder);
    settings.set({ theme: "dark" });
    const before = onDisk();
    expect(() => settings.set({ theme: "pink" as never })).toThrow(
      expect.objectContaining({ code: "bad-argument" }) as Error,
    );
    expect(onDisk()).toBe(before);
  });

  it("lives for the run where no folder can be made", () => {
    // A file stands where the folder should be; unlike permissions, that stops root too.
    writeFileSync(join(folder, "file"), "");
    const settings = openConfSettings(join(folder, "file", "legwright"));
    expect(settings.notices).toHaveLength(1);
    expect(settings.set({ theme: "dark" }).theme).toBe("dark");
    expect(settings.get().theme).toBe("dark");
  });

  it("lives for the run when the store cannot be opened at all", () => {
    const settings = openSettings(folder, () => {
      throw new Error("EROFS");
    });
    expect(settings.notices).toHaveLength(1);
    expect(settings.set({ theme: "dark" }).theme).toBe("dark");
    expect(settings.get().theme).toBe("dark");
  });
});
