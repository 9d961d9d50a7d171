/** Nothing vanishes: work found again after the page died, earlier versions, another's change, two windows on one file. */
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { untilKept, untilNothingKept } from "./support/kept-drafts.ts";
import {
  choose,
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
const drawn = [
  [0.3, 0.6],
  [0.5, 0.4],
  [0.7, 0.6],
] as const;

const button = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
const heading = (page: Page, name: string) => page.getByRole("heading", { name });

/** Another page of the same browser on the same host. */
async function openAgain({ context, host }: TestWindow): Promise<Page> {
  const page = await context.newPage();
  await page.goto(host.origin, { waitUntil: "load" });
  await until(async () => (await page.locator(".map-edge").count()) === 1, "the map's edge");
  return page;
}

test("what was not saved is found again, looked at and taken up; the saved file stays until one saves", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    for (const [x, y] of drawn) await clickMap(page, x, y);
    await untilLegs(page, 2);
    await saveAs(page, "moor.walk.geojson");
    const saved = readFileSync(join(window.walksFolder, "moor.walk.geojson"), "utf8");
    await clickMap(page, 0.8, 0.3);
    await untilLegs(page, 3);
    await untilKept(window, 4);
    // The page goes without a word to anyone.
    await page.close();

    const again = await openAgain(window);
    await heading(again, "Unsaved work was found").waitFor();
    const found = plain(await part(again, "kept").textContent());
    expect(found).toContain("of moor.walk.geojson");
    expect(found).toMatch(/Differs: 1 point more\. It has 3 legs, 1 more; [\d.,]+ k?m, [\d.,]+ k?m longer\./);
    expect(found).toContain(String(new Date().getFullYear()));
    await button(again, "Look").click();
    await part(again, "line-picture").waitFor();
    await button(again, "Take it up").click();
    await until(async () => (await flags(again).count()) === 4, "the fourth point again");
    await until(async () => (await again.locator("dialog[open]").count()) === 0, "the dialog gone");
    expect(await textOf(again, "saved-state")).toBe("not saved");
    expect(readFileSync(join(window.walksFolder, "moor.walk.geojson"), "utf8")).toBe(saved);
    await again.keyboard.press("Control+s");
    await until(async () => (await textOf(again, "saved-state")) === "saved", "the walk to be saved");
    expect(pointsIn(readWalk(window, "moor.walk.geojson"))).toHaveLength(4);
    await untilNothingKept(window);

    // What is thrown away does not come back.
    await clickMap(again, 0.85, 0.7);
    await untilKept(window, 5);
    await again.close();
    const third = await openAgain(window);
    await button(third, "Throw it away").click();
    await third.getByRole("dialog").last().getByRole("button", { name: "Throw it away" }).click();
    await until(async () => (await third.locator("dialog[open]").count()) === 0, "the dialog gone");
    await untilNothingKept(window);
  });
});

test("earlier versions tell what differs and come back as one step; so do those of a file that is gone", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    for (const [x, y] of drawn) await clickMap(page, x, y);
    await untilLegs(page, 2);
    await saveAs(page, "moor.walk.geojson");
    await clickMap(page, 0.8, 0.3);
    await untilLegs(page, 3);
    await page.keyboard.press("Control+s");
    await until(async () => (await textOf(page, "saved-state")) === "saved", "the walk to be saved");
    await choose(page, "walk-menu", "Earlier versions…");
    await until(async () => (await part(page, "kept").count()) === 2, "two versions");
    const texts = (await part(page, "kept-differs").allTextContents()).map(plain);
    expect(texts[0]).toMatch(/^Differs: nothing\. It has 3 legs; /);
    expect(texts[1]).toMatch(/^Differs: 1 point fewer\. It has 2 legs, 1 fewer; .* shorter\.$/);
    await button(page, "Bring back").nth(1).click();
    await until(async () => (await flags(page).count()) === 3, "the earlier walk");
    expect(pointsIn(readWalk(window, "moor.walk.geojson"))).toHaveLength(4);
    await page.keyboard.press("Control+z");
    await until(async () => (await flags(page).count()) === 4, "the later walk");

    rmSync(join(window.walksFolder, "moor.walk.geojson"));
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    await until(async () => (await textOf(page, "saved-state")) === "not saved", "the file missed");
    await choose(page, "walk-menu", "New walk");
    await button(page, "Don’t save").click();
    await choose(page, "walk-menu", "Earlier versions…");
    await until(async () => (await part(page, "kept").count()) === 2, "two versions of the lost file");
    expect(plain(await part(page, "kept-walk").textContent())).toContain("(the file is gone)");
    await button(page, "Bring back").first().click();
    await until(async () => (await flags(page).count()) === 4, "the lost walk");
  });
});

test("another's change is told on coming back; a second window on a file looks only, or takes it over", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    for (const [x, y] of drawn) await clickMap(page, x, y);
    await untilLegs(page, 2);
    await saveAs(page, "moor.walk.geojson");
    const path = join(window.walksFolder, "moor.walk.geojson");
    const theirs = readFileSync(path, "utf8").replace('"title": "New walk"', '"title": "Theirs"');
    const comeBack = (): Promise<boolean> => page.evaluate(() => dispatchEvent(new Event("focus")));
    writeFileSync(path, theirs);
    await comeBack();
    await heading(page, "moor.walk.geojson was changed by another program").waitFor();
    await button(page, "Take the file’s").click();
    await until(async () => (await part(page, "title").inputValue()) === "Theirs", "the other's title");
    expect(await textOf(page, "saved-state")).toBe("saved");

    writeFileSync(path, theirs.replace("Theirs", "Theirs again"));
    await comeBack();
    await button(page, "Keep mine").click();
    await until(async () => (await textOf(page, "saved-state")) === "not saved", "mine to be unsaved");
    await page.keyboard.press("Control+s");
    await until(async () => (await textOf(page, "saved-state")) === "saved", "the walk to be saved");
    expect(readWalk(window, "moor.walk.geojson").legwright["title"]).toBe("Theirs");

    const second = await openAgain(window);
    await openNamed(second, "moor.walk.geojson");
    await heading(second, "moor.walk.geojson is open in another window").waitFor();
    await button(second, "Only look").click();
    await clickMap(second, 0.8, 0.3);
    await second.keyboard.press("Control+s");
    await second.getByLabel("File name").waitFor();
    await second.keyboard.press("Escape");
    await choose(second, "walk-menu", "New walk");
    await button(second, "Don’t save").click();
    await openNamed(second, "moor.walk.geojson");
    await button(second, "Write it from here").click();
    await until(
      async () => (await part(page, "notice").allTextContents()).join().includes("from another window now"),
      "the first window to be told",
    );
    await clickMap(second, 0.8, 0.3);
    await second.keyboard.press("Control+s");
    await until(async () => (await textOf(second, "saved-state")) === "saved", "the second to save");
    expect(pointsIn(readWalk(window, "moor.walk.geojson"))).toHaveLength(4);
  });
});
