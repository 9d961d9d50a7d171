/** The window as a whole: themes, narrow windows, large text, names of controls. */
import { decode } from "fast-png";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { type InWindow, windowsOfThisFile } from "./support/in-window.ts";
import { choose, part, textOf, untilLegs } from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const withPracticeWalk = (
  options: Parameters<InWindow>[1],
  run: (window: TestWindow) => Promise<void>,
): Promise<void> =>
  inWindow(async (window) => {
    await choose(window.page, "walk-menu", "Open the practice walk");
    await until(
      async () => (await window.page.locator(".ribbon-leg").count()) > 7,
      "the practice walk",
      120_000,
    );
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

/** Contrast ratio of two colours as CSS computes them, by WCAG 2.2. */
function contrast(one: string, other: string): number {
  const luminance = (css: string): number => {
    const [r = 0, g = 0, b = 0] = (css.match(/[\d.]+/g) ?? []).map(Number).map((value) => {
      const share = value / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

const styleOf = (page: Page, selector: string, property: string): Promise<string> =>
  page.evaluate(
    ([wanted, name]) => {
      const element = document.querySelector(wanted);
      if (!element) throw new Error(`There is no ${wanted}.`);
      return getComputedStyle(element).getPropertyValue(name);
    },
    [selector, property] as const,
  );

/** WCAG 2.2, 1.4.11: what must be seen to understand or to use stands out by 3 to 1. */
const TELLS = 3;

test.each(["light", "dark"] as const)(
  "in the system's own %s colours what is chosen, ticked, focused and drawn is still told",
  async (colorScheme) => {
    await withPracticeWalk({ colorScheme }, async ({ page }) => {
      // A choice of the program's own gives way: its drawings must go with the system's paper.
      await choose(page, "view-menu", colorScheme === "light" ? /^Dark$/ : /^Light$/);
      await page.emulateMedia({ forcedColors: "active", colorScheme });
      await until(
        async () => (await page.locator("html").getAttribute("data-theme")) === colorScheme,
        "drawings to go with the system",
      );
      const paper = await styleOf(page, ".lower", "background-color");
      const told = async (what: string, colour: Promise<string>): Promise<void> =>
        expect(contrast(await colour, paper), what).toBeGreaterThanOrEqual(TELLS);
      await told("legs", styleOf(page, ".walk-leg", "stroke"));
      await told("the picked leg", styleOf(page, ".walk-picked-leg", "stroke"));
      await told("a flag", styleOf(page, ".flag-cloth", "background-color"));
      await told("the way on the compass", styleOf(page, ".compass-way", "stroke"));
      await told("the ground", styleOf(page, ".ground .line", "stroke"));
      await told("the picked leg on the ribbon", styleOf(page, ".ribbon-leg.picked rect", "stroke"));
      await told("the panel that is shown", styleOf(page, '[data-test="show-ribbon"]', "background-color"));
      await part(page, "show-table").click();
      await told("the picked row", styleOf(page, "tr.picked td", "background-color"));
      await page.keyboard.press("Tab");
      await page.keyboard.press("Shift+Tab");
      await told("the focus", styleOf(page, ":focus-visible", "outline-color"));
      expect(
        Number.parseFloat(await styleOf(page, ":focus-visible", "outline-width")),
      ).toBeGreaterThanOrEqual(2);
      await page.keyboard.press("Control+,");
      await part(page, "settings").waitFor();
      await told("a ticked choice", styleOf(page, "[type=radio]:checked", "background-color"));
      expect(await styleOf(page, "[type=radio]:not(:checked)", "background-color")).toBe(paper);
    });
  },
);

test("with more contrast the map's lines are stronger, and nothing moves where less motion is asked for", async () => {
  await withPracticeWalk({}, async ({ page }) => {
    const contour = (): Promise<string> =>
      page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue("--contour"));
    const before = await contour();
    const picture = await page.screenshot();
    await page.emulateMedia({ contrast: "more" });
    await until(async () => (await contour()) !== before, "other colours");
    const brown = (png: Buffer): number =>
      shareOf(png, (r, g, b) => r < 170 && r > g && g > b && r - b > 50 && g > 50);
    await until(
      async () => brown(await page.screenshot()) > 1.2 * brown(picture),
      "darker contours on the map",
    );
    await page.emulateMedia({ contrast: "more", reducedMotion: "reduce" });
    expect(await styleOf(page, ".button", "transition-duration")).toBe("0s");
    await page.emulateMedia({ contrast: "no-preference", reducedMotion: "no-preference" });
    expect(await styleOf(page, ".button", "transition-duration")).toBe("0.12s");
  });
});

test("numbers are written as another country does when that is chosen, and typed either way", async () => {
  await withPracticeWalk({}, async ({ page }) => {
    const totals = (): Promise<string> => textOf(page, "totals");
    expect(await totals()).toContain("6.66 km");
    await choose(page, "view-menu", "Compass, pace");
    await part(page, "sheet-places").click();
    await part(page, "figure-locale").selectOption("de-DE");
    await until(async () => (await totals()).includes("6,66 km"), "a decimal comma");
    await part(page, "sheet-pace").click();
    const pace = part(page, "pace-flat");
    for (const typed of ["66.5", "66,5"]) {
      await pace.fill("65");
      await pace.press("Enter");
      await pace.fill(typed);
      await pace.press("Enter");
      expect(await pace.inputValue()).toBe("66,5");
    }
    await pace.fill("66.500");
    await pace.press("Enter");
    expect(await textOf(page, "entry-fault")).toContain("Write 66500 or 66,500.");
    await page.keyboard.press("Escape");
    await part(page, "settings-close").click();
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
