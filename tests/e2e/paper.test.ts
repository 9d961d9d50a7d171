/** The walk on paper and as a spreadsheet file, as a person makes them; the PDF read by its own drawing operators. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { distance } from "@turf/turf";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { pdfLines, type PdfPage, readPdfPages } from "../support/pdf-reader.ts";
import { checkLineMm, gridLinesAt } from "../support/sheet-measures.ts";
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
  textOf,
  untilLegs,
} from "./support/planner.ts";
import { openTestWindow, type TestWindow, until } from "./support/window.ts";

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

/** Opens the print screen from the keyboard and waits for its pages. */
async function openPaper(): Promise<void> {
  await window.page.keyboard.press("Control+p");
  await part(window.page, "print-screen").waitFor();
  await drawn();
}

/** Waits until nothing is being drawn and a page is there. */
const drawn = async (): Promise<void> =>
  await until(
    async () =>
      (await part(window.page, "pages-making").count()) === 0 &&
      (await part(window.page, "save-pdf").isEnabled()) &&
      (await part(window.page, "page-picture").locator("svg").count()) === 1,
    "the pages",
    60_000,
  );

const pageTexts = async (): Promise<string> =>
  (await part(window.page, "page-picture").locator("svg text").allTextContents()).join("\n");

async function savePdf(name: string): Promise<PdfPage[]> {
  const { page } = window;
  await part(page, "save-pdf").click();
  await page.getByLabel("File name").fill(name);
  await page.getByRole("button", { name: "Save", exact: true }).last().click();
  await until(
    async () => (await textOf(page, "print-said")).includes(`${name} is written`),
    "the PDF",
    60_000,
  );
  return readPdfPages(readFileSync(join(window.walksFolder, name)));
}

test("the pages are seen, turned and looked at near, and changed by what is chosen", async () => {
  const { page } = window;
  await choose(page, "walk-menu", "Open the practice walk");
  await untilLegs(page, 10);
  await openPaper();
  expect(await textOf(page, "page-title")).toMatch(/^Page 1 of \d+: Field sheet$/);
  expect(await pageTexts()).toContain("This bar is 100 mm");
  // Its fonts are the window's own: what is seen is what prints.
  const faces = await page.evaluate(() =>
    [...document.fonts]
      .filter(({ status }) => status === "loaded")
      .map(({ family }) => family.replaceAll('"', "")),
  );
  expect(faces).toContain("Atkinson Hyperlegible Next");
  await part(page, "pages").focus();
  await page.keyboard.press("PageDown");
  await until(async () => (await pageTexts()).includes("Bunkhouse, start → Lowder fork"), "the leg table");
  expect(await textOf(page, "page-title")).toMatch(/Leg table/);
  await page.keyboard.press("Home");
  await until(async () => (await pageTexts()).includes("This bar is 100 mm"), "the sheet again");
  const width = async (): Promise<number> => (await part(page, "page-picture").boundingBox())?.width ?? 0;
  const before = await width();
  await page.keyboard.press("+");
  expect((await width()) / before).toBeCloseTo(1.25, 1);
  await part(page, "zoom-true").click();
  // 210 mm at 96 pixels an inch.
  expect(await width()).toBeCloseTo((210 / 25.4) * 96, 0);
  await part(page, "zoom-whole").click();
  await part(page, "paper").selectOption("a3");
  await part(page, "lies").selectOption("across");
  await until(
    async () => (await part(page, "page-picture").locator("svg").getAttribute("width")) === "420mm",
    "A3 on its long side",
  );
  await part(page, "paper").selectOption("a4");
  await part(page, "lies").selectOption("upright");
  await drawn();
  window.watch.check();
});

