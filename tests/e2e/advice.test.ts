/** Advice as a person meets it: odds, places to go by, dangers, a line of one's own, and what all of it goes by. */
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import {
  choose,
  flags,
  openNamed,
  part,
  plain,
  pointsFile,
  putFile,
  tableRows,
  textOf,
  untilLegs,
} from "./support/planner.ts";
import { paperTable, paperText, toTable } from "./support/print-screen.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

/** Off every line and by no thing one could not miss, on the invented map; chosen for that by looking at it. */
const HARD = [
  [-133.24838, 46.32611],
  [-133.24238, 46.33111],
] as const;

const openPoints = async (
  window: TestWindow,
  points: readonly (readonly [number, number])[],
): Promise<void> => {
  putFile(window, "advice.geojson", pointsFile(points));
  await openNamed(window.page, "advice.geojson");
  await untilLegs(window.page, points.length - 1);
};

const practiceWalk = async ({ page }: TestWindow): Promise<void> => {
  await choose(page, "walk-menu", "Open the practice walk");
  await untilLegs(page, 10);
};

const showLeg = async (page: Page, n: number): Promise<void> => {
  await page
    .locator(".ribbon-leg")
    .nth(n - 1)
    .press("Enter");
  await until(
    async () => (await page.getByRole("heading", { name: new RegExp(`^Leg ${n},`) }).count()) === 1,
    `leg ${n} on the slip`,
  );
};

/** Waits for the odds of the leg as it stands, and gives how many of a hundred find, are stopped, pass by. */
async function oddsOf(page: Page): Promise<readonly [number, number, number]> {
  await until(
    async () =>
      (await page.locator('[data-test="odds-part"][aria-busy="false"] [data-test="odds"]').count()) === 1,
    "the odds",
    60_000,
  );
  const shown = /^(\d+) of 100 find it, (\d+) (?:is|are) stopped, (\d+) pass(?:es)? by$/.exec(
    await textOf(page, "odds"),
  );
  if (!shown) throw new Error(`No odds: ${await textOf(page, "odds")}`);
  return [Number(shown[1]), Number(shown[2]), Number(shown[3])];
}

const undoName = (page: Page): Promise<string | null> =>
  part(page, "undo").first().getAttribute("aria-label");

describe("the odds", () => {
  test("appear by themselves, add up to a hundred walkers, say how they were made, and are gone with the leg", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      expect(await part(page, "odds-part").count()).toBe(0);
      await openPoints(window, HARD);
      const odds = await oddsOf(page);
      expect(odds[0] + odds[1] + odds[2]).toBe(100);
      // The bar says the same to those who do not see it.
      expect(await part(page, "odds-bar").getAttribute("aria-label")).toContain(`${odds[0]} find it`);
      // As dots, bars and crosses on the map; hidden on demand.
      expect(await part(page, "cloud").count()).toBe(1);
      await choose(page, "view-menu", "Where walkers end");
      await until(async () => (await part(page, "cloud").count()) === 0, "the cloud to go");
      await page.locator('[data-ask="odds"]').click();
      const how = await textOf(page, "how");
      expect(how).toContain("10,000 walkers".replace(",", how.includes("10,000") ? "," : " "));
      expect(how).toContain("common practice, no source");
      expect(how).toContain("It does not promise");
      await part(page, "fold-worth").click();
      expect(await textOf(page, "worth")).toContain("without steering marks");
    });
  }, 120_000);

  test("follow the person's settings, which say what they usually are and refuse what cannot be", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await openPoints(window, HARD);
      const [before] = await oddsOf(page);
      await page.keyboard.press("Control+,");
      await part(page, "sheet-odds").click();
      const sheet = plain(await part(page, "settings").textContent());
      expect(sheet).toContain("The target is seen from");
      expect(sheet).toContain("usually 30 m");
      await part(page, "aid-sightM").fill("100 m");
      await part(page, "aid-sightM").press("Enter");
      await until(
        async () => Number(/^\d+/.exec(await textOf(page, "preview-odds"))?.[0]) > before,
        "better odds in the preview",
        60_000,
      );
      await part(page, "aid-driftDeg").fill("90");
      await part(page, "aid-driftDeg").press("Enter");
      expect(await textOf(page, "entry-fault")).toContain("must lie between 1° and 30°, not 90°");
      await page.keyboard.press("Escape");
      await part(page, "usual-aids").click();
      await part(page, "settings-close").click();
      await until(async () => (await oddsOf(page))[0] === before, "the odds to be as they were", 60_000);
      // Without marks fewer find it; back again with the same click.
      await part(page, "steering").selectOption("unaided");
      await until(async () => (await oddsOf(page))[0] < before, "fewer to find it", 60_000);
    });
  }, 180_000);

  test("a leg with low odds says so on slip, ribbon and table, not by colour alone", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await openPoints(window, HARD);
      await oddsOf(page);
      expect(await textOf(page, "low-odds")).toBe("Low odds");
      expect(plain(await page.locator(".leg-heading").first().textContent())).toContain("Low odds");
      expect(await page.locator(".ribbon-leg").first().getAttribute("aria-label")).toContain("Low odds");
      await tableRows(page);
      expect(await textOf(page, "row-odds")).toMatch(/^\d+ · \d+ · \d+ low$/);
    });
  }, 120_000);
});

