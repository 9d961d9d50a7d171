/** A position from bearings, as a person finds it in the window. */
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, flags, mapPlace, part, textOf } from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

async function write(page: Page, n: number, bearing: string, north: string, known: string): Promise<void> {
  await part(page, `fix-bearing-${n}`).fill(bearing);
  await part(page, `fix-north-${n}`).selectOption(north);
  await part(page, `fix-known-${n}`).fill(known);
}

describe("a position from bearings", () => {
  // Source: the worked example of tests/core/fix/handbook.test.ts: a plane laid into UTM zone 16, own place 603000 4200000.
  test("the handbook's resection and intersection, and a wrong bearing told of", async () => {
    await inWindow(async ({ page }) => {
      await choose(page, "tools-menu", "Where am I");
      expect(await textOf(page, "fix-said")).toBe("Two bearings with their points are needed.");
      // One may write at once.
      const first = part(page, "fix-bearing-1");
      await until(() => first.evaluate((element) => element === document.activeElement), "the keyboard");
      await write(page, 1, "341.565", "grid", "16 north 602000 4203000");
      await write(page, 2, "63.435", "grid", "16 north 605000 4201000");
      // In MGRS a metre south of 4 200 000 is in the square below.
      expect(await textOf(page, "fix-place")).toMatch(/^16S F[GH] (03000|02999|03001) (00000|00001|99999)$/);
      expect(await textOf(page, "fix-warnings")).toContain("nothing checks them");
      await write(page, 3, "206.565", "grid", "16 north 602000 4198000");
      expect(await textOf(page, "fix-place")).toMatch(/^16S F[GH] (03000|02999|03001) (00000|00001|99999)$/);
      expect(await part(page, "fix-warnings").count()).toBe(0);
      expect(await textOf(page, "fix-cautions")).toContain("Look round");
      expect(await textOf(page, "fix-slip")).toContain("The place is not on this map.");
      await part(page, "fix-bearing-3").fill("26.565");
      expect(await textOf(page, "fix-warnings")).toMatch(/wrong side|disagree/);
      await part(page, "fix-bearing-3").fill("400");
      expect(await textOf(page, "fix-slip")).toMatch(/400/);
      // What is over there: bearings from the two places; the third is taken away.
      await part(page, "fix-way").selectOption("intersect");
      await write(page, 1, "18.434949", "grid", "16 north 603000 4200000");
      await write(page, 2, "333.434949", "grid", "16 north 605000 4201000");
      await write(page, 3, "", "grid", "");
      expect(await textOf(page, "fix-place")).toMatch(/^16S FH (04000|03999|04001) (03000|02999|03001)$/);
      await page.keyboard.press("Escape");
      expect(await part(page, "fix-slip").count()).toBe(0);
    });
  });

  test("known points are picked on the map; the place is drawn and put down, and taken back by undo", async () => {
    await inWindow(async ({ page }) => {
      await choose(page, "tools-menu", "Where am I");
      for (const [n, x, y] of [
        [1, 0.9, 0.1],
        [2, 0.9, 0.75],
      ] as const) {
        await part(page, `fix-pick-known-${n}`).click();
        const at = await mapPlace(page, x, y);
        await page.mouse.click(at.x, at.y);
        await until(
          async () => /^46\.\d{6} -133\.\d{6}$/.test(await part(page, `fix-known-${n}`).inputValue()),
          "a point",
        );
      }
      // Neither click has put a point of the walk.
      expect(await flags(page).count()).toBe(0);
      await part(page, "fix-bearing-1").fill("45");
      await part(page, "fix-north-1").selectOption("true");
      await part(page, "fix-bearing-2").fill("135");
      await part(page, "fix-north-2").selectOption("true");
      await until(async () => (await part(page, "fix-drawing").count()) === 1, "the drawing");
      expect(await part(page, "fix-drawing").locator(".fan-line").count()).toBe(2);
      await part(page, "fix-add").click();
      expect(await flags(page).count()).toBe(1);
      // 45° and 135°: the place lies west of both, half way between them up and down, half that distance away.
      const [flag, first, second] = [
        await part(page, "fix-drawing").locator(".asked-dot").boundingBox(),
        await mapPlace(page, 0.9, 0.1),
        await mapPlace(page, 0.9, 0.75),
      ];
      if (!flag) throw new Error("There is no place.");
      expect(Math.abs(flag.y + flag.height / 2 - (first.y + second.y) / 2)).toBeLessThan(3);
      expect(Math.abs(first.x - (flag.x + flag.width / 2) - (second.y - first.y) / 2)).toBeLessThan(4);
      await part(page, "fix-slip").locator("input").first().press("Escape");
      await page.keyboard.press("Control+z");
      await until(async () => (await flags(page).count()) === 0, "the point to go");
    });
  });
});
