/**
 * The whole program without a pointer: a walk planned and taken to paper, and every control of every screen reached by Tab,
 * each showing that it has the keyboard (WCAG 2.2, 2.1.1 and 2.4.7).
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { readPdfPages } from "../support/pdf-reader.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import { flags, part, textOf, untilLegs } from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

/** Presses Tab until the part has the keyboard. */
async function tabTo(page: Page, selector: string): Promise<void> {
  for (let i = 0; i < 200; i++) {
    if (await page.evaluate((wanted) => document.activeElement?.matches(wanted) ?? false, selector)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`${selector} is not reached by Tab.`);
}

const byTest = (name: string): string => `[data-test="${name}"]`;

/** Opens a menu by its button and goes down to a line of it. */
async function pickByKeys(page: Page, menu: string, name: RegExp): Promise<void> {
  await tabTo(page, byTest(menu));
  await page.keyboard.press("Enter");
  for (let i = 0; i < 60; i++) {
    const line = await page.evaluate(() => document.activeElement?.textContent ?? "");
    if (name.test(line)) return page.keyboard.press("Enter");
    await page.keyboard.press("ArrowDown");
  }
  throw new Error(`${menu} has no line like ${name}.`);
}

/** Opens the find box and waits until what is typed goes into it. */
async function openFind(page: Page): Promise<void> {
  await page.keyboard.press("Control+f");
  await until(
    async () =>
      page.evaluate((field) => document.activeElement?.matches(field) ?? false, byTest("find-field")),
    "the find box to have the keyboard",
  );
}

/** A leg is typed into the find box, and its end put into the walk. */
async function typeLeg(page: Page, text: string, legs: number): Promise<void> {
  await openFind(page);
  await page.keyboard.type(text);
  await page.keyboard.press("Shift+Enter");
  await untilLegs(page, legs);
  await page.keyboard.press("Escape");
}

test("a walk is planned, put in another order, saved and printed with the keyboard alone", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await tabTo(page, ".maplibregl-canvas");
    await page.keyboard.press("Enter");
    await until(async () => (await flags(page).count()) === 1, "a point under the cross");
    await typeLeg(page, "from A 247° magnetic 640 m", 1);
    expect(await textOf(page, "bearing")).toContain("247°");
    expect(await textOf(page, "distance")).toBe("640 m");
    await typeLeg(page, "from B 20° grid 500 m", 2);
    await typeLeg(page, "from C 120° true 0,7 km", 3);

    await tabTo(page, byTest("show-table"));
    await page.keyboard.press("Enter");
    await tabTo(page, 'tr[data-leg="2"] .row-handle');
    await page.keyboard.press("ArrowUp");
    await until(
      async () => (await part(page, "undo").getAttribute("aria-label")) === "Undo: Put C elsewhere",
      "the point in another place",
    );
    await page.keyboard.press("Control+z");
    await until(
      async () => (await part(page, "undo").getAttribute("aria-label")) !== "Undo: Put C elsewhere",
      "the order as it was",
    );

    await page.keyboard.press("Control+Shift+s");
    await page.getByLabel("File name").waitFor();
    await page.keyboard.press("Control+a");
    await page.keyboard.type("by keys");
    await page.keyboard.press("Enter");
    await until(async () => (await textOf(page, "saved-state")) === "saved", "the walk to be saved");

    await page.keyboard.press("Control+p");
    await part(page, "print-screen").waitFor();
    await until(
      async () => (await page.locator('[data-test="page-picture"] svg').count()) > 0,
      "a page",
      90_000,
    );
    await tabTo(page, byTest("save-pdf"));
    await page.keyboard.press("Enter");
    await page.getByLabel("File name").waitFor();
    await page.keyboard.press("Control+a");
    await page.keyboard.type("by-keys.pdf");
    await page.keyboard.press("Enter");
    await until(
      async () => (await textOf(page, "print-said")).includes("by-keys.pdf is written"),
      "the PDF",
      90_000,
    );
    expect(readPdfPages(readFileSync(join(window.walksFolder, "by-keys.pdf"))).length).toBeGreaterThan(1);
  });
}, 600_000);

/** What can have the keyboard in the dialog or slip that is open, else in the window, and is to be seen; of radios in a group one stands for all. */
const stopsOf = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const slips = ".corner-slip, .fix-slip, .find-slip";
    const layer =
      [...document.querySelectorAll<HTMLElement>("[role=dialog], dialog[open]")].at(-1) ??
      document.querySelector<HTMLElement>(slips) ??
      document.body;
    for (const old of document.querySelectorAll<HTMLElement>("[data-stop]")) delete old.dataset["stop"];
    const groups = new Set<string>();
    const seen: string[] = [];
    for (const element of layer.querySelectorAll<HTMLElement | SVGElement>(
      "a[href], button, input, select, textarea, summary, [tabindex]",
    )) {
      const name = element.getAttribute("name");
      const radio = element.matches("[type=radio]") && name !== null;
      if (element.matches(":disabled, [tabindex='-1'], [type=hidden]")) continue;
      if (!element.checkVisibility({ visibilityProperty: true })) continue;
      if (radio && groups.has(name)) continue;
      if (radio) groups.add(name);
      element.dataset["stop"] = String(seen.length);
      if (radio) element.dataset["stop"] = `${seen.length} group ${name}`;
      seen.push(`${element.dataset["stop"]}: ${element.outerHTML.slice(0, 120)}`);
    }
    return seen;
  });

