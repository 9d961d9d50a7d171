/**
 * A scanned sheet as the background, on tiles of a real one (tests/fixtures/scanned-sheet), over a map whose heights are
 * a plane, so that the climb of any leg is known by plain arithmetic.
 */
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { decode } from "fast-png";
import type { Page } from "playwright-core";
import { PMTiles } from "pmtiles";
import { afterAll, beforeAll, expect, it } from "vitest";
import { pmtilesWriter } from "../../core/mapmaking/pmtiles-writer.ts";
import { atRest } from "./support/at-rest.ts";
import { writeGroundMap } from "./support/ground-map.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import {
  choose,
  clickMap,
  dotOf,
  part,
  pointsIn,
  readWalk,
  saveAs,
  textOf,
  untilLegs,
} from "./support/planner.ts";
import { until } from "./support/window.ts";

const WHITNEY = fileURLToPath(new URL("../fixtures/scanned-sheet/whitney.pmtiles", import.meta.url));
const OTHER_SIZE = fileURLToPath(new URL("../fixtures/scanned-sheet/tile-256.webp", import.meta.url));
const SHEET = "Whitney sheet";
const inWindow = windowsOfThisFile();

/** Metres. */
const plane = ([lon, lat]: readonly [number, number]): number =>
  3000 + 9000 * (lon + 118.31) + 4000 * (lat - 36.55);

let folder = "";
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "legwright-sheet-"));
  copyFileSync(WHITNEY, join(folder, "whitney.pmtiles"));
  await writeGroundMap(folder, "Slope", [-118.32, 36.55, -118.25, 36.6], plane);
  await writeGroundMap(folder, "Elsewhere", [-118.32, 36.65, -118.28, 36.68], plane);
  await writeFaulty();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The reference reader of archives. */
function reference(): PMTiles {
  const bytes = readFileSync(WHITNEY);
  return new PMTiles({
    getKey: () => WHITNEY,
    getBytes: async (offset, length) => ({
      data: new Uint8Array(bytes.subarray(offset, offset + length)).buffer,
    }),
  });
}

async function tileOf(z: number, x: number, y: number): Promise<Uint8Array> {
  const tile = await reference().getZxy(z, x, y);
  if (!tile) throw new Error(`There is no tile ${z}/${x}/${y}.`);
  return new Uint8Array(tile.data);
}

/** A sheet of which one picture is damaged and one is of another size, and an archive of pictures of a kind that is not known. */
async function writeFaulty(): Promise<void> {
  const good = await tileOf(13, 1404, 3200);
  const writer = pmtilesWriter("webp");
  writer.add(12, 702, 1600, new Uint8Array(readFileSync(OTHER_SIZE)));
  writer.add(13, 1404, 3200, good);
  writer.add(13, 1404, 3201, good.subarray(0, good.length >> 1));
  const { pieces } = writer.finish({
    bounds: [-118.3, 36.56109, -118.26069, 36.59301],
    metadata: { name: "Torn sheet" },
  });
  writeFileSync(join(folder, "torn.pmtiles"), Buffer.concat(pieces));
  const other = new Uint8Array(readFileSync(WHITNEY));
  // PMTiles version 3 specification, §3: byte 99 is the tile type, 5 is AVIF.
  other[99] = 5;
  writeFileSync(join(folder, "other-pictures.pmtiles"), other);
}

type Colour = readonly [number, number, number];
interface Picture {
  readonly width: number;
  readonly height: number;
  /** Mean of a square of pixels. */
  mean(left: number, top: number, side: number): Colour;
}

function pictureOf(width: number, height: number, channels: number, data: ArrayLike<number>): Picture {
  return {
    width,
    height,
    mean(left, top, side) {
      const sum = [0, 0, 0];
      let count = 0;
      for (let y = Math.round(top); y < Math.round(top + side); y++)
        for (let x = Math.round(left); x < Math.round(left + side); x++, count++)
          for (let c = 0; c < 3; c++) sum[c]! += data[(y * width + x) * channels + c] ?? 0;
      return [sum[0]! / count, sum[1]! / count, sum[2]! / count];
    },
  };
}

async function screen(page: Page): Promise<Picture> {
  await atRest(page, async () => (await page.screenshot()).toString("base64"), "the map at rest");
  const { width, height, channels, data } = decode(await page.screenshot());
  return pictureOf(width, height, channels, data);
}

/** A tile's picture, decoded by the browser itself. */
async function tilePicture(page: Page, z: number, x: number, y: number): Promise<Picture> {
  const bytes = [...(await tileOf(z, x, y))];
  const { width, height, data } = await page.evaluate(async (given) => {
    const bitmap = await createImageBitmap(new Blob([new Uint8Array(given)]));
    const pen = new OffscreenCanvas(bitmap.width, bitmap.height).getContext("2d")!;
    pen.drawImage(bitmap, 0, 0);
    return {
      width: bitmap.width,
      height: bitmap.height,
      data: [...pen.getImageData(0, 0, bitmap.width, bitmap.height).data],
    };
  }, bytes);
  return pictureOf(width, height, 4, data);
}

