/** A practice course as a person sets it in the window: set, looked at, put into the walk, changed by hand, printed. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, dotOf, flags, part, textOf } from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

test("a course is set on the map, checked while it is changed by hand, printed, and taken back", async () => {
  await inWindow(async ({ page, walksFolder }) => {
    await choose(page, "tools-menu", "Practice courses");
    await part(page, "course-level").selectOption("hard");
    await part(page, "course-make").click();
    const legs = part(page, "course-leg");
    await until(
      async () => (await legs.count()) > 0 || (await textOf(page, "course-said")).includes("No course"),
      "a course",
    );
    expect(await textOf(page, "course-said")).toBe("");
    // Start, three points, and back.
    expect(await legs.count()).toBe(4);
    expect(await part(page, "course-drawing").locator(".fan-line").count()).toBe(4);
    const total = /([\d.]+) km/.exec(await textOf(page, "course-made"))?.[1];
    const lengths = (await legs.allTextContents()).map((text) =>
      Number(/ ([\d.]+)\s(k?)m/.exec(text.replace(/\u00a0/g, " "))?.[1]),
    );
    const metres = lengths.map((one) => (one < 10 ? one * 1000 : one));
    expect(metres.reduce((sum, one) => sum + one, 0) / 1000).toBeCloseTo(Number(total), 1);
    for (const one of metres) expect(one >= 395 && one <= 1005).toBe(true);

    // One point anew: the others keep their legs.
    const before = await legs.allTextContents();
    await legs.first().getByRole("button").click();
    await until(async () => {
      const now = await legs.allTextContents();
      return now.length === 4 && now[0] !== before[0];
    }, "another place");
    const after = await legs.allTextContents();
    expect(after.slice(2)).toEqual(before.slice(2));

    await part(page, "course-setter").click();
    await page.getByRole("dialog").getByRole("button", { name: "Save", exact: true }).click();
    await until(async () => (await textOf(page, "course-said")).includes("is written"), "the sheet");
    const pdf = readdirSync(walksFolder).find((name) => name.endsWith(".pdf"));
    expect(
      readFileSync(join(walksFolder, pdf ?? ""))
        .subarray(0, 5)
        .toString(),
    ).toBe("%PDF-");

    await part(page, "course-take").click();
    await until(async () => (await flags(page).count()) === 5, "the walk");
    await until(async () => (await part(page, "course-rules").count()) === 1, "the rules");
    expect(await textOf(page, "course-rules")).toContain("Every rule is kept.");
    // Dragged next to another point, it breaks one.
    const [from, to] = [await dotOf(page, 1), await dotOf(page, 2)];
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2);
    await page.mouse.move(to.x + 4, to.y + 4);
    await page.mouse.up();
    await until(async () => (await textOf(page, "course-rules")).includes("a rule"), "a broken rule");
    expect(await textOf(page, "course-rules")).toContain("Points 1 and 2 break a rule: points 100 m apart.");
    await part(page, "course-slip").getByRole("button", { name: "Close" }).click();
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+z");
    await until(async () => (await flags(page).count()) === 0, "the walk as it was");
  });
});
