/** What the window says when the program's own folder is full, and when another window takes the file over. */
import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { mountTiny } from "../support/tiny-disk.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import { untilKept } from "./support/kept-drafts.ts";
import {
  clickMap,
  flags,
  openNamed,
  part,
  plain,
  pointsIn,
  readWalk,
  saveAs,
  textOf,
  untilLegs,
} from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const noticed = (page: Page, pattern: RegExp): Promise<void> =>
  until(
    async () => (await part(page, "notice").allTextContents()).some((text) => pattern.test(plain(text))),
    `a notice like ${pattern}`,
  );

const keptFolder = (window: TestWindow): string => join(window.walksFolder, "../settings/kept");

test("with the program's folder on a full disk, walks are saved and what is not kept is said", async (context) => {
  await inWindow(async (window) => {
    const { page } = window;
    const folder = keptFolder(window);
    mkdirSync(folder, { recursive: true });
    const disk = mountTiny(folder);
    if (!disk) return context.skip("no disk can be mounted here");
    try {
      disk.fill();
      await clickMap(page, 0.3, 0.4);
      await clickMap(page, 0.6, 0.6);
      await untilLegs(page, 1);
      await noticed(page, /Unsaved work cannot be kept just now: save the walk soon\. .*the disk is full/);

      await saveAs(page, "moor.walk.geojson");
      await noticed(
        page,
        /The walk is saved, but no earlier version of it could be kept\. .*the disk is full/,
      );
      expect(pointsIn(readWalk(window, "moor.walk.geojson"))).toHaveLength(2);

      // With room again, work is kept as ever.
      disk.empty();
      await clickMap(page, 0.5, 0.7);
      await untilKept(window, 3);
    } finally {
      disk.remove();
    }
  });
});

test("a window whose file was taken over cannot save it, from that moment on", async () => {
  await inWindow(async (window) => {
    const { page, context, host } = window;
    await clickMap(page, 0.3, 0.4);
    await clickMap(page, 0.6, 0.6);
    await untilLegs(page, 1);
    await saveAs(page, "moor.walk.geojson");
    const second = await context.newPage();
    await second.goto(host.origin, { waitUntil: "load" });
    await until(
      async () => (await second.locator(".map-edge").count()) === 1,
      "the map in the second window",
    );
    await openNamed(second, "moor.walk.geojson");
    const takeOver = second.getByRole("button", { name: "Write it from here" });
    await until(async () => (await takeOver.count()) === 1, "the question about two windows");
    // From here on its beats do not reach the host: nothing tells it of the other window but its own save.
    await page.route("**/api/beat", (route) => route.abort());
    await takeOver.click();
    await until(async () => (await second.getByRole("dialog").count()) === 0, "the file to be taken over");
    await untilLegs(second, 1);

    const before = readFileSync(join(window.walksFolder, "moor.walk.geojson"), "utf8");
    await clickMap(page, 0.5, 0.7);
    await untilLegs(page, 2);
    await page.keyboard.press("Control+s");
    await noticed(page, /moor\.walk\.geojson is written from another window now/);
    expect(readFileSync(join(window.walksFolder, "moor.walk.geojson"), "utf8")).toBe(before);
    expect(await textOf(page, "saved-state")).not.toBe("saved");
    // The work itself is there, and goes into another file.
    expect(await flags(page).count()).toBe(3);
    await page.keyboard.press("Control+s");
    await page.getByLabel("File name").waitFor();
    await page.keyboard.press("Escape");
    await saveAs(page, "mine.walk.geojson");
    expect(pointsIn(readWalk(window, "mine.walk.geojson"))).toHaveLength(3);
    await clickMap(second, 0.5, 0.3);
    await untilLegs(second, 2);
    await second.keyboard.press("Control+s");
    await until(async () => (await textOf(second, "saved-state")) === "saved", "the second window to save");
    window.watch.forgive(/api\/beat/);
  });
});
