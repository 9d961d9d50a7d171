/** How the map is looked at, and what else a person expects of a window: turned to the leg, tilted, larger text, commands found by name, about. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { atRest } from "./support/at-rest.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import {
  choose,
  dotOf,
  openNamed,
  part,
  plain,
  pointsFile,
  putFile,
  textOf,
  untilLegs,
} from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

test("the map turns to the leg and back, tilts and lies flat again; commands are found by their names", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    putFile(
      window,
      "aslant.geojson",
      pointsFile([
        [-133.194, 46.3343],
        [-133.1765, 46.3321],
      ]),
    );
    await openNamed(page, "aslant.geojson");
    await untilLegs(page, 1);
    await atRest(page, async () => JSON.stringify(await dotOf(page, 0)), "the walk to be shown whole");
    const lean = async (): Promise<number> => {
      const [a, b] = [await dotOf(page, 0), await dotOf(page, 1)];
      return (Math.atan2(b.x - a.x, a.y - b.y) * 180) / Math.PI;
    };
    // GeodSolve -i (GeographicLib 2.1.2): 46.3343 -133.194 46.3321 -133.1765 has azimuth 100.2803° at its start.
    expect(Math.abs((await lean()) - 100.28)).toBeLessThan(0.6);
    await page.keyboard.press("Control+Shift+u");
    await until(async () => Math.abs(await lean()) < 0.6, "the leg to run up the map");
    // Names and flags stay upright; a picture of north shows where it is, and brings it up again.
    await part(page, "north-up").click();
    await until(async () => Math.abs((await lean()) - 100.28) < 0.6, "north to be up");
    expect(await part(page, "north-up").count()).toBe(0);

    await page.keyboard.press("Control+f");
    await part(page, "find-field").fill("aslant");
    expect(await textOf(page, "find-said")).toContain("this can be done");
    await page.keyboard.press("Enter");
    await until(async () => (await part(page, "north-up").count()) === 1, "the map to be tilted");
    expect(await part(page, "find-slip").count()).toBe(0);
    await choose(page, "view-menu", "Look at the map from above");
    await until(async () => (await part(page, "north-up").count()) === 0, "the map to lie flat");

    await page.keyboard.press("Control+f");
    await part(page, "find-field").fill("save leg");
    expect(plain(await part(page, "find-commands").textContent())).toContain("Save the leg table as CSV");
  });
});

test("text grows with everything that goes by it, and stays so; about tells version, licences and whose data", async () => {
  await inWindow(async ({ page }) => {
    const size = (): Promise<number> =>
      page.evaluate(() => Number.parseFloat(getComputedStyle(document.body).fontSize));
    const usual = await size();
    await choose(page, "view-menu", "150 %");
    await until(async () => Math.abs((await size()) / usual - 1.5) < 0.01, "larger text");
    await page.reload();
    await until(async () => (await page.locator(".map-edge").count()) === 1, "the map");
    await until(async () => Math.abs((await size()) / usual - 1.5) < 0.01, "larger text again");

    await choose(page, "view-menu", "About Legwright");
    const about = plain(await part(page, "about").textContent());
    const { version, dependencies } = JSON.parse(
      readFileSync(new URL("../../package.json", import.meta.url), "utf8"),
    ) as { version: string; dependencies: Record<string, string> };
    expect(plain(await page.locator("dialog h2").textContent())).toBe(`Legwright ${version}`);
    for (const name of Object.keys(dependencies)) expect(about).toContain(name);
    expect(about).toContain("maplibre-gl BSD-3-Clause");
    expect(about).toContain("Uldermoor Reserve");
  });
});
