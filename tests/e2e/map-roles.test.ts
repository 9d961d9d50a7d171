/** The table of layers and roles, on a real archive of another make: see tests/fixtures/open-tiles. */
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, it } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, clickMap, part, plain, textOf, untilLegs } from "./support/planner.ts";
import { until } from "./support/window.ts";

const FLORENCE = fileURLToPath(new URL("../fixtures/open-tiles/florence.pmtiles", import.meta.url));

const inWindow = windowsOfThisFile();
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-roles-"));
  copyFileSync(FLORENCE, join(folder, "florence.pmtiles"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const LAYERS = "Layers of this map";

it("a layer put to another use changes what a leg crosses, is remembered, and goes back to the guess by one press", async () => {
  await inWindow(
    async ({ page }) => {
      await clickMap(page, 0.2, 0.3);
      await clickMap(page, 0.8, 0.7);
      await untilLegs(page, 1);
      const crossed = async (): Promise<string> =>
        (await page.locator(".ribbon, .way-steps").allTextContents()).map(plain).join(" ");
      await until(async () => (await crossed()).includes("a minor road"), "a road on the way");
      await choose(page, "tools-menu", LAYERS);
      await until(async () => (await part(page, "roles").count()) === 1, "the table");
      expect(await textOf(page, "roles-from")).toContain("guessed");
      const uses = page.locator('[data-layer="roads"] select[aria-label^="Is used as"]');
      const count = await uses.count();
      expect(count).toBeGreaterThan(1);
      for (let i = 0; i < count; i++) await uses.nth(i).selectOption(i === 0 ? "contour" : "");
      expect(await page.getByRole("dialog").textContent()).toContain("Contours need a field");
      expect(await page.getByRole("button", { name: "Use these" }).isDisabled()).toBe(true);
      await uses.first().selectOption("stream");
      await page.getByRole("button", { name: "Use these" }).click();
      await until(async () => (await part(page, "roles").count()) === 0, "the table to go");
      await until(async () => !(await crossed()).includes("road"), "the leg to cross no road");
      expect(await crossed()).toContain("cross the stream Torrente Ema");

      // As another start of the window sees it: the host remembers.
      await page.reload({ waitUntil: "load" });
      await until(async () => (await page.locator(".map-edge").count()) === 1, "the map's edge");
      // The walk was never saved: it is offered, and left for later.
      await part(page, "kept").first().waitFor();
      await page.keyboard.press("Escape");
      await until(async () => (await page.locator("dialog[open]").count()) === 0, "the offer to go");
      await choose(page, "tools-menu", LAYERS);
      await until(async () => (await part(page, "roles").count()) === 1, "the table again");
      expect(await textOf(page, "roles-from")).toContain("by hand");
      expect(await uses.first().inputValue()).toBe("stream");
      await page.getByRole("button", { name: "Back to the guess" }).click();
      await until(async () => (await textOf(page, "roles-from")).includes("guessed"), "the guess");
      expect(await uses.count()).toBe(count);
    },
    { sampleFolder: folder },
  );
});
