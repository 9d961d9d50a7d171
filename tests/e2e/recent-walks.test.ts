/** Walks opened lately, in the Walk menu, in the empty slip and in the find box; and what menus choose, found by name and by key. */
import { rmSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, flags, openNamed, part, plain, pointsFile, putFile, textOf } from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const LINE = pointsFile([
  [-133.19, 46.34],
  [-133.18, 46.35],
]);

const untilOpen = (page: Page): Promise<void> =>
  until(async () => (await flags(page).count()) === 2, "the walk on the map");

/** Opens two walks after each other, then begins a new one. */
async function openTwo(window: TestWindow): Promise<void> {
  const { page } = window;
  for (const name of ["fell.geojson", "tarn.geojson"]) {
    putFile(window, name, LINE);
    await openNamed(page, name);
    await untilOpen(page);
    await choose(page, "walk-menu", "New walk");
    await until(async () => (await flags(page).count()) === 0, "a new walk");
  }
}
const listed = async ({ page }: TestWindow): Promise<string> =>
  plain((await part(page, "recent").allTextContents()).join());

test("walks opened lately come back from the slip, from the menu and from the find box", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await openTwo(window);
    await until(
      async () => /tarn\.geojson.*fell\.geojson/.test(await listed(window)),
      "both, the newest first",
    );
    await part(page, "recent").getByRole("button", { name: "fell.geojson · walks" }).click();
    await untilOpen(page);
    expect(await part(page, "recent").count()).toBe(0);

    await choose(page, "walk-menu", "New walk");
    await until(
      async () => /fell\.geojson.*tarn\.geojson/.test(await listed(window)),
      "the order to have changed",
    );
    await choose(page, "walk-menu", "tarn.geojson · walks");
    await untilOpen(page);

    await choose(page, "walk-menu", "New walk");
    await until(async () => (await flags(page).count()) === 0, "a new walk");
    await page.keyboard.press("Control+f");
    await part(page, "find-field").fill("open again fell");
    await until(
      async () =>
        plain((await part(page, "find-commands").allTextContents()).join()).includes(
          "Open again: fell.geojson",
        ),
      "the walk among what can be done",
    );
    await page.keyboard.press("Enter");
    await untilOpen(page);
    // Where a file lies is the host's to know.
    expect(await page.content()).not.toContain(window.walksFolder);
  });
});

test("one that is gone is told of and taken off; one or all can be forgotten, and files stay", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await openTwo(window);
    await until(async () => (await listed(window)).includes("fell.geojson"), "both walks");
    rmSync(join(window.walksFolder, "fell.geojson"));
    await part(page, "recent").getByRole("button", { name: "fell.geojson · walks" }).click();
    await page.getByRole("heading", { name: "fell.geojson is not where it was" }).waitFor();
    await page.getByRole("button", { name: "Go back" }).click();
    await until(
      async () => (await listed(window)).includes("fell.geojson · not there now"),
      "the list to say so",
    );
    await part(page, "recent").getByRole("button", { name: "fell.geojson · not there now" }).click();
    await page.getByRole("button", { name: "Take it off the list" }).click();
    await until(async () => !(await listed(window)).includes("fell.geojson"), "the list without it");
    await part(page, "recent").getByRole("button", { name: "Take tarn.geojson off the list" }).click();
    await until(async () => (await part(page, "recent").count()) === 0, "no list");

    await openNamed(page, "tarn.geojson");
    await untilOpen(page);
    await choose(page, "walk-menu", "New walk");
    await until(async () => (await listed(window)).includes("tarn.geojson"), "the walk opened again");
    await choose(page, "walk-menu", "Forget these walks");
    await until(async () => (await part(page, "recent").count()) === 0, "no list");
    await openNamed(page, "tarn.geojson");
    await untilOpen(page);
  });
});

test("a walk that is not saved is asked about before another is opened again", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await openTwo(window);
    await choose(page, "walk-menu", "tarn.geojson · walks");
    await untilOpen(page);
    await choose(page, "walk-menu", "Turn the walk round");
    await until(async () => (await textOf(page, "saved-state")) === "not saved", "an unsaved change");
    await choose(page, "walk-menu", "fell.geojson · walks");
    await page.getByRole("dialog").getByRole("button", { name: "Go back" }).click();
    expect(await textOf(page, "saved-state")).toBe("not saved");
  });
});

test("the size of text goes by keys, and what menus choose is found by name", async () => {
  await inWindow(async ({ page }) => {
    const size = (): Promise<number> =>
      page.evaluate(() => Number.parseFloat(getComputedStyle(document.body).fontSize));
    const usual = await size();
    const at = (share: number): Promise<void> =>
      until(async () => Math.abs((await size()) / usual - share) < 0.01, `text at ${share}`);
    await page.keyboard.press("Control+=");
    await at(1.25);
    await page.keyboard.press("Control+Shift++");
    await at(1.5);
    await page.keyboard.press("Control+-");
    await at(1.25);
    await page.keyboard.press("Control+0");
    await at(1);
    await page.keyboard.press("Control+f");
    await part(page, "find-field").fill("colours night");
    await page.keyboard.press("Enter");
    await until(
      async () => (await page.evaluate(() => document.documentElement.dataset["theme"])) === "night",
      "the colours of the night",
    );
  });
});
