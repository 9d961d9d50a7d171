/**
 * Small ground as an instructor sets it, with no map on the computer: shape, sheets, score. What is printed is worked through
 * with plane trigonometry of the test's own.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { pdfLines, type PdfPage, type PdfPath, readPdfPages } from "../support/pdf-reader.ts";
import { launchBrowser } from "./support/browser.ts";
import { choose, part, plain, textOf } from "./support/planner.ts";
import { paperText } from "./support/print-screen.ts";
import { openTestWindow, until } from "./support/window.ts";

const RAD = Math.PI / 180;

let browser: Browser;
beforeAll(async () => void (browser = await launchBrowser()));
afterAll(async () => await browser.close());

const pick = async (page: Page, name: string, text: string): Promise<void> => {
  await part(page, name).fill(text);
  await part(page, name).press("Enter");
};

async function savePdf(page: Page, folder: string, name: string): Promise<PdfPage[]> {
  await until(async () => await part(page, "save-pdf").isEnabled(), "the pages");
  await part(page, "save-pdf").click();
  await page.getByLabel("File name").fill(name);
  await page.getByRole("button", { name: "Save", exact: true }).last().click();
  await until(async () => (await textOf(page, "print-said")).includes(`${name} is written`), "the PDF");
  return readPdfPages(readFileSync(join(folder, name)));
}

const text = (pages: readonly PdfPage[]): string => plain(pages.flatMap(pdfLines).join(" "));

/** Rows of the learner's table: number, bearing, length. */
const legsIn = (words: string): { deg: number; m: number }[] =>
  [...words.matchAll(/ \d+ (\d{3})° (\d+) m/g)].map(([, deg, m]) => ({ deg: Number(deg), m: Number(m) }));

/** Metres east and north after walking them. */
const end = (legs: readonly { readonly deg: number; readonly m: number }[]): [number, number] => [
  legs.reduce((sum, { deg, m }) => sum + m * Math.sin(deg * RAD), 0),
  legs.reduce((sum, { deg, m }) => sum + m * Math.cos(deg * RAD), 0),
];

