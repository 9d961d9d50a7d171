/** A practice course as a person sets it in the window: set, looked at, put into the walk, changed by hand, saved, printed. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, dotOf, flags, mapPlace, part, plain, textOf } from "./support/planner.ts";
import { paperText } from "./support/print-screen.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();
/** A search takes its time where other work is done beside. */
const SEARCH_MS = 180_000;

const legs = (page: Page) => part(page, "course-leg");

async function fill(page: Page, name: string, text: string): Promise<void> {
  await part(page, name).fill(text);
  await part(page, name).press("Enter");
  await until(async () => (await part(page, "entry-fault").count()) === 0, `${name} to be taken`);
}

async function setCourse(page: Page): Promise<void> {
  await part(page, "course-make").click();
  await until(
    async () => (await legs(page).count()) > 0 || (await page.locator(".sum-fault").count()) > 0,
    "a course",
    SEARCH_MS,
  );
  expect(await textOf(page, "course-said")).toBe("");
}

/** Metres of each leg that is listed. */
const lengthsOf = async (page: Page): Promise<number[]> =>
  (await legs(page).allTextContents()).map((text) => {
    const [, figure, unit] = / ([\d.]+) (k?m)[,;]/.exec(plain(text)) ?? [];
    return Number(figure) * (unit === "km" ? 1000 : 1);
  });

