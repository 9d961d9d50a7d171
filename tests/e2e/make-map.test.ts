/**
 * The map case, and a map made from the window. The model: SRTM of eastern Tennessee (see tests/fixtures/elevation/README.md);
 * its heights are GDAL's (gdalinfo -mm). The features on it are invented.
 */
import { copyFileSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { atRest } from "./support/at-rest.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import { part, plain, textOf } from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();
const fixture = (name: string): string => fileURLToPath(new URL(`../fixtures/${name}`, import.meta.url));
const MODEL = fixture("elevation/jacksboro-srtm3-epsg4326.tif");
const ARCHIVE = fixture("open-tiles/florence.pmtiles");

/** Paths over the model, and something no rule knows. */
const LINES = JSON.stringify({
  type: "FeatureCollection",
  features: [
    [
      [-84.3, 36.5],
      [-84.25, 36.55],
    ],
    [
      [-84.25, 36.55],
      [-84.2, 36.6],
    ],
  ].map((coordinates) => ({
    type: "Feature",
    properties: { highway: "path" },
    geometry: { type: "LineString", coordinates },
  })),
});

const notices = async (page: Page): Promise<string> =>
  plain((await part(page, "notice").allTextContents()).join(" | "));
const row = (page: Page, title: string) => part(page, "map-row").filter({ hasText: title });
const openCase = (page: Page): Promise<void> => part(page, "map-button").click();
const gone = async (page: Page, name: string): Promise<boolean> => (await part(page, name).count()) === 0;

async function pick(page: Page, kind: "elevation" | "features", name: string): Promise<void> {
  await part(page, `add-${kind}`).click();
  await page.getByLabel(name).check();
  await part(page, "take-ticked").click();
  await until(async () => (await part(page, "data-row").filter({ hasText: name }).count()) === 1, name);
}

test("a map is made of a model and features: seen, stopped without a trace, made, opened, in the case with its picture", async () => {
  await inWindow(async ({ page, walksFolder }) => {
    copyFileSync(MODEL, join(walksFolder, "hills.tif"));
    writeFileSync(join(walksFolder, "paths.geojson"), LINES);
    const before = readdirSync(walksFolder);
    await openCase(page);
    await part(page, "make-map").click();
    expect(await textOf(page, "make-missing")).toContain("Add an elevation file first");
    await pick(page, "elevation", "hills.tif");
    await until(async () => (await part(page, "survey").count()) === 1, "the heights");
    expect(await textOf(page, "survey")).toBe("Heights together from 236 m to 1076 m.");
    await pick(page, "features", "paths.geojson");
    const rows = part(page, "data-row");
    await until(async () => plain(await rows.nth(1).textContent()).includes("2 features"), "the features");
    expect(plain(await rows.nth(0).textContent())).toContain("403 by 344 heights");
    expect(plain(await rows.nth(1).textContent())).toContain("paths 2");
    await part(page, "make-title").fill("Jacksboro");
    await part(page, "make-interval").fill("20");

    await part(page, "start-making").click();
    await until(async () => /\d %/.test(await textOf(page, "making-stage").catch(() => "")), "progress");
    await part(page, "stop-making").click();
    await until(() => gone(page, "stop-making"), "the end of it");
    await until(async () => (await notices(page)).includes("Nothing of it is left"), "that said");
    expect(readdirSync(walksFolder)).toEqual(before);

    // By keyboard: the button is reached and pressed, what was chosen is still there.
    await part(page, "start-making").focus();
    await page.keyboard.press("Enter");
    await until(async () => (await notices(page)).includes("Jacksboro is made"), "the map", 60_000);
    await until(async () => (await textOf(page, "map-button")).includes("Jacksboro"), "the map to open");
    expect(readdirSync(walksFolder).toSorted()).toEqual(
      [...before, "Jacksboro.pmtiles", "Jacksboro.terrain.pmtiles"].toSorted(),
    );
    await until(async () => (await row(page, "Jacksboro").locator("img").count()) === 1, "its picture");
    const facts = plain(await row(page, "Jacksboro").textContent());
    expect(facts).toContain("contours every 20 m · terrain beside it");
    expect(facts).toContain("From hills.tif, paths.geojson");
    expect(facts).toContain("30 km × 32 km");
    // Something of a map is on the picture: lines of some colours on paper, which is not covered by them.
    const { colours, drawn } = await pictureOf(page);
    expect(colours).toBeGreaterThan(6);
    expect(drawn).toBeGreaterThan(0.05);
    expect(drawn).toBeLessThan(0.95);
  });
});

/** Different colours on the picture, and the share of it that has not the colour of its corner. */
const pictureOf = (page: Page): Promise<{ colours: number; drawn: number }> =>
  row(page, "Jacksboro")
    .locator("img")
    .evaluate((image) => {
      const picture = image as HTMLImageElement;
      const canvas = document.createElement("canvas");
      canvas.width = picture.naturalWidth;
      canvas.height = picture.naturalHeight;
      const pen = canvas.getContext("2d");
      pen?.drawImage(picture, 0, 0);
      const data = pen?.getImageData(0, 0, canvas.width, canvas.height).data ?? [];
      const pixels = new Uint32Array(new Uint8Array(data).buffer);
      return {
        colours: new Set(pixels).size,
        drawn: pixels.filter((pixel) => pixel !== pixels[0]).length / pixels.length,
      };
    });

test("a model that does not say where it lies is asked about, and one that is none is told", async () => {
  await inWindow(async ({ page, walksFolder }) => {
    copyFileSync(fixture("cli/no-crs.tif"), join(walksFolder, "no-crs.tif"));
    writeFileSync(join(walksFolder, "junk.tif"), "no heights");
    await openCase(page);
    await part(page, "make-map").click();
    await pick(page, "elevation", "no-crs.tif");
    const rows = part(page, "data-row");
    await until(
      async () => plain(await rows.nth(0).textContent()).includes("does not say in which"),
      "the fault",
    );
    await part(page, "crs-elevation").fill("EPSG:4326");
    await page.keyboard.press("Tab");
    await until(async () => plain(await rows.nth(0).textContent()).includes("20 by 20 heights"), "the model");
    await pick(page, "elevation", "junk.tif");
    await until(
      async () => plain(await rows.nth(1).textContent()).includes("no elevation model"),
      "the fault",
    );
    expect(await textOf(page, "make-missing")).toContain("Leave out");
    await page.getByRole("button", { name: "Leave junk.tif out" }).click();
    await until(async () => (await rows.count()) === 1, "one file");
    expect(await textOf(page, "make-missing")).toContain("Give the map a title");
  });
});

test("maps are renamed, shown, removed and brought back, by keyboard too", async () => {
  await inWindow(async ({ page, walksFolder }) => {
    copyFileSync(ARCHIVE, join(walksFolder, "florence.pmtiles"));
    writeFileSync(join(walksFolder, "torn.pmtiles"), "nothing");
    const bytes = readFileSync(join(walksFolder, "florence.pmtiles"));
    await openCase(page);
    await until(async () => (await part(page, "map-row").count()) === 3, "three maps");
    expect(plain(await row(page, "torn.pmtiles").textContent())).toContain("This is not a PMTiles archive");

    await page.getByRole("button", { name: "Rename florence" }).press("Enter");
    await part(page, "map-name").fill("City of towers");
    await page.keyboard.press("Enter");
    await until(async () => (await row(page, "City of towers").count()) === 1, "its name");
    expect(plain(await row(page, "City of towers").textContent())).toContain("its file says “florence");
    expect(readFileSync(join(walksFolder, "florence.pmtiles")).equals(bytes)).toBe(true);

    await page.getByRole("button", { name: "Show the file of City of towers" }).click();
    await until(
      async () =>
        plain(await row(page, "City of towers").textContent()).includes("The file is walks/florence.pmtiles"),
      "its place",
    );

    await page.getByRole("button", { name: "Remove City of towers from the case" }).click();
    await page.getByRole("button", { name: "Remove it from the case", exact: true }).press("Enter");
    await until(async () => (await part(page, "map-row").count()) === 2, "two maps");
    expect(readdirSync(walksFolder)).toContain("florence.pmtiles");

    await part(page, "add-map").click();
    await page.getByLabel("florence.pmtiles").check();
    await part(page, "take-ticked").click();
    await until(async () => (await row(page, "florence").count()) === 1, "the map again");
  });
});

test("a dropped archive is copied into the folder, added and opened; what is no map is told", async () => {
  await inWindow(async ({ page, walksFolder }) => {
    const drop = async (name: string, bytes: Buffer): Promise<void> => {
      const transfer = await page.evaluateHandle(
        ([file, base64]) => {
          const held = new DataTransfer();
          held.items.add(new File([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], file));
          return held;
        },
        [name, bytes.toString("base64")] as const,
      );
      await page.dispatchEvent("body", "drop", { dataTransfer: transfer });
    };
    await drop("holiday.jpg", Buffer.from("no map"));
    await until(async () => (await notices(page)).includes("holiday.jpg is no map archive"), "that said");
    await drop("florence.pmtiles", readFileSync(ARCHIVE));
    await until(async () => (await textOf(page, "map-button")).includes("florence"), "the map to open");
    expect(readFileSync(join(walksFolder, "florence.pmtiles")).equals(readFileSync(ARCHIVE))).toBe(true);
    expect(readdirSync(walksFolder)).toEqual(["florence.pmtiles"]);
    await drop("florence.pmtiles", readFileSync(ARCHIVE));
    await until(
      async () => (await notices(page)).includes("There is a file of this name already"),
      "that said",
    );
  });
});

test("a map whose file was moved is told in its row, and found again", async () => {
  await inWindow(async (window: TestWindow) => {
    const { page, walksFolder } = window;
    copyFileSync(ARCHIVE, join(walksFolder, "florence.pmtiles"));
    await openCase(page);
    await part(page, "add-map").click();
    await page.getByLabel("florence.pmtiles").check();
    await part(page, "take-ticked").click();
    await until(async () => (await textOf(page, "map-button")).includes("florence"), "the map to open");
    mkdirSync(join(walksFolder, "old"));
    renameSync(join(walksFolder, "florence.pmtiles"), join(walksFolder, "old", "florence.pmtiles"));
    await page.keyboard.press("Escape");
    await openCase(page);
    await until(async () => (await part(page, "map-fault").count()) === 1, "the fault");
    expect(plain(await row(page, "florence").textContent())).toContain("The file is not where it was");
    // Back under another name.
    renameSync(join(walksFolder, "old", "florence.pmtiles"), join(walksFolder, "towers.pmtiles"));
    await page.getByRole("button", { name: /^Find the file of florence/ }).click();
    await page.getByLabel("towers.pmtiles").check();
    await part(page, "take-ticked").click();
    await until(async () => (await part(page, "map-fault").count()) === 0, "no fault");
    // The archive has no title of its own: it is called as its file.
    expect(await part(page, "map-row").count()).toBe(2);
    expect(plain(await part(page, "map-row").nth(1).textContent())).toContain("towers.pmtiles");
  });
});

test("a first start says what the demo map is and the three ways to one's own; a map opens at its last view", async () => {
  await inWindow(async ({ page }) => {
    await part(page, "first-map").click();
    const ways = plain(await part(page, "ways").textContent());
    expect(await part(page, "ways").getAttribute("open")).not.toBeNull();
    for (const words of ["elevation model", "OpenStreetMap", "tiles (.pmtiles, .mbtiles)", "scanned sheet"])
      expect(ways).toContain(words);
    await page.locator("dialog").getByRole("button", { name: "Close", exact: true }).click();
    const scale = (): Promise<string | null> => page.locator(".scale-bar").textContent();
    const whole = await scale();
    for (let i = 0; i < 3; i++) await page.getByRole("button", { name: "Nearer" }).click();
    await until(async () => (await scale()) !== whole, "a nearer view");
    // The map glides there; the view is kept a second after it came to rest.
    const near = await atRest(page, async () => String(await scale()), "the map at rest");
    await page.waitForTimeout(3000);
    await page.reload();
    await until(async () => (await page.locator(".map-edge").count()) === 1, "the map");
    await until(async () => (await scale()) === near, "the nearer view again");
  });
});