test("an exercise is set without a map, seen, printed and scored", async () => {
  const empty = mkdtempSync(join(tmpdir(), "legwright-no-maps-"));
  mkdirSync(join(empty, "maps"), { recursive: true });
  const window = await openTestWindow(browser, { sampleFolder: empty });
  const { page, walksFolder, watch } = window;
  try {
    await page.getByRole("button", { name: "Understood" }).click();
    await part(page, "no-map").waitFor();
    await choose(page, "tools-menu", "Small ground");
    await part(page, "field-picture").waitFor();
    expect(await part(page, "field-picture").locator(".field-ring").count()).toBe(6);

    // Seven equal sides cannot be walked on whole bearings: told, with what can be.
    await part(page, "field-shape").selectOption("even");
    await pick(page, "field-stakes", "7");
    await until(async () => (await part(page, "field-fault").count()) === 1, "the reason");
    expect(await textOf(page, "field-fault")).toMatch(
      /7 equal sides .* Ask for 3, 4, 6, 8, 9, 12 or 18 sides/,
    );
    expect(await part(page, "save-pdf").isDisabled()).toBe(true);
    expect(await part(page, "field-picture").count()).toBe(0);

    // A triangle, told in the walk's paces: 65 to 100 m.
    await part(page, "field-shape").selectOption("triangle");
    await part(page, "field-whose").selectOption("walk");
    await until(
      async () => (await textOf(page, "field-closing")) === "The last leg ends at stake 1 exactly.",
      "the triangle",
    );
    await until(
      async () => (await paperText(page)).includes("65 to 100 m: is that your count?"),
      "the learner's sheet on screen",
    );
    const pages = await savePdf(page, walksFolder, "triangle.pdf");
    const learner = pages.filter((one) => /Learner’s sheet/.test(text([one])));
    const setter = pages.filter((one) => /Setter’s sheet/.test(text([one])));
    const scoring = pages.filter((one) => /Scoring/.test(text([one])));
    expect([learner.length, setter.length, scoring.length]).toEqual([1, 1, 1]);
    const legs = legsIn(text(learner));
    expect(legs).toHaveLength(3);
    expect(Math.hypot(...end(legs))).toBeLessThan(0.001);
    for (const { m } of legs) expect(text(learner)).toContain(` ${m} m ${Math.round(m * 0.65)} `);

    // On the setter's plan, 1 : its scale: rings of 2 m and of 3° and 5 % of the leg, stakes where the legs lead.
    const shapes = (name: string): PdfPath[] =>
      (setter[0]?.paths ?? []).filter(({ groups }) => groups.includes(name));
    const scale = Number(/Plan 1:(\d+)/.exec(text(setter).replace(/(\d) (\d{3})/g, "$1$2"))?.[1]);
    const rings = shapes("rings").map(({ parts }) => boxOf(parts[0] ?? new Float64Array()));
    const m = legs[0]?.m ?? NaN;
    const ringM = 2 + m * Math.hypot(Math.tan(3 * RAD), 0.05);
    expect(rings.map(({ radius }) => radius * (scale / 1000))).toEqual([
      expect.closeTo(2, 1),
      expect.closeTo(ringM, 1),
      expect.closeTo(ringM, 1),
    ]);
    legs.slice(0, -1).forEach((leg, i) => {
      const [a, b] = [rings[i], rings[i + 1]];
      const [east, north] = end([leg]);
      expect(((b?.x ?? NaN) - (a?.x ?? NaN)) * (scale / 1000)).toBeCloseTo(east, 1);
      expect(((a?.y ?? NaN) - (b?.y ?? NaN)) * (scale / 1000)).toBeCloseTo(north, 1);
    });

    // Out and back: the learner's bearings back are those out turned about, in reverse order.
    await part(page, "field-shape").selectOption("return");
    await pick(page, "field-stakes", "4");
    await until(
      async () => (await part(page, "field-picture").locator(".field-ring").count()) === 4,
      "four stakes",
    );
    const back = legsIn(text((await savePdf(page, walksFolder, "back.pdf")).slice(0, 1)));
    expect(back).toHaveLength(6);
    back.slice(0, 3).forEach(({ deg, m: far }, i) => {
      expect(back[5 - i]).toEqual({ deg: (deg + 180) % 360, m: far });
    });

    // A leg of 100 m: 5 m beyond is 5 %; 10 m short and 10 m left is atan(10/90) = 6.3°, and √(90² + 10²) = 90.6 m.
    await part(page, "field-score").click();
    await part(page, "score-of").selectOption("own");
    await pick(page, "score-beyond-1", "5");
    expect(await textOf(page, "score-1")).toMatch(/on it5\.0 % too far5\.0 m$/);
    await pick(page, "score-beyond-1", "-10");
    await pick(page, "score-aside-1", "-10");
    expect(await textOf(page, "score-1")).toMatch(/6\.3° left9\.4 % too short14\.1 m$/);
    await pick(page, "score-aside-1", "left");
    expect(await textOf(page, "entry-fault")).toContain("not a number");
    await part(page, "score-aside-1").press("Escape");
    await part(page, "score-of").selectOption("field");
    await pick(page, "score-aside-1", "1");
    await pick(page, "score-aside-2", "3");
    const off = back.slice(0, 2).map(({ m: far }, i) => Math.atan2([1, 3][i] as number, far) / RAD);
    const mean = ((off[0] ?? NaN) + (off[1] ?? NaN)) / 2;
    expect(await textOf(page, "score-mean")).toContain(`Mean of 2${mean.toFixed(1)}° right, spread`);
    await part(page, "score-close").click();
    await part(page, "print-close").click();
    expect(await page.locator("dialog[open]").count()).toBe(0);
    watch.check();
  } finally {
    await window.close();
    rmSync(empty, { recursive: true, force: true });
  }
}, 240_000);

function boxOf(part: Float64Array): { readonly x: number; readonly y: number; readonly radius: number } {
  const xs = part.filter((_, i) => i % 2 === 0);
  const ys = part.filter((_, i) => i % 2 === 1);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  return { x: (x0 + x1) / 2, y: (y0 + y1) / 2, radius: (x1 - x0) / 2 };
}