test("sheets are moved on the map by pointer and by keys, and the walk is told to fit or not", async () => {
  const { page } = window;
  await part(page, "move-sheets").click();
  await part(page, "placing").waitFor();
  await until(async () => (await part(page, "print-screen").count()) === 0, "the screen to be put away");
  const said = (): Promise<string> => textOf(page, "placing-said");
  expect(await said()).toMatch(/^1 sheet at 1:25,000\. The whole walk lies on it\.$/);
  const number = part(page, "sheet-number");
  const at = async (): Promise<{ x: number; y: number }> => {
    const box = await number.boundingBox();
    if (!box) throw new Error("no sheet on the map");
    return box;
  };
  const start = await at();
  await number.focus();
  await page.keyboard.press("ArrowRight");
  const moved = await at();
  expect(moved.x).toBeGreaterThan(start.x + 5);
  await page.keyboard.press("Shift+ArrowRight");
  // A tenth of the step before.
  expect(((await at()).x - moved.x) / (moved.x - start.x)).toBeCloseTo(0.1, 1);
  const points = (): Promise<number> => page.locator(".flag").count();
  const flagsBefore = await points();
  const now = await at();
  await page.mouse.move(now.x + 10, now.y + 10);
  await page.mouse.down();
  await page.mouse.move(now.x + 160, now.y + 60, { steps: 6 });
  await page.mouse.move(now.x + 410, now.y + 10, { steps: 6 });
  await page.mouse.up();
  expect((await at()).x).toBeGreaterThan(now.x + 380);
  // Neither the map nor the walk was touched by it.
  expect(await points()).toBe(flagsBefore);
  expect(await said()).toMatch(/Part of legs? .* lies on no sheet/);
  await part(page, "placing-done").click();
  await drawn();
  expect(await part(page, "way-placed").isChecked()).toBe(true);
  expect(await textOf(page, "print-notes")).toMatch(/lies on no sheet/);
  await part(page, "way-cover").check();
  await drawn();
  expect(await textOf(page, "print-notes")).not.toMatch(/lies on no sheet/);
  window.watch.check();
});

test("columns are dragged into another order, and moved by keys", async () => {
  const { page } = window;
  await part(page, "columns-own").check();
  const order = (): Promise<(string | null)[]> =>
    part(page, "columns")
      .locator("li")
      .evaluateAll((rows) => rows.map((row) => row.getAttribute("data-column")));
  const before = await order();
  const names = part(page, "columns").locator(".column-name");
  await names.nth(0).scrollIntoViewIfNeeded();
  const [from, to] = [await names.nth(0).boundingBox(), await names.nth(2).boundingBox()];
  if (!from || !to) throw new Error("no columns");
  await page.mouse.move(from.x + 20, from.y + from.height / 2);
  await page.mouse.down();
  await page.mouse.move(to.x + 20, to.y + to.height / 2 + 4, { steps: 5 });
  await page.mouse.up();
  const dragged = [before[1], before[2], before[0], ...before.slice(3)];
  expect(await order()).toEqual(dragged);
  await names.nth(2).focus();
  await page.keyboard.press("Alt+ArrowUp");
  await page.keyboard.press("Alt+ArrowUp");
  expect(await order()).toEqual(before);
  await part(page, "blank-actualTime").check();
  await drawn();
  await part(page, "pages").focus();
  await page.keyboard.press("PageDown");
  await until(async () => (await pageTexts()).includes("Actual"), "the box to write in");
  await part(page, "columns-usual").check();
  await part(page, "blank-actualTime").uncheck();
  await drawn();
  window.watch.check();
});

