/**
 * Every screen under axe-core's rules (WCAG 2 A and AA and its good practices), in the themes, on a small screen and on a
 * large one of twice the pixels. A rule broken is told with its element, so that it can be found.
 */
import axe from "axe-core";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, part } from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

async function broken(page: Page): Promise<readonly string[]> {
  if (!(await page.evaluate(() => "axe" in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const { violations } = await (globalThis as unknown as { axe: typeof axe }).axe.run(document, {
      resultTypes: ["violations"],
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${node.target.join(" ")}: ${node.html}`),
    );
  });
}

const nothingBroken = async (page: Page, screen: string): Promise<void> =>
  expect(await broken(page), screen).toEqual([]);

/** The commands of the tools menu and of the walk menu that open something, and of what they open. */
const SCREENS: readonly (readonly [menu: "walk-menu" | "tools-menu" | "view-menu", name: string])[] = [
  ["tools-menu", "Where am I"],
  ["tools-menu", "Map practice"],
  ["tools-menu", "Map sums"],
  ["tools-menu", "Make a map"],
  ["tools-menu", "Layers of this map"],
  ["view-menu", "Compass, pace"],
  ["view-menu", "Before you rely on it"],
  ["walk-menu", "Bring in"],
  ["walk-menu", "Write for"],
  ["walk-menu", "Print"],
];

async function everyScreen(page: Page): Promise<void> {
  for (const [menu, name] of SCREENS) {
    await choose(page, menu, name);
    if (name === "Print")
      await until(
        async () => (await page.locator('[data-test="page-picture"] svg').count()) > 0,
        "a page",
        60_000,
      );
    else await page.waitForTimeout(500);
    await nothingBroken(page, name);
    await page.keyboard.press("Escape");
  }
  await part(page, "map-button").click();
  await part(page, "ways").waitFor();
  await nothingBroken(page, "the map case");
  await page.keyboard.press("Escape");
  await page.keyboard.press("Control+f");
  await part(page, "find-field").fill("Lowder");
  await part(page, "place-mgrs").waitFor();
  await nothingBroken(page, "the find slip");
  await page.keyboard.press("Escape");
}

const SHAPES = [
  { width: 1280, height: 800, themes: [/^Light$/, /^Dark$/] },
  { width: 2560, height: 1440, deviceScaleFactor: 2, themes: [/^Night/] },
] as const;

test.each(SHAPES)(
  "no rule is broken on any screen, $width wide",
  async ({ themes, ...shape }) => {
    await inWindow(async ({ page }) => {
      await nothingBroken(page, "an empty walk");
      await choose(page, "walk-menu", "Open the practice walk");
      await until(async () => (await page.locator(".ribbon-leg").count()) > 7, "the practice walk");
      for (const name of themes) {
        await choose(page, "view-menu", name);
        await nothingBroken(page, "the walk with its ribbon");
        for (const menu of ["walk-menu", "tools-menu", "view-menu"]) {
          await part(page, menu).click();
          await nothingBroken(page, menu);
          await page.keyboard.press("Escape");
        }
        await everyScreen(page);
      }
      await part(page, "show-table").click();
      await nothingBroken(page, "the leg table");
    }, shape);
  },
  240_000,
);
