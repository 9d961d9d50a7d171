/**
 * Reading the ground, as a person does it on the sample map. The figures checked against were worked out outside the
 * project: the sample map's terrain tiles put together and brought to its grid of 12 m (gdalwarp -tr 12 12 -r bilinear,
 * EPSG:32608), then gdaldem slope and gdal_viewshed -oz 1.6 -tz 0 -om GROUND (GDAL 3.6.2), and GeodSolve (GeographicLib 2.1.2).
 */
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { atRest } from "./support/at-rest.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, openNamed, part, plain, pointsFile, putFile, textOf, untilLegs } from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

/** The summit of the walk's third point. */
const KNOTT = [-133.1878242, 46.3305435] as const;
/** 800 m from it on 14.42° true: GeodSolve -p 2. */
const ON_14 = [-133.1852369, 46.3375161] as const;
/** gdaldem: 38.9°; the steepest ground of the sheet. */
const STEEP = [-133.1580236, 46.337007] as const;
const STEEP_DEG = 38.9;
/** GeodSolve -i from KNOTT, degrees true and metres; the declination is about 15.3° E there (see sample-maps/README.md). */
const FROM_KNOTT = { "Toft Howe": [248.448, 4325], "Fallow Knott": [12.423, 4794] } as const;
const DECLINATION = 15.3;
/** gdal_viewshed from KNOTT: to see their ground 0 to 0.3 m are missing at the first, 20 m and more at the others. */
const SEEN = [
  "Hagg Rigg",
  "Great Thorrow",
  "Fallow Knott",
  "Stanner Pike",
  "Gorse Law",
  "Pell Nab",
  "Swinnel",
  "Toft Howe",
];
const HIDDEN = ["Wescar", "Hest Rigg"];

