/**
 * The real window in a real browser: the browser host on folders of its own with the maps and the walk that ship with
 * the app, and a watched page. The window must have been built (`npm run build`).
 */
import { existsSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { readInfo } from "../../../core/map/read-info.ts";
import { pageFiles } from "../../../electron/browser-host/page-files.ts";
import { type BrowserHost, startBrowserHost } from "../../../electron/browser-host/server.ts";
import { findApp } from "../../../electron/services/app-folder.ts";
import { openConfSettings } from "../../../electron/services/conf-settings.ts";
import { createServices } from "../../../electron/services/services.ts";
import { watchContext, type Watch } from "./watch-page.ts";

export interface TestHost {
  readonly host: BrowserHost;
  /** The person's folder: what the window saves lies here. */
  readonly walksFolder: string;
  close(): Promise<void>;
}

export interface TestWindow extends TestHost {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly watch: Watch;
}

/** @param sampleFolder another folder for the maps and the walk that ship with the app */
export async function startTestHost(sampleFolder?: string): Promise<TestHost> {
  const app = findApp();
  const windowFolder = join(app.folder, "dist/renderer");
  if (!existsSync(join(windowFolder, "index.html")))
    throw new Error("The window is not built: npm run build");
  const root = mkdtempSync(join(tmpdir(), "legwright-window-"));
  const walksFolder = join(root, "walks");
  mkdirSync(walksFolder);
  const host = await startBrowserHost({
    services: createServices({
      app,
      host: { host: "browser", dialogs: "page", folderName: "walks" },
      walksFolder,
      ...(sampleFolder === undefined ? {} : { sampleFolder }),
      settings: openConfSettings(join(root, "settings")),
      chooser: pageFiles(walksFolder),
      printer: null,
      readInfo: (source) => readInfo(source),
    }),
    windowFolder,
  });
  return {
    host,
    walksFolder,
    async close() {
      await host.close();
      rmSync(root, { recursive: true, force: true });
    },
  };
}

export interface WindowOptions {
  readonly width?: number;
  readonly height?: number;
  readonly deviceScaleFactor?: number;
  readonly sampleFolder?: string;
  readonly colorScheme?: "light" | "dark";
  readonly reducedMotion?: "reduce" | "no-preference";
}

/**
 * Opens the window on a host of its own and comes in by the entrance, as the browser of a person does. Closing it fails the
 * test when a request left the program.
 */
export async function openTestWindow(browser: Browser, options: WindowOptions = {}): Promise<TestWindow> {
  const testHost = await startTestHost(options.sampleFolder);
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1280, height: options.height ?? 820 },
    deviceScaleFactor: options.deviceScaleFactor ?? 1,
    colorScheme: options.colorScheme ?? "light",
    reducedMotion: options.reducedMotion ?? "reduce",
    locale: "en-GB",
  });
  // As long as `until`: machines that run these tests are shared.
  context.setDefaultTimeout(60_000);
  try {
    const watch = await watchContext(context, testHost.host.origin);
    const page = await context.newPage();
    await page.goto(testHost.host.entrance(), { waitUntil: "load" });
    return {
      ...testHost,
      page,
      context,
      watch,
      async close() {
        await context.close();
        await testHost.close();
        watch.checkNothingLeft();
      },
    };
  } catch (error) {
    await context.close();
    await testHost.close();
    throw error;
  }
}

/**
 * Waits until a check in the page holds. Asked over and over from outside, because the page's content policy forbids
 * what the browser driver's own waiting would run inside.
 */
export async function until(check: () => Promise<boolean>, what: string, timeoutMs = 40_000): Promise<void> {
  const end = Date.now() + timeoutMs;
  while (!(await check())) {
    if (Date.now() > end) throw new Error(`Waited ${timeoutMs / 1000} s in vain for ${what}.`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