test("the PDF is true to scale, has its fonts in it, and says what the window says", async () => {
  const { page } = window;
  const pages = await savePdf("sheets.pdf");
  const [sheet] = pages as [PdfPage];
  expect([Math.round(sheet.widthMm), Math.round(sheet.heightMm)]).toEqual([210, 297]);
  expect(Math.abs(checkLineMm(sheet) - 100)).toBeLessThan(0.05);
  for (const way of ["upright", "level"] as const) {
    const places = gridLinesAt(sheet, way);
    expect(places.length).toBeGreaterThan(2);
    // A kilometre at 1:25 000 is 40 mm.
    for (const [i, at] of places.slice(1).entries())
      expect(Math.abs(at - (places[i] as number) - 40)).toBeLessThan(0.04);
  }
  expect(pages.flatMap(({ fonts }) => fonts).filter(({ embedded }) => !embedded)).toEqual([]);
  await part(page, "print-close").click();
  const rows = await tableRows(page);
  const text = plain(pages.flatMap(pdfLines).join(" "));
  expect(rows.length).toBeGreaterThan(1);
  for (const [, from = "", to = "", bearing = "", , distance = ""] of rows) {
    expect(text).toMatch(new RegExp(`${from} ?→ ?${to}`));
    expect(text).toContain(`${bearing.replace("°", "").padStart(3, "0")}°`);
    expect(text).toContain(distance);
  }
  expect(text).toContain("Invented map");
  window.watch.check();
});

test("what is chosen is remembered; handout, answers and cards go into one file; SVG is a file a page", async () => {
  const { page } = window;
  await openPaper();
  for (const name of ["handout", "answers", "card", "pocket"]) await part(page, `part-${name}`).check();
  await part(page, "part-sheets").uncheck();
  await part(page, "black-and-white").check();
  await drawn();
  const text = plain((await savePdf("class.pdf")).flatMap(pdfLines).join(" "));
  for (const word of ["to work out", "answers", "overdue"]) expect(text).toContain(word);
  await page.keyboard.press("Escape");
  await openPaper();
  expect(await part(page, "part-answers").isChecked()).toBe(true);
  expect(await part(page, "black-and-white").isChecked()).toBe(true);
  for (const name of ["table", "answers", "card", "pocket"]) await part(page, `part-${name}`).uncheck();
  await drawn();
  await part(page, "save-svg").click();
  await page.getByLabel("File name").fill("class.svg");
  await page.getByRole("button", { name: "Save", exact: true }).last().click();
  await until(async () => (await textOf(page, "print-said")).includes("is written"), "the SVG");
  expect(
    readdirSync(window.walksFolder).filter((name) => /^class(-\d)?\.svg$/.test(name)).length,
  ).toBeGreaterThan(0);
  await part(page, "part-handout").uncheck();
  expect(await textOf(page, "pages-none")).toContain("Nothing is chosen to print");
  await part(page, "part-sheets").check();
  await drawn();
  // A scale no map has is not taken, and says why.
  await part(page, "scale").fill("seven");
  await page.keyboard.press("Tab");
  expect(await textOf(page, "entry-fault")).toMatch(/no map scale/);
  await part(page, "scale").fill("1 inch = 2000 feet");
  await page.keyboard.press("Enter");
  await until(async () => (await pageTexts()).includes("1:24"), "the other scale");
  await page.keyboard.press("Escape");
  window.watch.check();
});

test("with the keyboard alone, from the plan to the PDF", async () => {
  const { page } = window;
  await openPaper();
  const tabTo = async (name: string): Promise<void> => {
    for (let i = 0; i < 120; i++) {
      if ((await page.evaluate(() => document.activeElement?.getAttribute("data-test"))) === name) return;
      await page.keyboard.press("Tab");
    }
    throw new Error(`${name} is not reached by Tab`);
  };
  await tabTo("part-table");
  await page.keyboard.press("Space");
  await drawn();
  await tabTo("save-pdf");
  await page.keyboard.press("Enter");
  await page.getByLabel("File name").waitFor();
  await page.keyboard.press("Control+a");
  await page.keyboard.type("by-keys.pdf");
  await page.keyboard.press("Enter");
  await until(
    async () => (await textOf(page, "print-said")).includes("by-keys.pdf is written"),
    "the PDF",
    60_000,
  );
  expect(readPdfPages(readFileSync(join(window.walksFolder, "by-keys.pdf"))).length).toBeGreaterThan(1);
  await page.keyboard.press("Escape");
  expect(await part(page, "print-screen").count()).toBe(0);
  window.watch.check();
});
