/**
 * The window against the map alone, in one run of one browser: how long until it can be used, and how many frames are drawn
 * while a point is dragged. Then thousands of random edits and undos, and what they leave in memory and in the walk.
 *
 *   npm run build && npx tsx tests/bench/window-run.ts [--rounds 5] [--edits 10000]
 *
 * The bare page (support/bare-map) has the same style, archives and reader, and no walk and no panels. Ratios are what
 * counts: the drawing is done in software.
 */
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { build } from "vite";
import { openMap } from "../../core/map/open-map.ts";
import { pageFiles } from "../../electron/browser-host/page-files.ts";
import { startBrowserHost } from "../../electron/browser-host/server.ts";
import { findApp } from "../../electron/services/app-folder.ts";
import { openConfSettings } from "../../electron/services/conf-settings.ts";
import { createServices } from "../../electron/services/services.ts";
import { launchBrowser } from "../e2e/support/browser.ts";

const folder = fileURLToPath(new URL(".", import.meta.url));
const option = (name: string, usual: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? usual : Number(process.argv[at + 1]);
};
const rounds = option("rounds", 5);
const edits = option("edits", 10_000);

const root = mkdtempSync(join(tmpdir(), "legwright-window-bench-"));
const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

async function hostOf(windowFolder: string, name: string) {
  const app = findApp();
  const walksFolder = join(root, name);
  mkdirSync(walksFolder);
  const settings = openConfSettings(join(root, `${name}-settings`));
  settings.set({ cautionSeen: true });
  return startBrowserHost({
    services: createServices({
      app,
      host: { host: "browser", dialogs: "page", folderName: name },
      walksFolder,
      settings,
      chooser: pageFiles(walksFolder),
      printer: null,
      readInfo: async (source) => (await openMap(source)).info,
    }),
    windowFolder,
  });
}

async function fresh(browser: Browser, entrance: string): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    reducedMotion: "reduce",
  });
  const page = await context.newPage();
  await page.goto(entrance, { waitUntil: "commit" });
  // What tsx puts into functions that are sent to the page.
  await page.evaluate("globalThis.__name = (named) => named");
  return page;
}

const atRest = (page: Page): Promise<string | null> =>
  page.locator('[data-test="map"]').getAttribute("aria-busy", { timeout: 60_000 });

/** Between two looks at a map that may only just begin to load, milliseconds. */
const LOOK_MS = 100;

/** Milliseconds from the start of the navigation until the map is open and all of it is drawn. */
async function readyMs(page: Page, opened: string): Promise<number> {
  await page.locator(opened).first().waitFor({ timeout: 60_000 });
  for (;;) {
    const now = await page.evaluate(() => performance.now());
    if ((await atRest(page)) === "false") {
      await page.waitForTimeout(LOOK_MS);
      if ((await atRest(page)) === "false") return now;
    }
    await page.waitForTimeout(10);
  }
}

/** Frames a second while the pointer goes round in circles, pressed. */
async function framesWhileDragging(
  page: Page,
  from: { x: number; y: number },
  seconds: number,
): Promise<number> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + 12, from.y);
  await page.evaluate(() => {
    const counted = { frames: 0, since: performance.now() };
    Object.assign(globalThis, { counted });
    const count = (): void => {
      counted.frames++;
      requestAnimationFrame(count);
    };
    requestAnimationFrame(count);
  });
  const end = Date.now() + 1000 * seconds;
  for (let i = 0; Date.now() < end; i++) {
    const turn = i / 12;
    await page.mouse.move(from.x + 60 * Math.cos(turn), from.y + 60 * Math.sin(turn));
  }
  const rate = await page.evaluate(() => {
    const { counted } = globalThis as unknown as { counted: { frames: number; since: number } };
    return (1000 * counted.frames) / (performance.now() - counted.since);
  });
  await page.mouse.up();
  return rate;
}

async function heapMB(page: Page): Promise<number> {
  const session = await page.context().newCDPSession(page);
  await session.send("HeapProfiler.collectGarbage");
  await session.send("HeapProfiler.collectGarbage");
  const { usedSize } = (await session.send("Runtime.getHeapUsage")) as { usedSize: number };
  await session.detach();
  return usedSize / 1e6;
}

