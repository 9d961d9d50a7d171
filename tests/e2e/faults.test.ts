/**
 * What fails under a window that is open: its map's file, its worker, its graphics, the clock. Each time one sentence says
 * what happened, and the work goes on. Faults are made as they come: files changed on disk, a thread ended from inside, the
 * browser's own WEBGL_lose_context, another time of day.
 */
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page, Worker } from "playwright-core";
import { describe, expect, test } from "vitest";
import { findApp } from "../../electron/services/app-folder.ts";
import { atRest } from "./support/at-rest.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import { untilKept, untilNothingKept } from "./support/kept-drafts.ts";
import {
  clickMap,
  flags,
  mapPlace,
  openNamed,
  part,
  plain,
  putFile,
  readWalk,
  saveAs,
  untilLegs,
} from "./support/planner.ts";
import { paperTable, paperText } from "./support/print-screen.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const noticed = async (page: Page, words: RegExp, timeoutMs = 40_000): Promise<void> =>
  await until(
    async () => (await part(page, "notice").allTextContents()).some((text) => words.test(plain(text))),
    `a notice like ${words}`,
    timeoutMs,
  );
const quiet = async (page: Page): Promise<void> => {
  const dismiss = page.getByRole("button", { name: "Put this notice away" });
  while ((await dismiss.count()) > 0)
    await dismiss
      .first()
      .click({ timeout: 2000 })
      .catch(() => undefined);
};
const legs = async (page: Page, count: number, timeoutMs = 40_000): Promise<void> =>
  await until(async () => (await page.locator(".ribbon-leg").count()) === count, `${count} legs`, timeoutMs);

/** The worker that works out figures: of ours the first. MapLibre's has a program of its own. */
async function figuresWorker(page: Page): Promise<Worker> {
  for (const worker of page.workers())
    if ((await worker.evaluate(() => self.name)) === "legwright") return worker;
  throw new Error(
    `no worker among ${page
      .workers()
      .map((one) => one.url())
      .join(", ")}`,
  );
}

interface WithLoss {
  loss?: WEBGL_lose_context | null;
}

