/** A map's file is replaced, or written over, under the window: the notice and the map's row open it again in place. */
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { findApp } from "../../electron/services/app-folder.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import { clickMap, flags, mapPlace, part, plain, untilLegs } from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

/** The window with a leg drawn, on a copy of the maps of which one is to be changed. */
async function withLeg(run: (window: TestWindow, archive: string) => Promise<void>): Promise<void> {
  const samples = mkdtempSync(join(tmpdir(), "legwright-replaced-"));
  cpSync(join(findApp().folder, "sample-maps"), samples, { recursive: true });
  try {
    await inWindow(
      async (window) => {
        await clickMap(window.page, 0.3, 0.4);
        await clickMap(window.page, 0.6, 0.6);
        await untilLegs(window.page, 1);
        await run(window, join(samples, "uldermoor.pmtiles"));
        // The walk is as it was, and figures go on.
        expect(await flags(window.page).count()).toBe(2);
        await clickMap(window.page, 0.5, 0.7);
        await untilLegs(window.page, 2);
      },
      { sampleFolder: samples },
    );
  } finally {
    rmSync(samples, { recursive: true, force: true });
  }
}

/** Another file takes its place, as programs save. */
function replace(archive: string): void {
  writeFileSync(`${archive}.new`, readFileSync(archive));
  renameSync(`${archive}.new`, archive);
}

/** Looks closer, so that tiles are read. */
async function lookCloser(page: Page): Promise<void> {
  const { x, y } = await mapPlace(page, 0.5, 0.5);
  await page.mouse.move(x, y);
  for (let i = 0; i < 3; i++) await page.mouse.wheel(0, -240);
}

const noticed = (page: Page, pattern: RegExp): Promise<void> =>
  until(
    async () => (await part(page, "notice").allTextContents()).some((text) => pattern.test(plain(text))),
    String(pattern),
  );

/** Does something, and waits until the file is read that stands in its place now. */
async function readsAnew(page: Page, act: () => Promise<void>): Promise<void> {
  const keys = new Set<string>();
  let fresh = false;
  page.on("response", (response) => {
    const key = /\/map\/([0-9a-f-]+)\/archive$/.exec(response.url())?.[1];
    if (!key) return;
    if ("x-legwright-gone" in response.headers() || response.status() === 409) keys.add(key);
    else if (!keys.has(key) && response.status() === 206) fresh = true;
  });
  await act();
  await until(async () => fresh, "the new file to be read");
}

test("a map replaced under the window is opened again from the notice", async () => {
  await withLeg(async ({ page }, archive) => {
    replace(archive);
    await lookCloser(page);
    await noticed(page, /uldermoor\.pmtiles was moved, removed or replaced/);
    await readsAnew(page, async () => await part(page, "notice-act").first().click());
    await until(async () => (await part(page, "notice").count()) === 0, "the notice to go");
  });
});

test("and from its row in the map case", async () => {
  await withLeg(async ({ page }, archive) => {
    replace(archive);
    await lookCloser(page);
    await noticed(page, /uldermoor\.pmtiles was moved, removed or replaced/);
    await part(page, "map-button").click();
    await readsAnew(page, async () => await part(page, "open-again").click());
    await until(async () => (await part(page, "open-again").count()) === 0, "the row to be as before");
    await page.keyboard.press("Escape");
    await until(async () => (await page.locator("dialog[open]").count()) === 0, "the map case to close");
  });
});

test("one written over in place can no longer be read, until it is opened again", async () => {
  await withLeg(async ({ page, watch }, archive) => {
    writeFileSync(archive, readFileSync(archive));
    await lookCloser(page);
    await noticed(page, /changed by another program while it was open.*open it again/);
    await readsAnew(page, async () => await part(page, "notice-act").last().click());
    watch.forgive(/409/);
  });
});