const openPractice = async (page: Page): Promise<void> => {
  await page.locator('[data-test="walk-menu"]').click();
  await page.locator('[role^="menuitem"]', { hasText: "Open the practice walk" }).click();
  while ((await page.locator(".ribbon-leg").count()) < 8) await page.waitForTimeout(50);
  while ((await atRest(page)) !== "false") await page.waitForTimeout(50);
};

const browser = await launchBrowser();
try {
  const bareFolder = join(root, "bare");
  await build({
    configFile: fileURLToPath(new URL("../../renderer/vite.config.ts", import.meta.url)),
    root: join(folder, "support/bare-map"),
    logLevel: "error",
    build: { outDir: bareFolder, emptyOutDir: true },
  });
  const bare = await hostOf(bareFolder, "bare-walks");
  // A host of its own each time: what is left unsaved would be offered at the next start.
  const whole = (name: string) => hostOf(join(findApp().folder, "dist/renderer"), name);

  const start: { bare: number[]; whole: number[] } = { bare: [], whole: [] };
  const frames: { bare: number[]; whole: number[] } = { bare: [], whole: [] };
  for (let round = 0; round < rounds; round++) {
    const one = await fresh(browser, bare.entrance());
    start.bare.push(await readyMs(one, ".opened"));
    // The bare map panned over the view the walk is looked at in.
    await one.mouse.move(500, 350);
    for (let i = 0; i < 3; i++) {
      await one.mouse.wheel(0, -300);
      await one.waitForTimeout(500);
    }
    while ((await atRest(one)) !== "false") await one.waitForTimeout(50);
    frames.bare.push(await framesWhileDragging(one, { x: 500, y: 350 }, 3));
    await one.context().close();

    const host = await whole(`walks-${round}`);
    const other = await fresh(browser, host.entrance());
    start.whole.push(await readyMs(other, ".map-edge"));
    await openPractice(other);
    const dot = await other.locator(".flag .flag-dot").nth(3).boundingBox();
    if (!dot) throw new Error("The point is not on the screen.");
    frames.whole.push(
      await framesWhileDragging(other, { x: dot.x + dot.width / 2, y: dot.y + dot.height / 2 }, 3),
    );
    await other.context().close();
    await host.close();
  }
  console.log(
    `ready: window ${median(start.whole).toFixed(0)} ms, bare map ${median(start.bare).toFixed(0)} ms: ×${(median(start.whole) / median(start.bare)).toFixed(2)} (at most 1.30)`,
  );
  console.log(
    `frames a second: a point dragged ${median(frames.whole).toFixed(1)}, bare map panned ${median(frames.bare).toFixed(1)}: ×${(median(frames.whole) / median(frames.bare)).toFixed(2)} (at least 0.90)`,
  );

  if (edits > 0) {
    const host = await whole("walks-edited");
    const page = await fresh(browser, host.entrance());
    await readyMs(page, ".map-edge");
    await openPractice(page);
    const places = (): Promise<string> =>
      page
        .locator(".flag")
        .evaluateAll((all) => all.map((flag) => flag.getAttribute("aria-label")).join("; "));
    const before = await places();
    let state = 11;
    const next = (n: number): number => (state = (state * 48_271) % 2_147_483_647) % n;
    const edit = async (count: number): Promise<void> => {
      for (let i = 0; i < count; i++) {
        const what = next(8);
        const flags = page.locator(".flag");
        if (what < 4) await page.keyboard.press("Control+z");
        else if (what === 4) await page.keyboard.press("Control+Shift+z");
        else {
          await flags.nth(next(await flags.count())).focus();
          await page.keyboard.press(what === 5 ? "i" : what === 6 ? "ArrowRight" : "ArrowUp");
        }
      }
      // Back to where it was.
      while (await page.locator('.bar button:has-text("Undo"):not([aria-disabled="true"])').count())
        await page.keyboard.press("Control+z");
    };
    // What is only loaded once is loaded before the first look.
    await edit(Math.min(500, edits));
    await page.waitForTimeout(3000);
    const memory = await heapMB(page);
    await edit(edits);
    await page.waitForTimeout(3000);
    const after = await heapMB(page);
    console.log(
      `${edits} edits and undos: heap ${memory.toFixed(1)} MB, then ${after.toFixed(1)} MB: ×${(after / memory).toFixed(3)} (at most 1.10); the walk is ${(await places()) === before ? "as it was" : "NOT as it was"}`,
    );
    await page.context().close();
    await host.close();
  }
  await bare.close();
} finally {
  await browser.close();
  rmSync(root, { recursive: true, force: true });
}