/** Shares of the square world. Source: OGC 17-083r4, annex D.1. */
const worldX = (lon: number): number => lon / 360 + 0.5;
const worldY = (lat: number): number => 0.5 - Math.asinh(Math.tan((lat * Math.PI) / 180)) / (2 * Math.PI);

const apart = (a: Colour, b: Colour): number => Math.max(...a.map((one, i) => Math.abs(one - b[i]!)));
const between = (a: Colour, b: Colour, share: number): Colour => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
  a[2] + (b[2] - a[2]) * share,
];

async function openFromCase(page: Page, title: string): Promise<void> {
  await part(page, "map-button").click();
  await page.getByRole("button", { name: `Open ${title}`, exact: true }).click();
  await until(async () => (await page.locator("dialog").count()) === 0, "the map case to close");
}

it("a scanned sheet is opened from the case, lies where its archive says, in every theme, and its ground is another map's", async () => {
  await inWindow(
    async (window) => {
      const { page } = window;
      await openFromCase(page, SHEET);
      expect(await textOf(page, "map-button")).toBe(`Map ${SHEET}`);
      expect(await textOf(page, "sheet-ground")).toBe("Ground from Slope");
      expect(await page.locator(".map-edge").textContent()).toContain("United States Geological Survey");

      // Two points tell where on the screen the world is.
      await clickMap(page, 0.35, 0.2);
      await clickMap(page, 0.7, 0.25);
      await untilLegs(page, 1);
      await saveAs(page, "On the sheet");
      const [a, b] = pointsIn(readWalk(window, "On the sheet.walk.geojson")) as [
        [number, number],
        [number, number],
      ];
      const climb = plane(b) - plane(a);
      expect(climb).toBeGreaterThan(100);
      await until(async () => /^\d/.test(await textOf(page, "climb")), "the climb");
      expect(Math.abs(Number.parseFloat(await textOf(page, "climb")) - climb)).toBeLessThanOrEqual(3);
      expect(await textOf(page, "descent")).toBe("0 m");

      // The sheet alone, so that no line of the map is compared with it.
      await choose(page, "view-menu", "Lines and names of the map over it");
      const [dotA, dotB] = [await dotOf(page, 0), await dotOf(page, 1)];
      const scale = (dotB.x - dotA.x) / (worldX(b[0]) - worldX(a[0]));
      const tile = await tilePicture(page, 13, 1404, 3200);
      const tilePx = scale / 2 ** 13 / tile.width;
      const left = dotA.x + (1404 / 2 ** 13 - worldX(a[0])) * scale;
      const top = dotA.y + (3200 / 2 ** 13 - worldY(a[1])) * scale;
      const free = await page.locator(".free-map").boundingBox();
      const side = 24;
      /** Squares of the screen well off the leg and the slips, with what the tile has there. */
      const squares: {
        readonly x: number;
        readonly y: number;
        readonly inTile: Colour;
        readonly aside: Colour;
      }[] = [];
      for (let x = free!.x + 8; x < free!.x + free!.width - 40; x += 40)
        for (let y = Math.max(dotA.y, dotB.y) + 70; y < free!.y + free!.height - 40; y += 40) {
          const [u, v, size] = [(x - left) / tilePx, (y - top) / tilePx, side / tilePx];
          if (u < 0 || v < 0 || u + size + 40 > tile.width || v + size > tile.height) continue;
          squares.push({ x, y, inTile: tile.mean(u, v, size), aside: tile.mean(u + 40, v, size) });
        }
      expect(squares.length).toBeGreaterThan(12);
      const worst = (seen: Picture, expected: (inTile: Colour) => Colour): number =>
        Math.max(...squares.map(({ x, y, inTile }) => apart(seen.mean(x, y, side), expected(inTile))));
      const light = await screen(page);
      expect(worst(light, (inTile) => inTile)).toBeLessThan(8);
      // As a check of the check: 40 pixels off, the picture is another.
      expect(
        Math.max(...squares.map(({ x, y, aside }) => apart(light.mean(x, y, side), aside))),
      ).toBeGreaterThan(30);

      await page.keyboard.press("Control+Shift+K");
      await page.getByText("Scanned sheet: half as strong").waitFor();
      // The ground's colour in the light theme: renderer/theme/tokens.css.
      expect(worst(await screen(page), (inTile) => between([0xf6, 0xf2, 0xe6], inTile, 0.5))).toBeLessThan(8);

      await choose(page, "view-menu", "Night, red light");
      await atRest(page, async () => (await page.screenshot()).toString("base64"), "the night map at rest");
      const { data, channels } = decode(await page.screenshot());
      let other = 0;
      let reds = 0;
      for (let i = 0; i < data.length; i += channels) {
        if (data[i + 1]! > 0 || data[i + 2]! > 0) other++;
        if (data[i]! > 60) reds++;
      }
      expect(other).toBe(0);
      expect(reds).toBeGreaterThan(data.length / channels / 20);
      await choose(page, "view-menu", /^\W*Light/);

      // As another start of the window sees it.
      await page.reload({ waitUntil: "load" });
      await until(async () => (await textOf(page, "map-button")) === `Map ${SHEET}`, "the sheet again");
      await part(page, "sheet-ground").waitFor();
      await part(page, "view-menu").click();
      const chosen = page.locator('[role="menuitemradio"][aria-checked="true"]', {
        hasText: "Half as strong",
      });
      await chosen.waitFor();
      await page.keyboard.press("Escape");

      await part(page, "map-button").click();
      const choice = part(page, "sheet-ground-choice").and(page.locator(`[aria-label*="${SHEET}"]`));
      expect(await choice.locator("option").allTextContents()).toEqual(
        expect.arrayContaining(["Slope", "Elsewhere", "no map: the sheet alone"]),
      );
      await choice.selectOption({ label: "no map: the sheet alone" });
      await page.getByRole("dialog").getByRole("button", { name: "Close", exact: true }).click();
      await until(async () => (await textOf(page, "sheet-ground")).startsWith("No map under"), "no ground");
      await clickMap(page, 0.4, 0.5);
      await clickMap(page, 0.7, 0.6);
      await until(async () => /^\d/.test(await textOf(page, "distance")), "a distance");
      expect(await textOf(page, "sheet-ground")).toBe(
        "No map under this sheet: no heights, nothing to cross",
      );
      expect(await textOf(page, "climb")).not.toMatch(/\d/);
      expect(await page.locator(".slip").textContent()).toMatch(/\d°/);

      // Paper says what it has instead of the sheet.
      await part(page, "print").click();
      await until(
        async () => (await part(page, "page-picture").locator("svg").count()) > 0,
        "a page",
        60_000,
      );
      expect(await textOf(page, "pages-hint")).toContain(
        "A scanned sheet is not printed, and no map lies under it",
      );
      await page.keyboard.press("Escape");
      await page.reload({ waitUntil: "load" });
      await until(
        async () => (await part(page, "sheet-ground").count()) === 1,
        "the sheet without ground, as it was chosen",
      );
      expect(await textOf(page, "sheet-ground")).toMatch(/^No map under/);
    },
    { sampleFolder: folder },
  );
});

