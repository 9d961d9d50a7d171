import type { Page } from "playwright-core";
import { part } from "./planner.ts";
import { until } from "./window.ts";

/**
 * Waits until the map has drawn all it has to, and a picture of it (or anything else told as text) stays as it is for a
 * second: software rendering on a busy machine goes on drawing long after the page says that it is there.
 */
export async function atRest(page: Page, picture: () => Promise<string>, what: string): Promise<string> {
  let seen = await picture();
  let since = Date.now();
  await until(
    async () => {
      await page.waitForTimeout(200);
      const now = await picture();
      const busy = (await part(page, "map").getAttribute("aria-busy")) !== "false";
      if (busy || now !== seen) {
        seen = now;
        since = Date.now();
      }
      return Date.now() - since >= 1000;
    },
    what,
    40_000,
  );
  return seen;
}
