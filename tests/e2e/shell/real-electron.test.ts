/** The app in the real Electron, wherever its executable is. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { _electron } from "playwright-core";
import { describe, expect, it } from "vitest";
import { electronBinary } from "../../../electron/launch/electron-binary.mjs";
import { findApp } from "../../../electron/services/app-folder.ts";

const executablePath = electronBinary();
const reason = executablePath ? "" : " (skipped: the Electron executable is not on this computer)";

describe.skipIf(!executablePath)(`in the real Electron${reason}`, () => {
  it("opens the window, isolated, with the bridge and nothing of Node", async () => {
    const root = mkdtempSync(join(tmpdir(), "legwright-electron-"));
    const electron = await _electron.launch({
      executablePath: executablePath as string,
      args: [findApp().folder, ...(process.getuid?.() === 0 ? ["--no-sandbox"] : [])],
      env: {
        ...(process.env as Record<string, string>),
        LEGWRIGHT_WALKS: root,
        LEGWRIGHT_SETTINGS: join(root, "settings"),
      },
    });
    try {
      const page = await electron.firstWindow();
      await page.waitForLoadState("load");
      expect(page.url()).toBe("legwright://app/");
      expect(await page.evaluate(() => [typeof globalThis.process, "require" in globalThis])).toEqual([
        "undefined",
        false,
      ]);
      const info: unknown = await page.evaluate(() =>
        (globalThis as unknown as { legwright: { call(m: string): Promise<unknown> } }).legwright.call(
          "info",
        ),
      );
      expect(info).toMatchObject({ ok: true, value: { host: "electron" } });
      const outside = await page.evaluate(() =>
        fetch("http://127.0.0.1:9/").then(
          () => "reached",
          () => "refused",
        ),
      );
      expect(outside).toBe("refused");
    } finally {
      await electron.close();
      rmSync(root, { recursive: true, force: true });
    }
  });
});
