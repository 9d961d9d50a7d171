/**
 * What helps a hand to draw: points caught by what is near, figures beside the pointer, lines of the grid and to magnetic
 * north. The summit's place is that of the map's own layer, read by the reference readers of PMTiles and MVT; the crossing of grid
 * lines 641 000 E 5 133 000 N (zone 8 N) is GeoConvert's (GeographicLib 2.1.2).
 */
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { metresBetween, RawMap, type Xy } from "../core/course/raw-map.ts";
import { atRest } from "./support/at-rest.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import {
  choose,
  flags,
  part,
  plain,
  pointsIn,
  readWalk,
  saveAs,
  textOf,
  untilLegs,
} from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const mark = async (page: Page): Promise<{ x: number; y: number }> => {
  const box = await part(page, "found-mark").boundingBox();
  if (!box) throw new Error("There is no mark.");
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
};

/** Goes to a place, near enough for its surroundings. @returns where its mark stands */
async function goTo(page: Page, [lon, lat]: Xy): Promise<{ x: number; y: number }> {
  await page.keyboard.press("Control+f");
  await part(page, "find-field").fill(`${lat} ${lon}`);
  for (let i = 0; i < 3; i++) await page.getByRole("button", { name: "Nearer" }).click();
  await part(page, "find-field").focus();
  await page.keyboard.press("Enter");
  await until(async () => (await part(page, "found-mark").count()) === 1, "the mark");
  await page.keyboard.press("Escape");
  const at = JSON.parse(
    await atRest(page, async () => JSON.stringify(await mark(page)), "the map at rest"),
  ) as {
    x: number;
    y: number;
  };
  // The mark is a button: a click on it would put a point at its place.
  await page.keyboard.press("Escape");
  await until(async () => (await part(page, "found-mark").count()) === 0, "the mark to go");
  return at;
}

const caught = (page: Page) => async (): Promise<boolean> => (await part(page, "catch").count()) === 1;

test("points are caught by a summit, left free with Shift, and dragged onto what is near", async () => {
  const raw = await RawMap.open(fileURLToPath(new URL("../../sample-maps/uldermoor", import.meta.url)));
  const peak = raw.features.find(({ role }) => role === "peak")?.parts[0]?.[0] as Xy;
  await inWindow(async (window) => {
    const { page } = window;
    const at = await goTo(page, peak);
    // Free: where the pointer is.
    await page.keyboard.down("Shift");
    await page.mouse.click(at.x - 12, at.y + 4);
    await page.mouse.click(at.x, at.y + 60);
    await page.keyboard.up("Shift");
    await page.mouse.move(at.x + 11, at.y + 4);
    await until(caught(page), "the summit to catch");
    await page.mouse.click(at.x + 11, at.y + 4);
    await untilLegs(page, 2);
    await saveAs(page, "caught");
    const [first, , third] = pointsIn(readWalk(window, "caught.walk.geojson")) as unknown as [Xy, Xy, Xy];
    expect(metresBetween(peak, first)).toBeGreaterThan(5);
    expect(metresBetween(peak, third)).toBeLessThan(0.1);

    // The second is dragged up to the summit, and goes to its very spot.
    const dot = await flags(page).nth(1).locator(".flag-dot").boundingBox();
    if (!dot) throw new Error("The point is not on the screen.");
    await page.mouse.move(dot.x + dot.width / 2, dot.y + dot.height / 2);
    await page.mouse.down();
    await page.mouse.move(at.x - 6, at.y + 20, { steps: 4 });
    await page.mouse.move(at.x - 6, at.y + 6, { steps: 3 });
    await until(caught(page), "the summit to catch what is dragged");
    await page.mouse.up();
    await page.keyboard.press("Control+s");
    await until(async () => (await textOf(page, "saved-state")) === "saved", "the walk to be saved");
    const [, second] = pointsIn(readWalk(window, "caught.walk.geojson")) as unknown as [Xy, Xy];
    expect(metresBetween(peak, second)).toBeLessThan(0.1);

    // Turned off, nothing catches.
    await choose(page, "view-menu", "Points catch on what is near");
    await page.mouse.move(at.x + 7, at.y + 7);
    await page.mouse.move(at.x + 6, at.y + 8);
    await page.waitForTimeout(400);
    expect(await part(page, "catch").count()).toBe(0);
  });
});

