/** One browser for a test file, and a fresh window of the program for each test in it. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import { launchBrowser } from "./browser.ts";
import { settle } from "./planner.ts";
import { openTestWindow, type TestWindow } from "./window.ts";

export type InWindow = (
  run: (window: TestWindow) => Promise<void>,
  options?: Parameters<typeof openTestWindow>[1],
) => Promise<void>;

/**
 * To be called once at the top of a test file. What it gives opens the window with its map on screen and the cautions
 * read, lets the test run, and fails it when a request left the program or the page complained.
 */
export function windowsOfThisFile(): InWindow {
  let browser: Browser;
  beforeAll(async () => void (browser = await launchBrowser()));
  afterAll(async () => await browser.close());
  return async (run, options = {}) => {
    const window = await openTestWindow(browser, options);
    try {
      await settle(window);
      await run(window);
      window.watch.check();
    } finally {
      await window.close();
    }
  };
}