/** Brings a place to the middle of the map by the find slip, and leaves the slip. */
async function goTo(page: Page, [lon, lat]: readonly [number, number]): Promise<{ x: number; y: number }> {
  await page.keyboard.press("Control+f");
  await part(page, "find-field").fill(`${lat} ${lon}`);
  await page.keyboard.press("Enter");
  await until(async () => (await part(page, "found-mark").count()) === 1, "the mark");
  await page.keyboard.press("Escape");
  const box = await part(page, "found-mark").boundingBox();
  if (!box) throw new Error("There is no mark.");
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

const degreesIn = (text: string): number => Number(/([\d.]+)°/.exec(text)?.[1] ?? Number.NaN);

async function twoPoints(page: Page, window: Parameters<typeof putFile>[0]): Promise<void> {
  putFile(window, "knott.geojson", pointsFile([KNOTT, ON_14]));
  await openNamed(page, "knott.geojson");
  await untilLegs(page, 1);
}

/** A piece of the map as it looks. */
const look = async (page: Page, { x, y }: { x: number; y: number }): Promise<string> =>
  (await page.screenshot({ clip: { x: x - 45, y: y - 45, width: 30, height: 30 } })).toString("base64");

describe("slope shading", () => {
  test("by key and by menu: covers what gdaldem has as steep, leaves the gentle bare, and says what it means", async () => {
    await inWindow(async ({ page }) => {
      const steep = await goTo(page, STEEP);
      await page.mouse.move(steep.x + 200, steep.y);
      const place = { x: steep.x + 30, y: steep.y + 30 };
      const bare = await atRest(page, () => look(page, place), "the map at rest");
      await page.keyboard.press("Control+Shift+g");
      await until(async () => (await part(page, "slope-legend").count()) === 1, "the legend");
      const legend = plain(await part(page, "slope-legend").textContent());
      for (const text of ["15–20°", "20–25°", "25–30°", "30–35°", "35–40°", "from 40°"])
        expect(legend).toContain(text);
      expect(legend).toContain("short steep steps");
      expect(legend).toContain("12 m apart");
      await until(async () => (await look(page, place)) !== bare, "the steep ground to be shaded");
      await choose(page, "view-menu", "Take the slope shading away");
      await until(async () => (await look(page, place)) === bare, "the shading to go");
      expect(await part(page, "slope-legend").count()).toBe(0);
    });
  });

  test("leaves ground bare that gdaldem has as gentle", async () => {
    await inWindow(async ({ page }) => {
      // gdaldem: 4.5° at 46.34 N 133.20 W.
      const gentle = await goTo(page, [-133.2, 46.34]);
      await page.mouse.move(gentle.x + 200, gentle.y);
      const at = { x: gentle.x + 30, y: gentle.y + 30 };
      const before = await atRest(page, () => look(page, at), "the map at rest");
      await page.keyboard.press("Control+Shift+g");
      await until(async () => (await part(page, "slope-legend").count()) === 1, "the legend");
      await page.waitForTimeout(1500);
      expect(await look(page, at)).toBe(before);
    });
  });
});

test("without terrain heights the shading says why it cannot be had, and the ground why it has no name", async () => {
  const folder = mkdtempSync(join(tmpdir(), "legwright-flat-"));
  try {
    copyFileSync(
      fileURLToPath(new URL("../../sample-maps/uldermoor.pmtiles", import.meta.url)),
      join(folder, "uldermoor.pmtiles"),
    );
    await inWindow(
      async ({ page }) => {
        await part(page, "view-menu").click();
        const item = page.locator('[role="menuitem"]', { hasText: "Shade the ground by slope" });
        expect(await item.getAttribute("aria-disabled")).toBe("true");
        expect(await item.getAttribute("title")).toContain("no terrain heights");
        await page.keyboard.press("Escape");
        await page.keyboard.press("Control+Shift+g");
        expect(await part(page, "slope-legend").count()).toBe(0);
        await page.mouse.click(400, 300, { button: "right" });
        await until(async () => (await part(page, "ground-why").count()) === 1, "the ground");
        expect(await textOf(page, "ground-height")).toBe("not known here");
      },
      { sampleFolder: folder },
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

describe("what is this ground?", () => {
  test("a right click names the ground, gives its figures, and Escape puts the slip away", async () => {
    await inWindow(async ({ page }) => {
      const at = await goTo(page, STEEP);
      // Beside the mark, which is a button.
      await page.mouse.click(at.x + 18, at.y, { button: "right" });
      await until(async () => (await part(page, "ground-slope").count()) === 1, "the ground");
      expect(await textOf(page, "ground-place")).toMatch(/^08T PS \d{5} \d{5}$/);
      expect(await textOf(page, "ground-why")).toMatch(/\.$/);
      expect(await part(page, "fan").count()).toBe(1);
      // No point was drawn by it.
      expect(await page.locator(".flag").count()).toBe(0);
      await page.mouse.move(at.x + 200, at.y);
      await page.keyboard.press("Escape");
      expect(await part(page, "place-slip").count()).toBe(0);
    });
  });

  test("by key: the ground under the pointer, with gdaldem's slope there", async () => {
    await inWindow(async ({ page }) => {
      const at = await goTo(page, STEEP);
      await page.mouse.move(at.x + 40, at.y);
      await page.mouse.move(at.x, at.y);
      await page.keyboard.press("Control+g");
      await until(async () => (await part(page, "ground-slope").count()) === 1, "the ground");
      expect(Math.abs(degreesIn(await textOf(page, "ground-slope")) - STEEP_DEG)).toBeLessThanOrEqual(2);
      await until(
        async () => await page.evaluate(() => document.activeElement?.matches(".place-slip") === true),
        "the slip to have the keyboard",
      );
      await page.keyboard.press("Escape");
      expect(await part(page, "place-slip").count()).toBe(0);
    });
  });

  test("by keyboard alone: the context key asks at a point of the walk and under the cross", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await twoPoints(page, window);
      await page.locator(".flag").first().focus();
      await page.keyboard.press("ContextMenu");
      await until(async () => (await part(page, "ground-word").count()) === 1, "the ground");
      expect(await textOf(page, "place-slip")).toMatch(/^At A ?Lowder Knott, hill/);
      await page.keyboard.press("Escape");
      expect(await part(page, "place-slip").count()).toBe(0);
      // Back where one came from.
      expect(await page.evaluate(() => document.activeElement?.getAttribute("data-point"))).toBe("A");
      await page.locator(".maplibregl-canvas").focus();
      await page.keyboard.press("ContextMenu");
      await until(async () => (await part(page, "ground-word").count()) === 1, "the ground");
      await until(
        async () => await page.evaluate(() => document.activeElement?.matches(".place-slip") === true),
        "the slip to have the keyboard",
      );
      await page.keyboard.press("Tab");
      await page.keyboard.press("Tab");
      await page.keyboard.press("Enter");
      await until(async () => (await part(page, "landmarks").count()) === 1, "the landmarks");
    });
  });

  test("a summit of the map is called a hill by its name, in the find slip too", async () => {
    await inWindow(async ({ page }) => {
      await page.keyboard.press("Control+f");
      await part(page, "find-field").fill("46.3305435 -133.1878242");
      await until(async () => (await part(page, "place-ground").count()) === 1, "the ground");
      expect(await textOf(page, "place-ground")).toBe("Lowder Knott, hill");
      expect(await textOf(page, "place-why")).toContain("falls in every direction");
      // The map's own spot height.
      expect(await textOf(page, "place-height")).toBe("404 m");
    });
  });
});

describe("landmarks in view", () => {
  test("from a summit: those gdal_viewshed sees, with GeodSolve's bearing and distance; the hidden and why; one ahead", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await twoPoints(page, window);
      await part(page, "leg-landmarks").click();
      const rows = page.locator("[data-landmark]");
      await until(async () => (await rows.count()) > 0, "landmarks");
      const names = await rows.evaluateAll((all) => all.map((one) => one.getAttribute("data-landmark")));
      expect(new Set(names)).toEqual(new Set(SEEN));
      for (const [name, [trueDeg, metres]] of Object.entries(FROM_KNOTT)) {
        const text = plain(await page.locator(`[data-landmark="${name}"]`).textContent());
        const magnetic = (trueDeg - DECLINATION + 360) % 360;
        expect(Math.abs(degreesIn(text) - magnetic)).toBeLessThanOrEqual(0.8);
        const km = Number(/([\d.]+) km/.exec(text)?.[1]);
        expect(Math.abs(km * 1000 - metres)).toBeLessThanOrEqual(6);
      }
      const list = await textOf(page, "landmarks");
      for (const name of HIDDEN) expect(list).toMatch(new RegExp(`${name} ?by ground at [\\d.]+ km`));
      expect(await textOf(page, "bare-earth")).toContain("trees, buildings and haze");
      // The leg goes on 14.42°, Fallow Knott lies on 12.42° true.
      expect(await textOf(page, "landmarks")).toContain("Nearly ahead on leg 1, 2° to the left");
      expect(await page.locator(".fan-line").count()).toBe(SEEN.length);
      expect(await page.locator(".fan-line.ahead").count()).toBe(1);
      await page.keyboard.press("Escape");
      expect(await page.locator(".fan-line").count()).toBe(0);
    });
  });

  test("by key from the picked point; they go with the point when it is moved", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await twoPoints(page, window);
      await page.locator(".flag").first().focus();
      await page.keyboard.press("Enter");
      await page.keyboard.press("Control+Shift+l");
      const place = (): Promise<string> => textOf(page, "ground-place");
      await until(async () => (await page.locator("[data-landmark]").count()) === SEEN.length, "landmarks");
      const before = await place();
      await page.locator(".flag").first().focus();
      await page.keyboard.press("ArrowUp");
      await until(async () => (await place()) !== before, "the place to move");
      await until(async () => (await page.locator("[data-landmark]").count()) > 0, "landmarks again");
    });
  });
});