/** Which stop has the keyboard, and whether anything about it shows that. */
const standing = (page: Page): Promise<{ readonly stop: string | null; readonly shows: boolean }> =>
  page.evaluate(() => {
    const element = document.activeElement as HTMLElement | null;
    if (!element || element === document.body) return { stop: null, shows: true };
    const look = (): string =>
      [element, ...element.querySelectorAll("*")]
        .map((one) => {
          const { outlineStyle, outlineWidth, boxShadow, stroke, strokeWidth, borderColor } =
            getComputedStyle(one);
          return [
            outlineStyle === "none" ? "" : outlineWidth,
            boxShadow,
            stroke,
            strokeWidth,
            borderColor,
          ].join();
        })
        .join("|");
    const name = element.getAttribute("name");
    const group =
      element.matches("[type=radio]") && name !== null
        ? document.querySelector<HTMLElement>(`[data-stop$="group ${CSS.escape(name)}"]`)
        : null;
    const having = look();
    const ring = getComputedStyle(element);
    const outlined = ring.outlineStyle !== "none" && Number.parseFloat(ring.outlineWidth) >= 2;
    // Within a native field its own parts show it, and leaving it would begin again at the first of them.
    if (outlined || element.matches("[type=date]"))
      return { stop: (group ?? element).dataset["stop"] ?? null, shows: outlined };
    element.blur();
    const without = look();
    element.focus({ preventScroll: true });
    return { stop: (group ?? element).dataset["stop"] ?? null, shows: having !== without };
  });

async function allReached(page: Page, screen: string): Promise<void> {
  // A screen may first have to look into the map.
  await until(async () => (await stopsOf(page)).length > 1, `the controls of ${screen}`);
  const stops = await stopsOf(page);
  const reached = new Set<string>();
  const shown = new Set<string>();
  // Round the whole window, and some more for stops inside of native fields such as a day's parts.
  const most =
    (await page.locator("a[href], button, input, select, textarea, summary, [tabindex]").count()) + 12;
  for (let i = 0; i < most && reached.size < stops.length; i++) {
    await page.keyboard.press("Tab");
    const { stop, shows } = await standing(page);
    if (stop === null) continue;
    reached.add(stop);
    if (shows) shown.add(stop);
  }
  const missed = stops.filter((stop) => !reached.has(stop.split(":")[0] ?? ""));
  expect(missed, `${screen}: not reached`).toEqual([]);
  expect(
    stops.filter((stop) => !shown.has(stop.split(":")[0] ?? "")),
    `${screen}: does not show that it has the keyboard`,
  ).toEqual([]);
}

const SCREENS: readonly (readonly [menu: string, name: RegExp])[] = [
  ["tools-menu", /^Where am I/],
  ["tools-menu", /^Practice courses/],
  ["tools-menu", /^Map practice/],
  ["tools-menu", /^Map sums/],
  ["tools-menu", /^Make a map/],
  ["tools-menu", /^Layers of this map/],
  ["view-menu", /^Compass, pace/],
  ["walk-menu", /beside/],
  ["walk-menu", /^Bring in/],
  ["walk-menu", /^Write for/],
];

test("every control of every screen is reached by Tab and shows it", async () => {
  await inWindow(async ({ page }) => {
    await pickByKeys(page, "walk-menu", /^Open the practice walk/);
    await untilLegs(page, 10);
    await allReached(page, "the plan with its ribbon");
    for (const [menu, name] of SCREENS) {
      await pickByKeys(page, menu, name);
      const layers = page.locator("[role=dialog], dialog[open], .corner-slip, .fix-slip");
      await layers.first().waitFor();
      await allReached(page, String(name));
      await page.keyboard.press("Escape");
      await until(async () => (await layers.count()) === 0, `${name} to be left by Escape`);
    }
    await openFind(page);
    await page.keyboard.type("Lowder");
    await until(async () => (await part(page, "place-mgrs").count()) > 0, "a place to be found");
    await allReached(page, "the find box");
    await page.keyboard.press("Escape");
    await tabTo(page, byTest("show-table"));
    await page.keyboard.press("Enter");
    await allReached(page, "the leg table");
  });
}, 600_000);
