/** What a person does in the window, for tests: puts away the cautions, clicks on the map, reads slip and table. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page } from "playwright-core";
import { type TestWindow, until } from "./window.ts";

/** Text as compared: spaces that keep figure and unit together become plain ones. */
export const plain = (text: string | null): string => (text ?? "").replace(/[\u00a0\u202f\s]+/g, " ").trim();

export const part = (page: Page, name: string): Locator => page.locator(`[data-test="${name}"]`);

export const textOf = async (page: Page, name: string): Promise<string> =>
  plain(await part(page, name).textContent());

/** Reads the cautions away and waits for the map that opens by itself. */
export async function settle({ page }: TestWindow): Promise<void> {
  await page.getByRole("button", { name: "Understood" }).click();
  await until(async () => (await part(page, "no-map").count()) === 0, "a map to open");
  await until(async () => (await page.locator(".map-edge").count()) === 1, "the map's edge");
}

/** Chooses a line of a menu. */
export async function choose(
  page: Page,
  menu: "walk-menu" | "tools-menu" | "view-menu",
  name: string | RegExp,
): Promise<void> {
  await part(page, menu).click();
  await page.locator('[role^="menuitem"]', { hasText: name }).click();
}

/** Middle of the map that no panel covers, and how far it reaches: clicks are given as shares of it, 0–1. */
export async function mapPlace(page: Page, x: number, y: number): Promise<{ x: number; y: number }> {
  const box = await page.locator(".free-map").boundingBox();
  if (!box) throw new Error("There is no free map.");
  return { x: box.x + x * box.width, y: box.y + y * box.height };
}

export async function clickMap(page: Page, x: number, y: number): Promise<void> {
  const place = await mapPlace(page, x, y);
  await page.mouse.click(place.x, place.y);
}

export const flags = (page: Page): Locator => page.locator(".flag");

/** Waits until the figures are those of so many legs. */
export async function untilLegs(page: Page, count: number): Promise<void> {
  await until(
    async () => (await page.locator(".ribbon-leg").count()) === count,
    `${count} legs on the ribbon`,
  );
}

/** The dot of a flag on the screen. */
export async function dotOf(page: Page, index: number): Promise<{ x: number; y: number }> {
  const box = await flags(page).nth(index).locator(".flag-dot").boundingBox();
  if (!box) throw new Error(`Point ${index} is not on the screen.`);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** The rows of the leg table, cell by cell. Opens the table when the ribbon is shown. */
export async function tableRows(page: Page): Promise<string[][]> {
  if ((await part(page, "leg-table").count()) === 0) await part(page, "show-table").click();
  const rows = part(page, "leg-table").locator("tbody tr");
  const texts: string[][] = [];
  for (const row of await rows.all()) {
    const cells = await row.locator("th, td").all();
    texts.push(
      await Promise.all(
        cells.map(async (cell) => {
          const field = cell.locator("input");
          return plain((await field.count()) > 0 ? await field.inputValue() : await cell.textContent());
        }),
      ),
    );
  }
  return texts;
}

/** The leg table once the odds, which come a leg at a time, are those of the walk as it is. */
export async function calmTableRows(page: Page): Promise<string[][]> {
  if ((await part(page, "leg-table").count()) === 0) await part(page, "show-table").click();
  const odds = part(page, "leg-table").locator('[data-test="row-odds"]');
  await until(
    async () => (await odds.count()) > 0 && (await odds.and(page.locator(".old")).count()) === 0,
    "the odds of every leg",
    60_000,
  );
  return tableRows(page);
}

/** Saves under a name in the page's own dialog, and waits until it is on disk. */
export async function saveAs(page: Page, name: string): Promise<void> {
  await choose(page, "walk-menu", "Save as…");
  await page.getByLabel("File name").fill(name);
  await page.getByRole("dialog").getByRole("button", { name: "Save", exact: true }).click();
  await until(async () => (await textOf(page, "saved-state")) === "saved", "the walk to be saved");
}

export async function openNamed(page: Page, name: string): Promise<void> {
  await choose(page, "walk-menu", "Open…");
  await page.getByRole("dialog").getByRole("button", { name, exact: true }).click();
}

interface WalkFile {
  features: {
    geometry: { type: string; coordinates: [number, number] };
    properties: Record<string, unknown>;
  }[];
  legwright: Record<string, unknown>;
}

export const readWalk = (window: TestWindow, name: string): WalkFile =>
  JSON.parse(readFileSync(join(window.walksFolder, name), "utf8")) as WalkFile;

export const pointsIn = (file: WalkFile): [number, number][] =>
  file.features
    .filter(({ geometry }) => geometry.type === "Point")
    .map(({ geometry }) => geometry.coordinates);

export const putFile = (window: TestWindow, name: string, text: string): void =>
  writeFileSync(join(window.walksFolder, name), text);

/** A plain GeoJSON of points in order, as any program writes it. */
export const pointsFile = (points: readonly (readonly [number, number])[]): string =>
  JSON.stringify({
    type: "FeatureCollection",
    features: points.map((coordinates) => ({
      type: "Feature",
      properties: {},
      geometry: { type: "Point", coordinates },
    })),
  });
