/** Finding oneself in other ways than by two bearings, as a person does it on the demo map: line, legs, back on track, things in view. */
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, flags, part, textOf } from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

/** The demo map's summit Lowder Knott, and the bunkhouse where its practice walk starts. */
const KNOTT = "Lowder Knott";
const BUNKHOUSE = "46.34169 -133.19225";

const way = async (page: Page, name: string): Promise<void> =>
  void (await part(page, "fix-way").selectOption(name));

async function spots(page: Page): Promise<string[]> {
  await until(async () => (await part(page, "fix-spots").locator("li").count()) > 0, "likely places");
  return part(page, "fix-spots").locator("li").allTextContents();
}

/** Metres between what a place says and where it should be, in the MGRS square that both lie in. */
function metresOff(text: string, eastingM: number, northingM: number): number {
  const [, e, n] = /08T PS (\d{5}) (\d{5})/.exec(text.replace(/\s/g, " ")) ?? [];
  return Math.hypot(Number(e) - eastingM, Number(n) - northingM);
}

test("legs walked, a line and a bearing, back on track, things in view", async () => {
  await inWindow(async ({ page }) => {
    await choose(page, "tools-menu", "Where am I");

    // Legs: 650 paces of 65 to 100 m are 1000 m; grid bearings are along the axes of UTM, whose scale is 0.9998 here.
    await way(page, "reckon");
    expect(await textOf(page, "fix-said")).toMatch(/A start and a leg/);
    await part(page, "fix-from").fill("8 north 638000 5133000");
    await part(page, "fix-leg-bearing-1").fill("90");
    await part(page, "fix-leg-north-1").selectOption("grid");
    await part(page, "fix-leg-length-1").fill("650");
    await until(async () => (await part(page, "fix-place").count()) === 1, "the place");
    expect(metresOff(await textOf(page, "fix-place"), 39_000, 33_000)).toBeLessThan(2);
    const ringsOfOne = await part(page, "fix-drawing").locator(".fix-ring").count();
    expect(ringsOfOne).toBeGreaterThan(4);
    await part(page, "fix-another-leg").click();
    await part(page, "fix-leg-bearing-2").fill("180");
    expect(await textOf(page, "fix-slip")).toContain("How far?");
    // A leg that cannot be read is not left out as if it had not been walked.
    expect(await part(page, "fix-place").count()).toBe(0);
    await part(page, "fix-leg-length-2").fill("500");
    await part(page, "fix-leg-unit-2").selectOption("m");
    await until(async () => (await part(page, "fix-place").count()) === 1, "the place");
    expect(metresOff(await textOf(page, "fix-place"), 39_000, 32_500)).toBeLessThan(2);
    expect(await textOf(page, "fix-legs")).toMatch(/Leg 1 1\.00 km walked.*Leg 2 1\.50 km walked/);
    // The ring at the end is the largest.
    await part(page, "fix-show").click();
    const sizes = await part(page, "fix-drawing")
      .locator(".fix-ring, .fix-ellipse")
      .evaluateAll((rings) => rings.map((ring) => ring.getBoundingClientRect().width));
    expect(Math.max(...sizes)).toBe(sizes.at(-1));
    await part(page, "fix-add").click();
    expect(await flags(page).count()).toBe(1);
    expect(await textOf(page, "fix-said")).toBe("Point A is put there.");

    // A line picked by its place, and one bearing.
    await way(page, "onLine");
    expect(await textOf(page, "fix-said")).toMatch(/A line, and a bearing/);
    await part(page, "fix-line").fill("46.3339 -133.1946");
    await until(async () => (await part(page, "fix-line-is").count()) === 1, "the line");
    expect(await textOf(page, "fix-line-is")).toBe("You stand on the Lowder Path.");
    // The same by keyboard: the keys go to the map, Enter takes the place under its cross, and the slip has them back.
    const typed = await part(page, "fix-line").inputValue();
    await part(page, "fix-pick-line").focus();
    await page.keyboard.press("Enter");
    await until(
      async () =>
        await page.locator("canvas.maplibregl-canvas").evaluate((at) => at === document.activeElement),
      "the map to have the keys",
    );
    await page.keyboard.press("Enter");
    await until(
      async () => (await part(page, "fix-line").inputValue()) !== typed,
      "the place under the cross",
    );
    expect(await part(page, "fix-line").inputValue()).toMatch(/^\d+\.\d{6} -\d+\.\d{6}$/);
    await until(
      async () => await part(page, "fix-pick-line").evaluate((at) => at === document.activeElement),
      "the slip to have the keys",
    );
    expect(await flags(page).count()).toBe(1);
    await part(page, "fix-line").fill(typed);
    await until(async () => (await part(page, "fix-line-is").count()) === 1, "the line again");
    await part(page, "fix-sight").fill("120");
    await part(page, "fix-sight-north").selectOption("true");
    await part(page, "fix-sight-known").fill(KNOTT);
    const onLine = await spots(page);
    expect(onLine.length).toBeGreaterThan(0);
    expect(onLine[0]).toMatch(/The bearing to Lowder Knott crosses the Lowder Path here at \d+°/);
    expect(await part(page, "fix-drawing").locator(".fix-spot").count()).toBe(onLine.length);
    // A height that no place on it has is told, and takes back with it.
    await part(page, "fix-more").click();
    await part(page, "fix-height").fill("900 m");
    await until(
      async () => /does not go with the height/.test(await textOf(page, "fix-slip")),
      "the height to disagree",
    );
    await part(page, "fix-height").fill("");

    // Back on track: picked on the map, from a walk that has one point.
    await way(page, "track");
    await part(page, "fix-from").fill(BUNKHOUSE);
    await part(page, "fix-leg-bearing-1").fill("190");
    await part(page, "fix-leg-north-1").selectOption("true");
    await part(page, "fix-leg-length-1").fill("570");
    for (const field of ["bearing", "length"]) await part(page, `fix-leg-${field}-2`).fill("");
    await part(page, "fix-sight").fill("");
    await part(page, "fix-sight-known").fill("");
    await part(page, "fix-stood-at").selectOption({ label: "path" });
    await part(page, "fix-next").fill(KNOTT);
    const track = await spots(page);
    expect(track[0]).toMatch(/of the chance.*end of your count.*times the usual error/);
    expect(await textOf(page, "fix-onward-1")).toMatch(/^To the next point: \d+° (mag|grid|true), \d+ m\.$/);
    // Marks go with the map when it moves.
    await part(page, "fix-show").click();
    const free = await page.locator(".free-map").boundingBox();
    const mark = await part(page, "fix-drawing").locator(".fix-spot.first circle").boundingBox();
    if (!free || !mark) throw new Error("There is no mark.");
    expect(mark.x > free.x && mark.x < free.x + free.width).toBe(true);
    await part(page, "fix-copy-1").click();
    expect(await textOf(page, "fix-said")).toMatch(/^08T PS \d{5} \d{5} is on the clipboard\.$/);

    // Things in view become known points by the keyboard alone.
    await way(page, "resect");
    await part(page, "fix-in-view").focus();
    await page.keyboard.press("Enter");
    await part(page, "fix-about").fill(BUNKHOUSE);
    await part(page, "fix-look").press("Enter");
    await until(async () => (await part(page, "fix-offered").count()) === 1, "things in view");
    const first = part(page, "fix-offered").locator("button").first();
    const name = (await first.textContent()) ?? "";
    await first.press("Enter");
    expect(await part(page, "fix-known-1").inputValue()).toBe(name);
    await until(
      () => part(page, "fix-bearing-1").evaluate((field) => field === document.activeElement),
      "the keyboard in the bearing",
    );
    await page.keyboard.type("200");
    expect(await part(page, "fix-bearing-1").inputValue()).toBe("200");
    await page.keyboard.press("Escape");
    expect(await part(page, "fix-slip").count()).toBe(0);
  });
});
