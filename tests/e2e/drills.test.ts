/** Practice as a person does it: questions answered on the screen, then the same on paper; answers worked out from the key's own coordinates. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { pdfLines, type PdfPage, readPdfPages } from "../support/pdf-reader.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, clickMap, part, plain, textOf } from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const asked = async ({ page }: TestWindow, kind: RegExp): Promise<void> =>
  await until(
    async () => kind.test(plain((await part(page, "drill-ask").allTextContents()).join())),
    String(kind),
  );

async function savePdf(window: TestWindow, button: string, name: string): Promise<PdfPage[]> {
  const { page } = window;
  await part(page, button).click();
  await page.getByLabel("File name").fill(name);
  await page.getByRole("button", { name: "Save", exact: true }).last().click();
  await until(
    async () => (await textOf(page, "drill-print-said")).includes(`${name} is written`),
    "the PDF",
    60_000,
  );
  return readPdfPages(readFileSync(join(window.walksFolder, name)));
}

/** Eastings and northings of a reference of MGRS to the metre. */
const figures = (reference: string): readonly [number, number] => {
  const digits = reference.replace(/^\d+[A-Z]\s*[A-Z]{2}\s*/, "").split(/\s+/);
  return [Number(digits[0]), Number(digits[1])];
};

test("questions are answered and judged, others chosen, and sheet and key go to paper", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await clickMap(page, 0.4, 0.5);
    await clickMap(page, 0.55, 0.4);
    await choose(page, "tools-menu", "Map practice");
    await part(page, "drill-screen").waitFor();
    await asked(window, /Measure the grid bearing from 1A to 1B/);
    await until(
      async () => (await part(page, "drill-piece").locator("svg").count()) === 1,
      "the piece of map",
      60_000,
    );
    // What cannot be an answer is not judged; a wrong one is told how far off it is.
    await part(page, "drill-answer").fill("north");
    await part(page, "drill-check").click();
    expect(await textOf(page, "drill-said")).toMatch(/No answer can be read/);
    expect(await part(page, "drill-solution").count()).toBe(0);

    // The crosses on the screen, measured in the picture itself.
    const arms = await part(page, "drill-piece").locator('svg g[data-name="marks"]').innerHTML();
    const [a, b] = crossesIn(arms);
    const measured = ((Math.atan2(b[0] - a[0], a[1] - b[1]) * 180) / Math.PI + 360) % 360;
    await part(page, "drill-answer").fill(String(Math.round(measured)));
    await page.keyboard.press("Enter");
    expect(await textOf(page, "drill-said")).toMatch(/^Right: off by 0\.\d°\.$/);
    expect(await textOf(page, "drill-solution")).toMatch(/Right within 2°\..*How it is found/);
    expect(await textOf(page, "drill-tally")).toContain("1 of 1 right");

    // Bearings back alone: the sum is done by hand.
    await part(page, "drill-none").click();
    await until(async () => /No kind of question/.test(await textOf(page, "drill-fault")), "the reason");
    await part(page, "drill-back").check();
    await part(page, "drill-number").fill("3");
    await part(page, "drill-number").press("Enter");
    await asked(window, /On which bearing do you come back/);
    await until(async () => (await textOf(page, "drill-count")) === "Question 1 of 3", "three questions");
    const given = Number(/bearing of (\d{3})°/.exec(await textOf(page, "drill-ask"))?.[1]);
    await part(page, "drill-answer").fill(String((given + 190) % 360));
    await part(page, "drill-check").click();
    expect(await textOf(page, "drill-said")).toBe("Not right: off by 10°.");
    await part(page, "drill-next").click();
    expect(await textOf(page, "drill-count")).toBe("Question 2 of 3");
    await part(page, "drill-number").fill("300");
    await part(page, "drill-number").press("Enter");
    expect(await textOf(page, "entry-fault")).toMatch(/from 1 to 60/);
    await part(page, "drill-number").press("Escape");

    // Distances around the walk, then on paper: the sheet asks, the key tells where the marks stand.
    await part(page, "drill-back").uncheck();
    await part(page, "drill-distance").check();
    await part(page, "drill-place").selectOption("walk");
    await part(page, "drill-scale").fill("1:10000");
    await part(page, "drill-scale").press("Enter");
    await asked(window, /How far is it from 1A to 1B.*1:10,000/);
    const onScreen = await textOf(page, "drill-ask");
    const sheet = await savePdf(window, "drill-sheet", "practice.pdf");
    const key = await savePdf(window, "drill-key", "practice-key.pdf");
    const text = (pages: readonly PdfPage[]): string => plain(pages.flatMap(pdfLines).join(" "));
    // The window writes by the person's locale, paper as the SI brochure has it.
    expect(text(sheet)).toContain(onScreen.replace("1:10,000", "1:10 000"));
    expect(text(sheet)).not.toMatch(/The ruler shows/);
    const [, first, second] =
      /1A: (\d+[A-Z] [A-Z]{2} \d+ \d+); 1B: (\d+[A-Z] [A-Z]{2} \d+ \d+)/.exec(text(key)) ?? [];
    const [[e0, n0], [e1, n1]] = [figures(first ?? ""), figures(second ?? "")];
    const told = Number(/([\d ]+) m Right within 10 m/.exec(text(key))?.[1]?.replaceAll(" ", "").slice(-4));
    // Coordinates to the metre, and the grid's scale of at most 0.04 %.
    expect(Math.abs(Math.hypot(e1 - e0, n1 - n0) - told)).toBeLessThan(3);
    const labels = sheet[0]?.texts
      .filter(({ groups }) => groups.includes("mark-labels"))
      .map(({ text: one }) => one);
    expect(labels).toEqual(expect.arrayContaining(["1A", "1B"]));
    await page.keyboard.press("Escape");
    expect(await page.locator("dialog[open]").count()).toBe(0);

    // Drift trials in the settings: by hand, 5 m and 3 m right in 100 m are 2.86° and 1.72°, their root mean square 2.4°.
    await page.keyboard.press("Control+,");
    await part(page, "sheet-odds").click();
    for (const aside of ["5 m", "3 m"]) {
      await part(page, "drift-distance").fill("100 m");
      await part(page, "drift-aside").fill(aside);
      await part(page, "drift-add").click();
    }
    expect(await textOf(page, "drift-trials")).toMatch(/100 m, from mark to mark: 5 m right/);
    expect(await textOf(page, "drift-found-marks")).toMatch(/2 trials: off by 2\.4° .*hardly show a spread/);
    await part(page, "drift-use-marks").click();
    expect(await part(page, "aid-driftDeg").inputValue()).toBe("4.7°");
    await part(page, "drift-aside").fill("200 m");
    await part(page, "drift-add").click();
    expect(await textOf(page, "entry-fault")).toMatch(/another bearing/);
  });
}, 240_000);

/** Middles of crosses from their SVG: the upright arm's x and the flat arm's y, in pairs. */
function crossesIn(svg: string): readonly [readonly [number, number], readonly [number, number]] {
  const numbers = [...svg.matchAll(/ d="([^"]+)"/g)].flatMap(([, d]) =>
    [...(d ?? "").matchAll(/-?\d+(?:\.\d+)?/g)].map(([figure]) => Number(figure)),
  );
  const arm = (k: number): readonly number[] => numbers.slice(4 * k, 4 * k + 4);
  const middle = (k: number): readonly [number, number] => [arm(2 * k + 1)[0] ?? NaN, arm(2 * k)[1] ?? NaN];
  return [middle(0), middle(1)];
}
