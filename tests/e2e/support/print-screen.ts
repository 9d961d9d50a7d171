/** The print screen as a person sees it: what its pages say. */
import type { Page } from "playwright-core";
import { part, plain } from "./planner.ts";
import { until } from "./window.ts";

/** All text of the page that is shown; empty while pages are being drawn. */
export const paperText = async (page: Page): Promise<string> =>
  plain((await part(page, "page-picture").locator("svg text").allTextContents()).join("\n"));

/** Opens the print screen and turns to the first page of the leg table. */
export async function paperTable(page: Page): Promise<void> {
  await part(page, "print").click();
  await part(page, "print-screen").waitFor();
  await toTable(page);
}

/** Turns pages until the leg table is there; its sheets of map come first. */
export async function toTable(page: Page): Promise<void> {
  await until(
    async () => {
      const title = await part(page, "page-title")
        .textContent({ timeout: 1000 })
        .catch(() => "");
      if (/Leg table/.test(title ?? "")) return true;
      const after = part(page, "page-after");
      if ((await after.count()) === 1 && (await after.isEnabled())) await after.click();
      return false;
    },
    "the leg table among the pages",
    90_000,
  );
}