test("beside the pointer: bearing, distance and climb of the leg to be, as the leg has them once it is drawn", async () => {
  await inWindow(async ({ page }) => {
    const at = await goTo(page, [-133.194, 46.3343]);
    await page.keyboard.down("Shift");
    await page.mouse.click(at.x, at.y);
    const to = { x: at.x + 170, y: at.y - 95 };
    await page.mouse.move(to.x - 3, to.y);
    await page.mouse.move(to.x, to.y);
    await until(
      async () => /°.*m.*\+\d/.test(plain(await part(page, "rubber").textContent())),
      "figures with the climb",
    );
    await page.waitForTimeout(300);
    const told = plain(await part(page, "rubber").textContent());
    await page.mouse.click(to.x, to.y);
    await page.keyboard.up("Shift");
    await untilLegs(page, 1);
    const figures = [
      await textOf(page, "bearing"),
      await textOf(page, "distance"),
      await textOf(page, "climb"),
    ];
    await until(async () => (await textOf(page, "climb")) !== "–", "the climb");
    expect(told.startsWith(figures[0] as string)).toBe(true);
    expect(told).toContain(figures[1] as string);
    expect(told).toContain(`+${await textOf(page, "climb")}`);
  });
});

test("grid lines cross where GeoConvert has them, labelled clear of the panels; magnetic lines lean by the declination", async () => {
  await inWindow(async ({ page }) => {
    const at = await goTo(page, [-133.167923011, 46.335896267]);
    await choose(page, "view-menu", "Grid lines");
    await choose(page, "view-menu", "Lines to magnetic north");
    const overlay = part(page, "overlay");
    const label = (axis: string, value: number) =>
      overlay.locator(`[data-axis="${axis}"][data-value="${value}"]`);
    const step = (await label("easting", 641_000).count()) === 1;
    expect(step).toBe(true);
    expect(await label("northing", 5_133_000).textContent()).toMatch(/^(33|330)$/);
    const bars = await page.locator(".bars").boundingBox();
    const top = await label("easting", 641_000).boundingBox();
    expect(top?.y).toBeGreaterThanOrEqual((bars?.y ?? 0) + (bars?.height ?? 0) - 1);

    const d = (await overlay.locator(".overlay-grid").getAttribute("d")) ?? "";
    const lines = d
      .split("M")
      .slice(1)
      .map((line) => line.split("L").map((xy) => xy.split(" ").map(Number) as [number, number]));
    const nearest = lines
      .flatMap((line) => line.slice(1).map((b, i) => offPx(line[i] as [number, number], b, [at.x, at.y])))
      .sort((a, b) => a - b);
    // The crossing lies on two lines, within a pixel of the mark at its place.
    expect(nearest[1]).toBeLessThan(1.2);

    const magnetic = (await overlay.locator(".overlay-magnetic").getAttribute("d")) ?? "";
    const [a, b] = (magnetic.split("M")[1] ?? "")
      .split("L")
      .slice(0, 2)
      .map((xy) => xy.split(" ").map(Number)) as [[number, number], [number, number]];
    // The map's own figure stands in sample-maps/README.md: about 15.3° E.
    const lean = (Math.atan2(b[0] - a[0], a[1] - b[1]) * 180) / Math.PI;
    expect(Math.abs(lean - 15.3)).toBeLessThan(0.5);
  });
});

function offPx(
  [ax, ay]: readonly [number, number],
  [bx, by]: readonly [number, number],
  [x, y]: readonly [number, number],
) {
  const [dx, dy] = [bx - ax, by - ay];
  const f = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(ax + f * dx - x, ay + f * dy - y);
}
