import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { type InWindow, windowsOfThisFile } from "./support/in-window.ts";
import { choose, part, plain, textOf } from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const inSums: InWindow = (run, options) =>
  inWindow(async (window) => {
    await window.page.keyboard.press("Control+Shift+m");
    await until(async () => (await window.page.locator("dialog[open]").count()) === 1, "the sums");
    await run(window);
  }, options);

const fill = (page: Page, name: string, text: string): Promise<void> => part(page, `sum-${name}`).fill(text);
const value = async (page: Page, name: string): Promise<string> =>
  plain(await part(page, `sum-${name}`).inputValue());

describe("map sums", () => {
  test("scale, ruler and an edge of another scale, as one types", async () => {
    await inSums(async ({ page }) => {
      // USGS Survey Manual 800.2: one inch to 2000 feet is 1:24 000. By hand: 3.2 in is 6400 ft, 1950.72 m.
      await fill(page, "scale", "one inch equals 2000 feet");
      expect(await textOf(page, "sum-scale-how")).toMatch(/^1:24,000:/);
      expect(await textOf(page, "sum-per-inch")).toBe("2000 ft");
      await fill(page, "ruler", "3.2 in");
      expect(await textOf(page, "sum-to-ground")).toBe("1.951 km, 1.212 mi");
      expect(await textOf(page, "sum-to-ground-how")).toBe("81.28 mm × 24,000 = 1.951 km.");
      await fill(page, "compass", "1:25000");
      await fill(page, "reading", "1000 m");
      expect(await textOf(page, "sum-edge")).toBe("960 m, 3150 ft");
      // By hand: 3.425 km ÷ 137 mm is 25 000.
      await fill(page, "known-ground", "3.425 km");
      await fill(page, "known-ruler", "137 mm");
      expect(await textOf(page, "sum-found-scale")).toBe("1:25,000");
      await part(page, "sum-use-scale").click();
      expect(await value(page, "scale")).toBe("1:25,000");
      await fill(page, "scale", "1:0");
      expect(await textOf(page, "sum-scale-how")).toMatch(/no map scale\. Write a scale such as/);
      expect(await part(page, "sum-scale").getAttribute("aria-invalid")).toBe("true");
      expect(await textOf(page, "sum-to-ground")).toBe("–");
    });
  });

  test("slope: whichever blank is filled in, the others follow", async () => {
    await inSums(async ({ page }) => {
      // US Army EN5622, figure 1-2: 100 m over 1000 m is 10 %; degrees by the arctangent.
      await fill(page, "run", "1000 m");
      await fill(page, "rise", "100 m");
      expect([
        await value(page, "degrees"),
        await value(page, "percent"),
        await value(page, "ratio"),
      ]).toEqual(["5.7", "10.0", "10"]);
      await fill(page, "degrees", "45");
      expect(await value(page, "percent")).toBe("100.0");
      expect(await value(page, "rise")).toBe("1000 m");
      await fill(page, "run", "300 ft");
      expect(await value(page, "rise")).toBe("300 ft");
      await fill(page, "degrees", "95");
      expect(await textOf(page, "sum-slope-how")).toMatch(/95° does not exist/);
    });
  });

  test("norths at a place: the diagram is drawn to GeoConvert's convergence and the model's declination", async () => {
    await inSums(async ({ page }) => {
      // printf '46.3343 -133.1940' | GeoConvert -c -p 6: convergence 1.30663°.
      await fill(page, "place", "46.3343 -133.1940");
      await fill(page, "day", "2027-05-16");
      await fill(page, "bearing", "100");
      await part(page, "sum-north").selectOption("true");
      expect(await textOf(page, "sum-on-grid")).toBe("98.7° grid");
      const drawn = async (north: string): Promise<number> =>
        await page.locator(`line[data-north="${north}"]`).evaluate((line) => {
          const [x, y] = ["x2", "y2"].map((name) => Number(line.getAttribute(name)));
          return (Math.atan2(x!, -y!) * 180) / Math.PI;
        });
      expect(await drawn("true")).toBeCloseTo(0, 9);
      expect(await drawn("grid")).toBeCloseTo(1.30663, 4);
      const declination = Number(/Declination ([\d.]+)° E/.exec(await textOf(page, "sum-norths-how"))?.[1]);
      expect(declination).toBeGreaterThan(15);
      expect(Math.abs((await drawn("magnetic")) - declination)).toBeLessThan(0.006);
      const magnetic = Number(/^([\d.]+)° magnetic$/.exec(await textOf(page, "sum-on-magnetic"))?.[1]);
      expect(Math.abs(magnetic - (100 - declination))).toBeLessThan(0.06);
      expect(await textOf(page, "sum-rules")).toMatch(
        /Off the grid: map to compass: subtract .* compass to map: add/,
      );
      expect(plain(await part(page, "north-diagram").getAttribute("aria-label"))).toMatch(
        /grid north 1\.3° E of true north/,
      );
      await fill(page, "bearing", "400");
      expect(await textOf(page, "sum-bearing-how")).toMatch(/400° does not exist/);
      await fill(page, "place", "91 N 10 E");
      expect(await textOf(page, "sum-norths-fault")).toMatch(/Latitude 91° does not exist/);
    });
  });

  test("every label stands apart from the others, however small the angles", async () => {
    await inSums(async ({ page }) => {
      for (const place of ["51.5 -2.9", "47 8", "-45 170", "80 -100"]) {
        await fill(page, "place", place);
        await until(async () => (await part(page, "north-diagram").locator("g").count()) >= 3, place);
        const boxes = await page.locator('[data-test="north-diagram"] .north-ray').evaluateAll((rays) =>
          rays.map((ray) => {
            const texts = [...ray.querySelectorAll("text")].map((text) => text.getBoundingClientRect());
            return {
              left: Math.min(...texts.map((box) => box.left)),
              right: Math.max(...texts.map((box) => box.right)),
              top: Math.min(...texts.map((box) => box.top)),
              bottom: Math.max(...texts.map((box) => box.bottom)),
            };
          }),
        );
        expect(boxes.length).toBe(3);
        boxes.forEach((a, i) =>
          boxes.slice(i + 1).forEach((b) => {
            const meet = a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
            expect(meet, place).toBe(false);
          }),
        );
      }
    });
  });

  test("at 700 px and by night nothing is cut off; Escape leaves and gives the keyboard back", async () => {
    await inSums(
      async ({ page }) => {
        await page.keyboard.press("Escape");
        await until(async () => (await part(page, "sums").count()) === 0, "the sums to go");
        await choose(page, "view-menu", "Night");
        await choose(page, "tools-menu", "Map sums");
        await until(async () => (await page.locator("dialog[open]").count()) === 1, "the sums");
        const wide = await part(page, "sums").evaluate((sums) => sums.scrollWidth - sums.clientWidth);
        expect(wide).toBeLessThanOrEqual(0);
        expect(await part(page, "sum-scale").evaluate((blank) => blank === document.activeElement)).toBe(
          true,
        );
      },
      { width: 700, height: 800 },
    );
  });
});
