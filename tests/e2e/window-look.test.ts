/** The window as a whole: themes, narrow windows, large text, names of controls. */
import { decode } from "fast-png";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { type InWindow, windowsOfThisFile } from "./support/in-window.ts";
import { choose, part, untilLegs } from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const withPracticeWalk = (
  options: Parameters<InWindow>[1],
  run: (window: TestWindow) => Promise<void>,
): Promise<void> =>
  inWindow(async (window) => {
    await choose(window.page, "walk-menu", "Open the practice walk");
    await until(async () => (await window.page.locator(".ribbon-leg").count()) > 7, "the practice walk");
    await run(window);
  }, options);

/** Share of the pixels of a picture for which something holds. */
function shareOf(png: Buffer, holds: (r: number, g: number, b: number) => boolean): number {
  const { data, channels, width, height } = decode(png);
  let count = 0;
  for (let i = 0; i < data.length; i += channels)
    if (holds(data[i] ?? 0, data[i + 1] ?? 0, data[i + 2] ?? 0)) count++;
  return count / (width * height);
}

test("by night no green and no blue light leaves the window, the map, menus and dialogs included", async () => {
  await withPracticeWalk({}, async ({ page }) => {
    const allRed = async (what: string): Promise<void> => {
      await page.waitForTimeout(700);
      expect(
        shareOf(await page.screenshot(), (_, g, b) => g > 0 || b > 0),
        what,
      ).toBe(0);
    };
    await choose(page, "view-menu", "Night");
    await part(page, "walk-menu").click();
    await page.waitForTimeout(1_000);
    await allRed("the menu");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Control+f");
    await part(page, "find-field").fill("Lowder");
    await part(page, "place-mgrs").waitFor();
    await allRed("the find slip");
    await page.keyboard.press("Escape");
    for (const keys of ["Control+,", "Control+Shift+m"]) {
      await page.keyboard.press(keys);
      await allRed(keys);
      await page.keyboard.press("Escape");
    }
    await part(page, "show-table").click();
    await part(page, "map-button").click();
    await allRed("the table and the map case");
  });
});

test("dark comes with the system and can be had without", async () => {
  await withPracticeWalk({ colorScheme: "dark" }, async ({ page }) => {
    const bright = (png: Buffer): number => shareOf(png, (r, g, b) => r > 230 && g > 225 && b > 200);
    expect(bright(await page.screenshot())).toBeLessThan(0.1);
    await choose(page, "view-menu", /^Light$/);
    await page.waitForTimeout(1_500);
    expect(bright(await page.screenshot())).toBeGreaterThan(0.4);
  });
});

const overflows = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>(".paper, .bar > *, .lower-foot > *, .map-edge > *")]
      .filter((element) => {
        const { left, right, width } = element.getBoundingClientRect();
        // The drawer waits outside until it is pulled.
        const waiting =
          element.closest(".slip") !== null && getComputedStyle(element).visibility === "hidden";
        return width > 0 && !waiting && (left < -1 || right > innerWidth + 1);
      })
      .map((element) => element.className),
  );

test("in a narrow window the slip is a drawer and the ribbon one line; nothing sticks out", async () => {
  await withPracticeWalk({ width: 700, height: 900 }, async ({ page }) => {
    await untilLegs(page, await page.locator(".ribbon-leg").count());
    expect(await overflows(page)).toEqual([]);
    const ribbon = await part(page, "ribbon").boundingBox();
    expect(ribbon?.height).toBeLessThan(48);
    expect(await part(page, "bearing").isVisible()).toBe(false);
    await page.getByRole("button", { name: "Leg slip" }).click();
    await until(async () => await part(page, "bearing").isVisible(), "the drawer");
    await page.getByRole("button", { name: "Close the slip" }).click();
    await until(async () => !(await part(page, "bearing").isVisible()), "the drawer to close");
  });
});

test("at text of twice the size everything is still there and within the window", async () => {
  await withPracticeWalk({ width: 1280, height: 900 }, async (window) => {
    const { page } = window;
    const session = await window.context.newCDPSession(page);
    await session.send("Page.setFontSizes", { fontSizes: { standard: 32 } });
    await until(
      async () => (await page.evaluate(() => getComputedStyle(document.documentElement).fontSize)) === "32px",
      "large text",
    );
    await page.waitForTimeout(300);
    expect(await overflows(page)).toEqual([]);
    await page.getByRole("button", { name: "Leg slip" }).click();
    await until(async () => await part(page, "bearing").isVisible(), "the slip");
  });
});

test("every control has a name", async () => {
  await withPracticeWalk({}, async ({ page }) => {
    await part(page, "show-table").click();
    const nameless = await page.evaluate(() =>
      [
        ...document.querySelectorAll<HTMLElement>(
          "button, input, select, textarea, [role=button], [role=img], [tabindex='0']",
        ),
      ]
        .filter((element) => {
          const labels = "labels" in element ? [...((element as HTMLInputElement).labels ?? [])] : [];
          const name = [
            element.getAttribute("aria-label"),
            ...labels.map((label) => label.textContent),
            element.textContent,
          ];
          return !name.some((text) => text?.trim());
        })
        .map((element) => element.outerHTML.slice(0, 120)),
    );
    expect(nameless).toEqual([]);
  });
});
