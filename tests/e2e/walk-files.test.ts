/** Saving, opening, and what happens when files are not as they should be. */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import {
  choose,
  clickMap,
  flags,
  openNamed,
  part,
  plain,
  pointsFile,
  pointsIn,
  putFile,
  readWalk,
  saveAs,
  calmTableRows,
  textOf,
  untilLegs,
} from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const drawThree = async ({ page }: TestWindow): Promise<void> => {
  for (const [x, y] of [
    [0.3, 0.6],
    [0.5, 0.4],
    [0.7, 0.6],
  ] as const)
    await clickMap(page, x, y);
  await untilLegs(page, 2);
};

const noticeText = async ({ page }: TestWindow): Promise<string> =>
  plain((await part(page, "notice").allTextContents()).join(" | "));

test("a walk is saved as GeoJSON and comes back as it was", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await drawThree(window);
    await part(page, "title").fill("Round the moor");
    await part(page, "title").press("Enter");
    expect(await textOf(page, "saved-state")).toBe("not saved");
    await saveAs(page, "round.walk.geojson");
    const rows = await calmTableRows(page);
    const file = readWalk(window, "round.walk.geojson");
    expect(file.legwright["title"]).toBe("Round the moor");
    expect(pointsIn(file)).toHaveLength(3);
    expect(file.features.filter(({ geometry }) => geometry.type === "LineString").length).toBeGreaterThan(0);

    await choose(page, "walk-menu", "New walk");
    await until(async () => (await flags(page).count()) === 0, "an empty walk");
    await openNamed(page, "round.walk.geojson");
    await until(async () => (await flags(page).count()) === 3, "the walk again");
    await until(
      async () => JSON.stringify(await calmTableRows(page)) === JSON.stringify(rows),
      "the same table",
    );
    expect(await part(page, "title").inputValue()).toBe("Round the moor");
    expect(await textOf(page, "saved-state")).toBe("saved");
  });
});

test("Save writes to the same file, and only what is changed is unsaved", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await drawThree(window);
    await saveAs(page, "same.walk.geojson");
    await clickMap(page, 0.6, 0.2);
    await until(async () => (await textOf(page, "saved-state")) === "not saved", "an unsaved change");
    await page.keyboard.press("Control+z");
    await until(async () => (await textOf(page, "saved-state")) === "saved", "nothing unsaved after undo");
    await page.keyboard.press("Control+Shift+z");
    await page.keyboard.press("Control+s");
    await until(async () => (await textOf(page, "saved-state")) === "saved", "the change saved");
    expect(pointsIn(readWalk(window, "same.walk.geojson"))).toHaveLength(4);
    expect(readdirSync(window.walksFolder)).toEqual(["same.walk.geojson"]);
  });
});

test("another program's GeoJSON gives its points, and Save asks for another name", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    const theirs = pointsFile([
      [-133.19, 46.34],
      [-133.18, 46.35],
    ]);
    putFile(window, "theirs.geojson", theirs);
    await openNamed(page, "theirs.geojson");
    await untilLegs(page, 1);
    expect(await noticeText(window)).toContain("theirs.geojson is GeoJSON of another program");
    await clickMap(page, 0.6, 0.2);
    await untilLegs(page, 2);
    await page.keyboard.press("Control+s");
    await until(async () => (await page.locator("dialog[open]").count()) === 1, "the question for a name");
    await page.keyboard.press("Escape");
    expect(readFileSync(join(window.walksFolder, "theirs.geojson"), "utf8")).toBe(theirs);
  });
});

const BAD_FILES = [
  ["cut short", '{"type":"FeatureCollection","features":[{"type":"Feat'],
  [
    "a position that is none",
    '{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[-133.19,46.34],[-133.18,null]]}}',
  ],
  [
    "a latitude beyond the pole",
    '{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[-133.19,46.34],[-133.18,146]]}}',
  ],
  ["no walk at all", '{"hello":"world"}'],
] as const;

test("a bad walk file gives one notice with its name, takes no focus, and nothing is lost", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await drawThree(window);
    const rows = await calmTableRows(page);
    for (const [what, text] of BAD_FILES) {
      const name = `${what}.walk.geojson`;
      putFile(window, name, text);
      await openNamed(page, name);
      await until(
        async () => (await part(page, "notice").count()) === 1,
        `a notice about a file that is ${what}`,
      );
      expect(await noticeText(window)).toContain(name);
      expect(
        await page.evaluate(() => document.querySelector(".notices")?.contains(document.activeElement)),
      ).toBe(false);
      expect(await calmTableRows(page)).toEqual(rows);
      expect(await textOf(page, "saved-state")).toBe("not saved");
      expect(readFileSync(join(window.walksFolder, name), "utf8")).toBe(text);
      await page.getByRole("button", { name: "Put this notice away" }).click();
      await until(async () => (await part(page, "notice").count()) === 0, "the notice gone");
    }
  });
});

