/** The leg table on paper and as a spreadsheet file, read back with tools of others. */
import { execFileSync, spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { distance } from "@turf/turf";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { launchBrowser } from "./support/browser.ts";
import {
  choose,
  clickMap,
  part,
  plain,
  pointsIn,
  readWalk,
  saveAs,
  settle,
  tableRows,
  untilLegs,
} from "./support/planner.ts";
import { openTestWindow, type TestWindow, until } from "./support/window.ts";

const hasPdfText = spawnSync("pdftotext", ["-v"]).error === undefined;

let browser: Browser;
let window: TestWindow;
beforeAll(async () => {
  browser = await launchBrowser();
  window = await openTestWindow(browser);
  await settle(window);
  for (const [x, y] of [
    [0.3, 0.6],
    [0.5, 0.4],
    [0.7, 0.6],
  ] as const)
    await clickMap(window.page, x, y);
  await untilLegs(window.page, 2);
  await saveAs(window.page, "paper.walk.geojson");
});
afterAll(async () => {
  await window.close();
  await browser.close();
});

test("CSV holds every leg, with the distances of the saved points", async () => {
  const { page } = window;
  await part(page, "export-csv").click();
  await page.getByLabel("File name").fill("legs.csv");
  await page.getByRole("dialog").getByRole("button", { name: "Save", exact: true }).click();
  await until(
    async () => plain((await part(page, "notice").allTextContents()).join()).includes("legs.csv is written"),
    "the file",
  );
  const [head = "", ...rows] = readFileSync(join(window.walksFolder, "legs.csv"), "utf8")
    .trimEnd()
    .split("\r\n");
  const columns = head.split(",");
  expect(rows).toHaveLength(2);
  const points = pointsIn(readWalk(window, "paper.walk.geojson"));
  for (const [i, row] of rows.entries()) {
    const cells = row.split(",");
    const cell = (name: string): string => cells[columns.indexOf(name)] ?? "";
    expect([cell("n"), cell("from"), cell("to")]).toEqual([String(i + 1), "ABC"[i], "ABC"[i + 1]]);
    // turf works on a sphere: up to 0.6 % off the ellipsoid.
    const expected = distance(points[i] as [number, number], points[i + 1] as [number, number], {
      units: "meters",
    });
    expect(Math.abs(Number(cell("distanceM")) / expected - 1)).toBeLessThan(0.006);
    expect(Number(cell("bearingTrueDeg")) - Number(cell("declinationDeg"))).toBeCloseTo(
      Number(cell("bearingMagneticDeg")),
      3,
    );
  }
  window.watch.check();
});

test("the preview shows the sheet, and changes with the paper", async () => {
  const { page } = window;
  await part(page, "print").click();
  const sheet = part(page, "print-preview").locator(".sheet");
  await sheet.waitFor();
  const text = plain(await sheet.textContent());
  expect(text).toContain("Invented map: this is not a real place.");
  expect(text).toContain("A → B");
  expect(text).toMatch(/Declination \d+\.\d° E/);
  // The document's own styles apply in the preview: its bearings are set large.
  expect(
    await sheet
      .locator("td.bearing")
      .first()
      .evaluate((cell) => getComputedStyle(cell).fontWeight),
  ).toBe("700");
  await page.getByRole("button", { name: "Cancel" }).click();
  window.watch.check();
});

test.skipIf(!hasPdfText)("the PDF says what the window says (skipped without pdftotext)", async () => {
  const { page } = window;
  const rows = await tableRows(page);
  await choose(page, "walk-menu", "Print the leg table…");
  await page.getByRole("button", { name: "Save as PDF…" }).click();
  await page.getByLabel("File name").fill("legs.pdf");
  await page.getByRole("dialog").getByRole("button", { name: "Save", exact: true }).click();
  await until(
    async () => plain((await part(page, "notice").allTextContents()).join()).includes("legs.pdf is written"),
    "the PDF",
    60_000,
  );
  const path = join(window.walksFolder, "legs.pdf");
  const text = plain(execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" }));
  for (const [, from = "", to = "", bearing = "", , distance = ""] of rows) {
    // The arrow comes from another font, and pdftotext drops the spaces about it.
    expect(text).toMatch(new RegExp(`${from} ?→ ?${to}`));
    expect(text).toContain(`${bearing.replace("°", "").padStart(3, "0")}°`);
    expect(text).toContain(distance);
  }
  expect(text).toContain("Invented map");
  expect(text).toContain("paper map and a compass");
  // The typeface travels in the file: pdffonts of the same package lists it as embedded.
  const fonts = execFileSync("pdffonts", [path], { encoding: "utf8" });
  expect(fonts).toMatch(/Atkinson\S*.*\byes\b/);
  window.watch.check();
});