it("a sheet with a damaged picture, or with some of another size, says so once and shows the rest; unknown pictures are told in the case; a dialog is open from the first moment", async () => {
  await inWindow(
    async ({ page }) => {
      const openAtOnce = await page.evaluate(
        () =>
          new Promise<boolean | undefined>((resolve) => {
            new MutationObserver((_, watch) => {
              const dialog = document.querySelector("dialog");
              if (!dialog) return;
              watch.disconnect();
              resolve(dialog.open);
            }).observe(document.body, { childList: true, subtree: true });
            document.querySelector<HTMLElement>('[data-test="map-button"]')?.click();
          }),
      );
      expect(openAtOnce).toBe(true);
      const faulty = part(page, "map-row").filter({ hasText: "other-pictures.pmtiles" });
      expect(await faulty.locator('[data-test="map-fault"]').textContent()).toContain("cannot be drawn here");
      expect(await faulty.getByRole("button", { name: /^Open / }).count()).toBe(0);
      // As a browser does by itself when Escape comes twice.
      await page.locator("dialog").evaluate((dialog: HTMLDialogElement) => dialog.close());
      await until(async () => (await page.locator("dialog").count()) === 0, "the dialog to be gone");

      await openFromCase(page, "Torn sheet");
      const said = page.getByText("Some pictures of Torn sheet cannot be read and are left blank.");
      await said.waitFor();
      await page.getByText("The pictures of Torn sheet differ in size").waitFor();
      await page.getByRole("button", { name: "Nearer" }).click();
      await screen(page);
      expect(await said.count()).toBe(1);
      await clickMap(page, 0.3, 0.4);
      await clickMap(page, 0.7, 0.5);
      await untilLegs(page, 1);
      await openFromCase(page, "Slope");
      await until(async () => (await textOf(page, "map-button")) === "Map Slope", "the map by itself");
      expect(await part(page, "sheet-ground").count()).toBe(0);
    },
    { sampleFolder: folder },
  );
});
