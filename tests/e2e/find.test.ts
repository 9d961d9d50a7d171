import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import {
  choose,
  flags,
  openNamed,
  part,
  plain,
  pointsFile,
  pointsIn,
  putFile,
  readWalk,
  saveAs,
  textOf,
} from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const field = (page: Page) => part(page, "find-field");
const said = (page: Page): Promise<string> => textOf(page, "find-said");

async function find(page: Page, text: string): Promise<void> {
  if ((await field(page).count()) === 0) await page.keyboard.press("Control+f");
  await field(page).fill(text);
}

/** Middle of the mark on the screen. */
async function markAt(page: Page): Promise<{ x: number; y: number }> {
  const box = await part(page, "found-mark").boundingBox();
  if (!box) throw new Error("There is no mark.");
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

// Leg of 841.645 m on 187.88719328° true by GeodSolve of GeographicLib 2.1.2: see draw-walk.test.ts.
const FROM = [-133.1925, 46.3418] as const;
const TO = [-133.194, 46.3343] as const;

describe("finding a place", () => {
  test("by keyboard alone: typed, understood, gone to, added, left", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      // printf '46.3343 -133.1940' | GeoConvert -m -p 0 and -u -p 0 and -d -p 1, GeographicLib 2.1.2.
      await find(page, "46.3343 -133.1940");
      expect(await said(page)).toBe("Read as latitude and longitude in degrees.");
      expect(await textOf(page, "place-mgrs")).toBe("08T PS 38997 32776");
      expect(await textOf(page, "place-utm")).toBe("8 north 638997 5132777");
      expect(await textOf(page, "place-dms")).toBe("46° 20′ 03.5″ N 133° 11′ 38.4″ W");
      await until(async () => /^\d+ m$/.test(await textOf(page, "place-height")), "the height");
      expect(await part(page, "found-mark").count()).toBe(0);
      await page.keyboard.press("Enter");
      await until(async () => (await part(page, "found-mark").count()) === 1, "the mark");
      // Neither a panel nor the slip covers it.
      const at = await markAt(page);
      expect(
        await page.evaluate(
          ({ x, y }) => document.elementFromPoint(x, y)?.closest(".found-mark") !== null,
          at,
        ),
      ).toBe(true);
      await page.keyboard.press("Shift+Enter");
      expect(await flags(page).count()).toBe(1);
      expect(await said(page)).toContain("Point A is put there.");
      await page.keyboard.press("Escape");
      expect(await part(page, "find-slip").count()).toBe(0);
      await saveAs(page, "found");
      expect(pointsIn(readWalk(window, "found.walk.geojson"))).toEqual([[-133.194, 46.3343]]);
    });
  });

  test("a leg typed from a point ends where GeodSolve has it", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      putFile(window, "one.geojson", pointsFile([FROM]));
      await openNamed(page, "one.geojson");
      await until(async () => (await flags(page).count()) === 1, "the point");
      await find(page, "from A 187.88719328 true 841.645 m");
      expect(await said(page)).toBe("From A on 187.9° true for 841.645 m.");
      await page.keyboard.press("Shift+Enter");
      await page.keyboard.press("Escape");
      await saveAs(page, "leg");
      const [, end] = pointsIn(readWalk(window, "leg.walk.geojson"));
      // 1e-7° is a centimetre.
      expect(Math.abs(end![0] - TO[0])).toBeLessThan(2e-7);
      expect(Math.abs(end![1] - TO[1])).toBeLessThan(2e-7);
    });
  });

  test("wrong, ambiguous or off the map: the reason and the remedy, and nothing moves", async () => {
    await inWindow(async ({ page }) => {
      const scale = await page.locator(".scale-bar").textContent();
      for (const [text, reason] of [
        ["91 N 10 E", /^Latitude 91° does not exist/],
        ["12 34", /may be latitude and longitude or a grid reference\. Write/],
        ["48Q UJ 1234 567", /figures/],
        ["Nowhere Hill", /such a name\. Write a name/],
        ["90 100 m", /no point for the leg to start from\. Put the first point/],
        ["47.3769 N 8.5417 E", /off the map, \d[\d ]+ km beyond its .*edge/],
      ] as const) {
        await find(page, text);
        expect(await said(page)).toMatch(reason);
        await page.keyboard.press("Enter");
        expect(await part(page, "found-mark").count()).toBe(0);
        expect(await page.locator(".scale-bar").textContent()).toBe(scale);
        expect(await flags(page).count()).toBe(0);
      }
    });
  });

  test("points and names of the map by their beginnings, chosen with the arrows; a reference shows its square", async () => {
    await inWindow(async ({ page }) => {
      await choose(page, "walk-menu", "Open the practice walk");
      await find(page, "lowder");
      const options = part(page, "find-slip").getByRole("option");
      await until(async () => (await options.count()) >= 3, "names of the map");
      const titles = (await options.allTextContents()).map(plain);
      expect(titles).toContain("Lowder Knott summit");
      expect(titles).toContain("Lowder fork point of the walk");
      await page.keyboard.press("ArrowDown");
      expect(await options.nth(1).getAttribute("aria-selected")).toBe("true");
      expect(await field(page).getAttribute("aria-activedescendant")).toBe(
        await options.nth(1).getAttribute("id"),
      );
      await find(page, "Lowder fork");
      await page.keyboard.press("Enter");
      await until(
        async () => (await flags(page).nth(1).getAttribute("aria-pressed")) === "true",
        "the point picked",
      );

      // The square of a kilometre is drawn as large as the scale bar says.
      await find(page, "08T PS 39 32");
      await page.keyboard.press("Enter");
      await until(async () => (await part(page, "found-mark").count()) === 1, "the mark");
      const width = await part(page, "found-mark").evaluate((mark) => (mark as HTMLElement).offsetWidth);
      const bar = await page.locator(".scale-line").evaluate((line) => line.getBoundingClientRect().width);
      const barM = Number(/^(\d+)\u00a0m/.exec((await page.locator(".scale-bar").textContent()) ?? "")?.[1]);
      expect(Math.abs(width / bar - 1000 / barM)).toBeLessThan(0.05);
    });
  });

  test("the mark adds the very place; Escape takes a mark away", async () => {
    await inWindow(async ({ page }) => {
      await find(page, "46.335 -133.18");
      await page.keyboard.press("Enter");
      await page.keyboard.press("Escape");
      await part(page, "found-mark").click();
      expect(await flags(page).count()).toBe(1);
      expect(await part(page, "found-mark").count()).toBe(0);
      await find(page, "46.336 -133.18");
      await page.keyboard.press("Enter");
      await page.keyboard.press("Escape");
      expect(await part(page, "found-mark").count()).toBe(1);
      await page.keyboard.press("Escape");
      expect(await part(page, "found-mark").count()).toBe(0);
    });
  });

  test("the notation chosen is the one under the pointer, and it is kept", async () => {
    await inWindow(async ({ page }) => {
      await choose(page, "view-menu", "UTM");
      const map = (await page.locator(".free-map").boundingBox())!;
      await page.mouse.move(map.x + map.width / 2, map.y + map.height / 2);
      await until(async () => /^8 north \d{6} \d{7}$/.test(await textOf(page, "read-out-place")), "UTM");
      await find(page, "46.335 -133.18");
      await page.getByRole("radio", { name: /^Degrees 46/ }).check();
      await page.mouse.move(map.x + map.width - 60, map.y + 60);
      await until(
        async () => /^46\.\d+° N 133\.\d+° W$/.test(await textOf(page, "read-out-place")),
        "degrees",
      );
      await page.reload();
      await until(async () => (await page.locator(".map-edge").count()) === 1, "the window again");
      await page.mouse.move(map.x + map.width / 2, map.y + map.height / 2);
      await until(async () => /^46\.\d+° N/.test(await textOf(page, "read-out-place")), "degrees kept");
    });
  });

  test("how it was worked out: convergence and scale factor are GeoConvert's", async () => {
    await inWindow(async ({ page }) => {
      await find(page, "46.3343 -133.1940");
      await page.getByText("How this was worked out").click();
      // printf '46.3343 -133.1940' | GeoConvert -c -p 6: 1.30663 and 0.999837.
      expect(await textOf(page, "place-how")).toMatch(/convergence 1\.307° E .*scale factor 0\.999837\./);
    });
  });

  test("at 700 px and by night the slip leaves room for the place found", async () => {
    await inWindow(
      async ({ page }) => {
        await choose(page, "view-menu", "Night");
        await find(page, "46.335 -133.18");
        await page.keyboard.press("Enter");
        await until(async () => (await part(page, "found-mark").count()) === 1, "the mark");
        const at = await markAt(page);
        expect(
          await page.evaluate(
            ({ x, y }) => document.elementFromPoint(x, y)?.closest(".found-mark") !== null,
            at,
          ),
        ).toBe(true);
        const slip = (await part(page, "find-slip").boundingBox())!;
        expect(slip.x).toBeGreaterThanOrEqual(0);
        expect(slip.x + slip.width).toBeLessThanOrEqual(700);
      },
      { width: 700, height: 800 },
    );
  });
});