describe("better ways", () => {
  test("a hard target gets places to go by; one click goes by the first, one undoes it", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await openPoints(window, HARD);
      expect(await textOf(page, "go-by")).toMatch(
        /^Go by the corner of Bridge Wood; from there \d+° magnetic, \d+ m, \d+ double paces/,
      );
      const [before] = await oddsOf(page);
      const take = page.locator('[data-test="take"][data-change="attackPoint"]').first();
      await take.focus();
      expect(await page.locator(".map-attack.pointed").count()).toBe(1);
      await take.press("Enter");
      await untilLegs(page, 2);
      expect(await flags(page).allTextContents()).toEqual(["A", "corner of Bridge Wood", "C"]);
      expect(await undoName(page)).toContain("Go by corner of Bridge Wood");
      const [toPlace] = await oddsOf(page);
      expect(toPlace).toBeGreaterThan(before);
      await page.keyboard.press("Control+z");
      await untilLegs(page, 1);
      expect((await oddsOf(page))[0]).toBe(before);
    });
  }, 180_000);

  test("by the keyboard alone: aim off at a path, read what is dialled, and go straight again", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await showLeg(page, 1);
      const [before] = await oddsOf(page);
      const straight = Number.parseInt(await textOf(page, "bearing"), 10);
      const offset = Number(/Aim off (\d+)°/.exec(await textOf(page, "better"))?.[1]);
      await page.locator('[data-test="take"][data-change="aimOff"]').focus();
      await page.keyboard.press("Enter");
      await until(async () => (await part(page, "aims-off").count()) === 1, "the leg to aim off");
      expect(await textOf(page, "aims-off")).toContain(`${offset}° left of the target, aiming off`);
      await until(
        async () => Number.parseInt(await textOf(page, "bearing"), 10) === straight - offset,
        "the turned bearing",
      );
      expect(await part(page, "instruction").inputValue()).toContain(`aiming off ${offset}° left`);
      expect((await oddsOf(page))[0]).toBeGreaterThan(before);
      await part(page, "go-straight").focus();
      await page.keyboard.press("Enter");
      await until(
        async () => Number.parseInt(await textOf(page, "bearing"), 10) === straight,
        "the straight bearing",
      );
    });
  }, 180_000);

  test("another way along lines puts its points into the walk in one step", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await showLeg(page, 1);
      await oddsOf(page);
      await part(page, "fold-route").click();
      expect(await textOf(page, "other-way")).toMatch(/along (the path|Lowder Path)/);
      expect(await textOf(page, "other-way")).toContain("follow the line, not the bearing");
      await part(page, "take-route").click();
      await until(async () => (await page.locator(".ribbon-leg").count()) > 10, "more legs");
      expect(await undoName(page)).toContain("Another way for leg 1");
      await part(page, "undo").first().click();
      await untilLegs(page, 10);
    });
  }, 120_000);
});

describe("what to do and what to mind", () => {
  test("a line of one's own stays when a point is moved, is marked, and is the program's again with one click", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await openPoints(window, HARD);
      const field = part(page, "instruction");
      const own = "Up to the wood, then along its edge";
      expect(await field.inputValue()).toMatch(/^\d+° magnetic, \d+ m, \d+ paces/);
      await field.fill(own);
      await field.press("Enter");
      await until(
        async () => (await part(page, "instruction-back").count()) === 1,
        "the line to be one's own",
      );
      expect(await part(page, "instruction-stale").count()).toBe(0);
      await flags(page).nth(1).focus();
      await page.keyboard.press("ArrowRight");
      await until(async () => (await part(page, "instruction-stale").count()) === 1, "the mark");
      expect(await textOf(page, "instruction-stale")).toBe("written before the leg was changed");
      expect(await field.inputValue()).toBe(own);
      await tableRows(page);
      expect(await textOf(page, "row-line")).toBe(`${own} may be out of date`);
      await part(page, "instruction-back").click();
      await until(async () => /^\d+° magnetic/.test(await field.inputValue()), "the program's line");
      await page.keyboard.press("Control+z");
      await until(async () => (await field.inputValue()) === own, "one's own again");
    });
  }, 120_000);

  test("near the lake its water and the moss are to be minded, with the caution, and are hatched on the map", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await showLeg(page, 8);
      const mind = await textOf(page, "mind");
      expect(mind).toMatch(/Ulder Water on the right from \d+ m to \d+ m/);
      expect(mind).toContain("wetland Foot Moss on the way");
      expect(mind).toContain("found by computer from map data: there can be others");
      expect(await page.locator(".map-hazard").count()).toBeGreaterThan(1);
      await page.locator(".dangers li").first().hover();
      expect(await page.locator(".map-hazard.pointed").count()).toBeGreaterThan(0);
      expect(await part(page, "ribbon-hazards").locator("path").count()).toBeGreaterThan(1);
    });
  }, 120_000);

  test("the way out is told as the compass is marked, drawn on demand, and for the whole walk under the table", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await showLeg(page, 8);
      await oddsOf(page);
      await part(page, "fold-escape").click();
      expect(await textOf(page, "way-out")).toMatch(/\d+° magnetic to (the )?[\w ]+, \d+ m at most/);
      await page.mouse.move(5, 400);
      expect(await page.locator(".escape-ray").count()).toBe(0);
      await choose(page, "view-menu", "Ways out");
      await until(async () => (await page.locator(".escape-ray").count()) > 0, "ways out on the map");
      await part(page, "show-table").click();
      await until(
        async () => (await part(page, "walk-way-out-statement").count()) === 1,
        "the way out of the whole walk",
        90_000,
      );
    });
  }, 180_000);

  test("odds stand on paper when they are asked for", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await paperTable(page);
      await until(async () => (await paperText(page)).includes("Follow"), "the table");
      expect(await paperText(page)).not.toContain("of 100 find it");
      await part(page, "advice").click();
      await toTable(page);
      await until(
        async () => (await paperText(page)).includes("of 100 find it"),
        "odds on the sheet",
        120_000,
      );
    });
  }, 180_000);
});
