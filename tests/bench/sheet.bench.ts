/**
 * Field sheets from tiles to the bytes of a PDF: A3 at 1:25 000 on the generated worst map, and a walk of ten A4 sheets. Prints
 * time, bytes and the peak of memory of this process, the making of the map before it not counted.
 */
import { bench, describe } from "vitest";
import { fieldSheets } from "../../core/sheet/field-sheet.ts";
import { openGround, type Ground } from "../../core/terrain/ground.ts";
import { bytesSource } from "../../core/map/source.ts";
import type { LonLat } from "../../core/units/position.ts";
import { loadSheetFonts } from "../../electron/services/sheets/fonts.ts";
import { pagesPdf } from "../../electron/services/sheets/pages-pdf.ts";
import { jobOf } from "../core/sheet/job.ts";
import { denseArchives } from "./support/dense-map.ts";

const { archive, terrain } = await denseArchives(5);
const fonts = await loadSheetFonts();
/** Opened anew each time, so that no tile is known already. */
const fresh = (): Promise<Ground> =>
  openGround(bytesSource("rough.pmtiles", archive), bytesSource("rough.terrain.pmtiles", terrain));

const ONE: readonly LonLat[] = [
  [20.43, -34.02],
  [20.46, -34.04],
  [20.47, -34.07],
];
const [west, south, east, north] = (await fresh()).map.info.bounds;
/** To and fro over the whole map, so that many sheets are needed. */
const MANY: readonly LonLat[] = Array.from({ length: 16 }, (_, i): LonLat => {
  const row = Math.floor(i / 2);
  const right = (i % 2 === 0) === (row % 2 === 0);
  return [
    right ? west + (east - west) * 0.03 : east - (east - west) * 0.03,
    south + ((north - south) * (row + 0.5)) / 8,
  ];
});

async function pages(...[points, wish]: Parameters<typeof jobOf>): Promise<string> {
  const ground = await fresh();
  const start = performance.now();
  let most = 0;
  const watch = setInterval(() => (most = Math.max(most, process.memoryUsage().rss)), 20);
  const set = await fieldSheets(
    jobOf(points, { ...wish, parts: ["sheets"], index: false }),
    ground,
    fonts.ruler,
    {
      // A turn between sheets, as in the thread.
      progress: () => new Promise((resolve) => setTimeout(resolve, 0)),
    },
  );
  const bytes = await pagesPdf(set, fonts);
  clearInterval(watch);
  most = Math.max(most, process.memoryUsage().rss);
  const seconds = (performance.now() - start) / 1000;
  const mb = (n: number): string => `${(n / 2 ** 20).toFixed(1)} MB`;
  return `${set.pages.length} sheets: ${seconds.toFixed(2)} s, ${(seconds / set.pages.length).toFixed(2)} s a sheet, ${mb(bytes.length)}, process ${mb(most)}`;
}

describe("from tiles to PDF", () => {
  const OPTIONS = { iterations: 3, time: 0, warmupIterations: 0, warmupTime: 0 } as const;
  bench(
    "A3 at 1:25 000, contours every 5 m",
    async () => console.log(await pages(ONE, { paper: "a3", scale: 25_000 })),
    OPTIONS,
  );
  bench(
    "a walk of many A4 sheets at 1:10 000",
    async () => console.log(await pages(MANY, { paper: "a4", scale: 10_000 })),
    { ...OPTIONS, iterations: 1 },
  );
});