describe("the leg's ground", () => {
  test("told in the slip, labelled on the ribbon, and pointed at on ribbon, map and slip alike", async () => {
    await inWindow(async ({ page }) => {
      await choose(page, "walk-menu", "Open the practice walk");
      await untilLegs(page, 10);
      for (let i = 0; i < 3; i++) await page.getByRole("button", { name: "Leg after" }).click();
      await until(async () => (await textOf(page, "slip")).includes("Leg 4, Saddle path"), "leg 4");
      await until(async () => (await part(page, "sight").count()) === 1, "what is in view");
      const steps = part(page, "on-the-way").locator("li");
      expect(await steps.count()).toBeGreaterThan(3);
      expect(await textOf(page, "sight")).toMatch(/^Merle bend is (in view|hidden by the ground at \d+ m)/);
      await page.locator('[data-ask="sight"]').click();
      expect(await textOf(page, "how")).toContain("trees, buildings and haze");
      await page.keyboard.press("Escape");
      // A form of the ground on the ribbon lights up its stretch on ribbon and map.
      const forms = page.locator(".crossings path.landform");
      expect(await forms.count()).toBeGreaterThan(0);
      await forms.first().hover();
      await until(async () => (await part(page, "map-stretch").count()) === 1, "the stretch on the map");
      expect(await part(page, "ribbon-stretch").locator("path").count()).toBeGreaterThan(0);
      await page.mouse.move(640, 300);
      await until(async () => (await part(page, "map-stretch").count()) === 0, "the stretch to go");
      // A step of the way points at both.
      await steps.nth(1).hover();
      await until(async () => (await page.locator(".place-mark").count()) === 1, "the mark on the map");
      expect(await page.locator(".ribbon-cursor").count()).toBe(1);
      // Contours are not among what is crossed.
      expect(plain(await page.locator(".crossing-list").textContent())).not.toContain("contour");
    });
  });

  test("no label of the ribbon lies on another", async () => {
    await inWindow(async ({ page }) => {
      await choose(page, "walk-menu", "Open the practice walk");
      await untilLegs(page, 10);
      await until(async () => (await page.locator(".crossings text.landform").count()) > 1, "landforms");
      const boxes = await page
        .locator(".crossings text")
        .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON() as DOMRect));
      expect(boxes.length).toBeGreaterThan(8);
      for (const [i, a] of boxes.entries())
        for (const b of boxes.slice(i + 1))
          expect(
            a.left < b.right - 1 && b.left < a.right - 1 && a.top + 4 < b.bottom && b.top + 4 < a.bottom,
          ).toBe(false);
    });
  });
});