describe("under an open window", () => {
  test("the worker breaks or is ended, the picture is lost, the clock is set: all goes on", async () => {
    await inWindow(async (window) => {
      const { page, watch } = window;
      for (const [x, y] of [[0.3, 0.3], [0.5, 0.5], [0.6, 0.3]] as const) await clickMap(page, x, y); // prettier-ignore
      await untilLegs(page, 2);

      // Out of memory: what a thread says of a buffer it cannot have, thrown where nobody catches it.
      await (
        await figuresWorker(page)
      ).evaluate(() => {
        setTimeout(() => new ArrayBuffer(Number.MAX_SAFE_INTEGER));
      });
      await noticed(page, /Working out the figures stopped; it was begun again/);
      // Some browsers write it on the console as well, others end the thread before.
      const said = /Array buffer allocation failed|Invalid array buffer length/;
      if (watch.problems.some((problem) => said.test(problem))) watch.forgive(said);
      await clickMap(page, 0.7, 0.5);
      await legs(page, 3);
      await quiet(page);

      // Ended without a word, as a system short of memory does: nothing is said by anyone until it is missed.
      await (await figuresWorker(page)).evaluate(() => self.close());
      await clickMap(page, 0.4, 0.7);
      await noticed(page, /Working out the figures stopped; it was begun again/, 40_000);
      await legs(page, 4);
      await quiet(page);

      const { x, y } = await mapPlace(page, 0.15, 0.5);
      const picture = async (): Promise<string> =>
        (await page.screenshot({ clip: { x: x - 40, y: y - 80, width: 120, height: 160 } })).toString(
          "base64",
        );
      const before = await atRest(page, picture, "the map before its picture is lost");
      await page.evaluate(() => {
        const canvas = document.querySelector<HTMLCanvasElement>(".maplibregl-canvas");
        const loss = canvas?.getContext("webgl2")?.getExtension("WEBGL_lose_context") ?? null;
        (globalThis as WithLoss).loss = loss;
        loss?.loseContext();
      });
      await noticed(page, /gave up the map’s picture/);
      // Without its picture the map is still one to draw on, and figures come.
      await clickMap(page, 0.5, 0.8);
      await legs(page, 5);
      await page.keyboard.press("Control+z");
      await legs(page, 4);
      await page.evaluate(() => (globalThis as WithLoss).loss?.restoreContext());
      await noticed(page, /The map is drawn again/);
      expect(await atRest(page, picture, "the map drawn again")).toBe(before);
      await quiet(page);

      // The clock of the computer is set, far back and far ahead: a walk keeps its day, and nothing waits or fails for it.
      await saveAs(page, "clock");
      const date = readWalk(window, "clock.walk.geojson").legwright["date"];
      let points = 5;
      for (const now of ["2003-01-01T12:00:00Z", "2041-01-01T12:00:00Z"]) {
        await page.clock.setFixedTime(now);
        await clickMap(page, 0.1 + points / 20, 0.85);
        await legs(page, points++);
        await page.keyboard.press("Control+s");
        await until(
          async () => flagsIn(window.walksFolder) === points,
          `the walk to be saved with ${points} points`,
        );
        expect(readWalk(window, "clock.walk.geojson").legwright["date"]).toBe(date);
      }
    });
  });

  test("the map's file is replaced, cut short, put back, removed: that is said, and the work goes on", async () => {
    const samples = mkdtempSync(join(tmpdir(), "legwright-faults-"));
    cpSync(join(findApp().folder, "sample-maps"), samples, { recursive: true });
    const archive = join(samples, "uldermoor.pmtiles");
    const good = readFileSync(archive);
    try {
      await inWindow(
        async (window) => {
          const { page, watch } = window;
          const open = async (): Promise<void> => {
            await untilNothingKept(window);
            await page.reload();
            await until(async () => (await page.locator(".map-edge").count()) === 1, "the map's edge");
          };
          /** Takes both points back once they are kept, so that nothing is kept of them. */
          const undoBoth = async (): Promise<void> => {
            await untilKept(window, 2);
            await page.keyboard.press("Control+z");
            await page.keyboard.press("Control+z");
          };
          /** Looks closer at another part, so that tiles are read. */
          const lookCloser = async (at: readonly [number, number]): Promise<void> => {
            const { x, y } = await mapPlace(page, ...at);
            await page.mouse.move(x, y);
            for (let i = 0; i < 4; i++) await page.mouse.wheel(0, -240);
          };

          // Another file takes its place, as programs save: the one that was opened is still there to be read.
          writeFileSync(`${archive}.new`, good);
          renameSync(`${archive}.new`, archive);
          await lookCloser([0.4, 0.4]);
          await noticed(page, /uldermoor\.pmtiles was moved, removed or replaced while it was open/);
          await clickMap(page, 0.3, 0.4);
          await clickMap(page, 0.5, 0.5);
          await legs(page, 1);
          await undoBoth();

          // Cut short, as a copy that was broken off: nothing more is read of it.
          await open();
          truncateSync(archive, 60_000);
          await lookCloser([0.6, 0.6]);
          await noticed(
            page,
            /The map's file was changed by another program while it was open.*open it again/,
          );
          await clickMap(page, 0.3, 0.4);
          await clickMap(page, 0.5, 0.5);
          await until(async () => (await flags(page).count()) === 2, "points on the map all the same");
          await undoBoth();
          watch.forgive(/409/);

          // Put back and opened again, all is as before.
          writeFileSync(archive, good);
          await open();
          await clickMap(page, 0.3, 0.4);
          await clickMap(page, 0.5, 0.5);
          await legs(page, 1);
          await quiet(page);

          rmSync(archive);
          await lookCloser([0.3, 0.6]);
          await noticed(page, /uldermoor\.pmtiles was moved, removed or replaced while it was open/);
          await clickMap(page, 0.6, 0.6);
          await legs(page, 2);
        },
        { sampleFolder: samples },
      );
    } finally {
      rmSync(samples, { recursive: true, force: true });
    }
  });

  test("texts of a stranger's walk are shown as texts, in the window and on paper", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      const evil = `<img src=x onerror="globalThis.harmed=1"><script>globalThis.harmed=2</script>`;
      const point = (name: string, coordinates: readonly [number, number]): object => ({
        type: "Feature",
        properties: { name },
        geometry: { type: "Point", coordinates },
      });
      const features = [point(evil, [-133.1925, 46.3418]), point("End", [-133.194, 46.3343])];
      putFile(
        window,
        "stranger.geojson",
        JSON.stringify({ type: "FeatureCollection", name: evil, features }),
      );
      await openNamed(page, "stranger.geojson");
      await untilLegs(page, 1);
      await until(
        async () => (await page.getByText(evil.slice(0, 20)).count()) > 0,
        "the name in the window",
      );
      await paperTable(page);
      expect(await paperText(page)).toContain("<img src=x");
      expect(await page.locator("img[src=x]").count()).toBe(0);
      expect(await page.evaluate(() => "harmed" in globalThis)).toBe(false);
    });
  });
});

/** How many points the saved walk has. */
function flagsIn(folder: string): number {
  const { features } = JSON.parse(readFileSync(join(folder, "clock.walk.geojson"), "utf8")) as {
    features: { geometry: { type: string } }[];
  };
  return features.filter(({ geometry }) => geometry.type === "Point").length;
}