describe("a practice course", () => {
  test("is set, one leg of it anew, put into the walk, checked while it is changed by hand, and taken back", async () => {
    await inWindow(async ({ page }) => {
      await choose(page, "tools-menu", "Practice courses");
      await part(page, "course-level").selectOption("hard");
      await setCourse(page);
      // Start, three points, and back.
      expect(await legs(page).count()).toBe(4);
      expect(await part(page, "course-drawing").locator(".fan-line").count()).toBe(4);
      for (const one of await lengthsOf(page)) expect(one >= 395 && one <= 1005).toBe(true);

      // One leg anew: the others keep their points.
      const before = await legs(page).allTextContents();
      await legs(page).first().getByRole("button").click();
      await until(
        async () => {
          const now = await legs(page).allTextContents();
          return now.length === 4 && now[0] !== before[0];
        },
        "another place",
        SEARCH_MS,
      );
      expect((await legs(page).allTextContents()).slice(2)).toEqual(before.slice(2));

      await part(page, "course-take").click();
      await until(async () => (await flags(page).count()) === 5, "the walk");
      await until(async () => (await part(page, "course-rules").count()) === 1, "the rules");
      const rules = part(page, "course-rules");
      expect(await textOf(page, "course-rules")).toContain("Every rule is kept.");
      expect(plain(await rules.locator('[data-test="rule-apart"]').textContent())).toContain(
        "Points 100 m apart: kept",
      );
      // Dragged next to another point, it breaks one.
      const [from, to] = [await dotOf(page, 1), await dotOf(page, 2)];
      await page.mouse.move(from.x, from.y);
      await page.mouse.down();
      await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2);
      await page.mouse.move(to.x + 4, to.y + 4);
      await page.mouse.up();
      const apart = async (): Promise<string> =>
        plain(await rules.locator('[data-test="rule-apart"]').textContent());
      await until(async () => (await apart()).includes("broken"), "a broken rule");
      expect(await apart()).toContain("Points 1 and 2 break a rule: points 100 m apart.");
      // Each leg is told apart: both beside the point that was moved are of no length that was asked for.
      expect(await textOf(page, "course-rules")).toContain("Leg 2 breaks a rule: legs of 400 m to 1000 m.");
      await part(page, "course-slip").getByRole("button", { name: "Close" }).click();
      await page.keyboard.press("Control+z");
      await page.keyboard.press("Control+z");
      await until(async () => (await flags(page).count()) === 0, "the walk as it was");
    });
  });

  test("begins where one clicks, keeps to the length and climb that were wished, and is for several groups", async () => {
    await inWindow(async ({ page, walksFolder }) => {
      await choose(page, "tools-menu", "Practice courses");
      await part(page, "course-level").selectOption("hard");
      await part(page, "course-kind").selectOption("line");
      await part(page, "course-start").selectOption("place");
      // Nothing is written yet: that is said, and nothing is set.
      await part(page, "course-make").click();
      await until(
        async () => (await textOf(page, "course-said")).includes("Write where the course begins"),
        "what is missing",
      );
      await part(page, "fix-pick-course-place").click();
      await until(async () => (await textOf(page, "course-said")).includes("Click"), "the wait for a click");
      const place = await mapPlace(page, 0.75, 0.45);
      await page.mouse.click(place.x, place.y);
      await until(
        async () => /^-?\d+\.\d{6} -?\d+\.\d{6}$/.test(await part(page, "fix-course-place").inputValue()),
        "the place clicked",
      );
      // The click gave the start, and no point of the walk.
      expect(await flags(page).count()).toBe(0);
      await fill(page, "course-total-least", "1.5 km");
      await fill(page, "course-total-most", "2100");
      await fill(page, "course-climb-most", "400");
      await fill(page, "course-odds", "5");
      await part(page, "course-backstops").selectOption("any");
      await fill(page, "course-count", "2");
      await setCourse(page);
      const slip = part(page, "course-slip");
      expect(await slip.getByRole("button", { name: /^Course [A-Z]$/ }).count()).toBe(2);
      for (const name of ["Course B", "Course A"]) {
        await slip.getByRole("button", { name, exact: true }).click();
        await until(async () => (await textOf(page, "course-made")).includes(`${name}:`), name);
        const total = (await lengthsOf(page)).reduce((sum, one) => sum + one, 0);
        expect(total).toBeGreaterThan(1480);
        expect(total).toBeLessThan(2120);
      }
      const [, climb] = /↑ (\d+) m/.exec(await textOf(page, "course-made")) ?? [];
      expect(Number(climb)).toBeLessThanOrEqual(400);
      const rules = await slip.locator(".course-verdicts > li").allTextContents();
      expect(rules.map(plain)).toEqual(
        expect.arrayContaining([
          "✓ A course of 1500 m to 2100 m: kept",
          "✓ A climb of 0 m to 400 m: kept",
          "✓ At least 5 of 100 find every point: kept",
        ]),
      );
      expect(rules.join()).not.toContain("backstop");

      // Each becomes a walk of its own, beside the one on the table.
      await part(page, "course-save").click();
      for (const name of ["Course-A", "Course-B"]) {
        const dialog = page.getByRole("dialog");
        await until(
          async () => (await dialog.getByRole("textbox").inputValue()).startsWith(name),
          `the name of ${name}`,
        );
        await dialog.getByRole("button", { name: "Save", exact: true }).click();
      }
      await until(async () => (await textOf(page, "course-said")).includes("are written"), "the walks");
      const files = readdirSync(walksFolder).filter((name) => name.endsWith(".walk.geojson"));
      expect(files.toSorted()).toEqual(["Course-A.walk.geojson", "Course-B.walk.geojson"]);
      const [a, b] = files.map((name) => JSON.parse(readFileSync(join(walksFolder, name), "utf8")));
      expect(a.features[0].geometry.coordinates).toEqual(b.features[0].geometry.coordinates);
      expect(a.features[1].geometry.coordinates).not.toEqual(b.features[1].geometry.coordinates);
      expect(await flags(page).count()).toBe(0);
    });
  });

  test("is looked at on the print screen, with bearings for learners or without, and written", async () => {
    await inWindow(async ({ page, walksFolder }) => {
      await choose(page, "tools-menu", "Practice courses");
      await part(page, "course-level").selectOption("hard");
      await fill(page, "course-points", "2");
      await setCourse(page);
      const bearing = /(\d{3})°/.exec(
        plain(await legs(page).first().textContent()).replace(
          / (\d{1,3})°/,
          (_, deg: string) => ` ${deg.padStart(3, "0")}°`,
        ),
      )?.[0];
      await part(page, "course-sheets").click();
      await until(async () => (await part(page, "course-screen").count()) === 1, "the print screen");
      for (const other of ["course-setter", "course-scoring"]) await part(page, other).uncheck();
      const shows = (what: string, is: boolean): Promise<void> =>
        until(
          async () => {
            const text = await paperText(page);
            return text.includes("Learner’s sheet") && text.includes(what) === is;
          },
          `${is ? "" : "no "}${what} on the sheet`,
          SEARCH_MS,
        );
      await shows(String(bearing), true);
      await part(page, "course-give-map").check();
      await shows(String(bearing), false);
      await part(page, "course-learner").uncheck();
      await part(page, "course-scoring").check();
      await until(
        async () => (await paperText(page)).includes("Scoring sheet"),
        "the scoring sheet",
        SEARCH_MS,
      );
      await until(async () => await part(page, "save-pdf").isEnabled(), "whole pages", SEARCH_MS);
      await part(page, "save-pdf").click();
      await page.getByRole("dialog").last().getByRole("button", { name: "Save", exact: true }).click();
      await until(
        async () => readdirSync(walksFolder).some((name) => name.endsWith(".pdf")),
        "the sheets",
        SEARCH_MS,
      );
      const pdf = readdirSync(walksFolder).find((name) => name.endsWith(".pdf")) ?? "";
      expect(readFileSync(join(walksFolder, pdf)).subarray(0, 5).toString()).toBe("%PDF-");
    });
  });

  test("is given up in mid-search, with what was set before still there", async () => {
    await inWindow(async ({ page }) => {
      await choose(page, "tools-menu", "Practice courses");
      await part(page, "course-level").selectOption("hard");
      await setCourse(page);
      const before = await legs(page).allTextContents();
      // Odds nobody keeps, for many groups: a long search.
      await fill(page, "course-odds", "99");
      await fill(page, "course-count", "8");
      await part(page, "course-make").click();
      await until(async () => (await textOf(page, "course-said")).includes("of 8 courses"), "how far it is");
      expect(await legs(page).count()).toBe(0);
      await part(page, "course-cancel").click();
      await until(async () => (await legs(page).count()) === before.length, "what was set before");
      expect(await legs(page).allTextContents()).toEqual(before);
      expect(await textOf(page, "course-said")).toBe("");
      // The worker is free at once: the next course comes.
      await fill(page, "course-odds", "");
      await fill(page, "course-count", "1");
      await fill(page, "course-seed", "2");
      await part(page, "course-make").click();
      await until(
        async () => {
          const now = await legs(page).allTextContents();
          return now.length > 0 && now[0] !== before[0];
        },
        "another course",
        SEARCH_MS,
      );
    });
  });
});