test("a new walk asks first when the open one is not saved; going back keeps it", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await drawThree(window);
    await choose(page, "walk-menu", "New walk");
    expect(plain(await page.getByRole("dialog").textContent())).toContain("Save “New walk” first?");
    await page.getByRole("button", { name: "Go back" }).click();
    expect(await flags(page).count()).toBe(3);
    await choose(page, "walk-menu", "New walk");
    await page.getByRole("button", { name: "Don’t save" }).click();
    await until(async () => (await flags(page).count()) === 0, "an empty walk");
    expect(readdirSync(window.walksFolder)).toEqual([]);
  });
});

test("another's file is replaced only when that is wanted", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    putFile(window, "taken.walk.geojson", "another's");
    await drawThree(window);
    await choose(page, "walk-menu", "Save as…");
    await page.getByLabel("File name").fill("taken.walk.geojson");
    await page.getByRole("dialog").getByRole("button", { name: "Save", exact: true }).click();
    await page.getByRole("heading", { name: "Replace taken.walk.geojson?" }).waitFor();
    await page.getByRole("button", { name: "Go back" }).click();
    expect(readFileSync(join(window.walksFolder, "taken.walk.geojson"), "utf8")).toBe("another's");
    await page.getByRole("dialog").getByRole("button", { name: "Save", exact: true }).click();
    await page.getByRole("button", { name: "Replace it" }).click();
    await until(async () => (await textOf(page, "saved-state")) === "saved", "the walk to be saved");
    expect(pointsIn(readWalk(window, "taken.walk.geojson"))).toHaveLength(3);
  });
});

test("what another program wrote meanwhile is not written over unasked", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await drawThree(window);
    await saveAs(page, "shared.walk.geojson");
    await clickMap(page, 0.5, 0.2);
    await new Promise((resolve) => setTimeout(resolve, 20));
    writeFileSync(join(window.walksFolder, "shared.walk.geojson"), "the other's work");
    await part(page, "save").click();
    await page.getByRole("heading", { name: "shared.walk.geojson was changed by another program" }).waitFor();
    await page.getByRole("button", { name: "Go back" }).click();
    expect(readFileSync(join(window.walksFolder, "shared.walk.geojson"), "utf8")).toBe("the other's work");
    expect(await textOf(page, "saved-state")).toBe("not saved");
  });
});

test("a file picked in the browser opens too, and a walk from a newer version is not written over", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await drawThree(window);
    await saveAs(page, "mine.walk.geojson");
    const newer = readFileSync(join(window.walksFolder, "mine.walk.geojson"), "utf8").replace(
      /"version":\s*1/,
      '"version": 99',
    );
    await choose(page, "walk-menu", "Open…");
    await page.getByLabel("Or choose a file from anywhere").setInputFiles({
      name: "newer.walk.geojson",
      mimeType: "application/geo+json",
      buffer: Buffer.from(newer),
    });
    await until(
      async () => (await noticeText(window)).includes("newer Legwright"),
      "a notice about the newer version",
    );
    expect(await flags(page).count()).toBe(3);
    await clickMap(page, 0.5, 0.2);
    await part(page, "save").click();
    await page.getByLabel("File name").waitFor();
    await page.getByRole("button", { name: "Cancel" }).click();
  });
});

test("the practice walk opens whole, as a new walk that is nobody's file", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await page.getByRole("button", { name: "Open the practice walk" }).click();
    await until(async () => (await page.locator(".ribbon-leg").count()) >= 8, "the practice walk");
    const [map, ...dots] = await Promise.all([
      page.locator(".free-map").boundingBox(),
      ...(await flags(page).locator(".flag-dot").all()).map((dot) => dot.boundingBox()),
    ]);
    for (const dot of dots) {
      expect(dot?.x).toBeGreaterThan(map?.x ?? 0);
      expect(dot?.y).toBeGreaterThan(map?.y ?? 0);
      expect((dot?.x ?? 0) + 12).toBeLessThan((map?.x ?? 0) + (map?.width ?? 0));
      expect((dot?.y ?? 0) + 12).toBeLessThan((map?.y ?? 0) + (map?.height ?? 0));
    }
    expect(await textOf(page, "saved-state")).toBe("");
    expect(await page.locator(".crossings text").count()).toBeGreaterThan(3);
  });
});
