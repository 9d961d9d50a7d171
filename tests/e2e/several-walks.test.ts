/** Several walks: one beside another, taken up, cut and joined; points put in another order by the table's handles. */
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import {
  flags,
  openNamed,
  part,
  plain,
  pointsFile,
  pointsIn,
  putFile,
  readWalk,
  saveAs,
  tableRows,
  textOf,
  untilLegs,
} from "./support/planner.ts";
import { until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const FIRST = [
  [-133.194, 46.3343],
  [-133.1878, 46.3305],
  [-133.1765, 46.3321],
  [-133.1704, 46.3385],
] as const;
const OTHER = [
  [-133.21, 46.33],
  [-133.205, 46.336],
  [-133.2, 46.34],
] as const;

const rowNames = async (page: Page): Promise<string[]> =>
  (await tableRows(page)).map((cells) => cells[2] as string);
const button = (page: Page, name: string | RegExp) => part(page, "beside-slip").getByRole("button", { name });

test("a walk is laid beside, worked on in turn, cut in two and joined again; undo takes the joining back", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    putFile(window, "first.geojson", pointsFile(FIRST));
    putFile(window, "other.geojson", pointsFile(OTHER));
    await openNamed(page, "first.geojson");
    await untilLegs(page, 3);
    await saveAs(page, "first");

    await page.keyboard.press("Control+Shift+b");
    await part(page, "beside-slip").waitFor();
    await page.keyboard.press("Escape");
    expect(await part(page, "beside-slip").count()).toBe(0);
    await page.keyboard.press("Control+Shift+b");
    expect(await textOf(page, "beside-slip")).toContain("No walk lies beside this one");
    await button(page, "Lay a walk beside…").click();
    await page.getByRole("dialog").getByRole("button", { name: "other.geojson", exact: true }).click();
    await part(page, "beside-walk").waitFor();
    expect(plain(await part(page, "beside-walk").textContent())).toContain("2 legs");
    expect(await part(page, "beside-drawing").locator(".beside-point").count()).toBe(3);
    // The walk worked on is as it was.
    expect(await flags(page).count()).toBe(4);
    await part(page, "beside-walk").getByRole("checkbox").uncheck();
    expect(await part(page, "beside-drawing").count()).toBe(0);
    await part(page, "beside-walk").getByRole("checkbox").check();

    await button(page, "Work on it").click();
    await untilLegs(page, 2);
    expect(plain(await part(page, "beside-walk").textContent())).toContain("3 legs");
    await button(page, "Work on it").click();
    await untilLegs(page, 3);

    // Cut at its second point: one leg stays, two lie beside and are not saved.
    await flags(page).nth(1).focus();
    await page.keyboard.press("Enter");
    await part(page, "cut").click();
    await untilLegs(page, 1);
    const second = part(page, "beside-walk").filter({ hasText: "second part" });
    expect(plain(await second.textContent())).toContain("2 legs, not saved");
    await second.getByRole("button", { name: "Join it to the end" }).click();
    await untilLegs(page, 3);
    expect(await part(page, "beside-walk").count()).toBe(1);
    await saveAs(page, "joined");
    expect(pointsIn(readWalk(window, "joined.walk.geojson"))).toEqual(FIRST.map((at) => [...at]));

    await part(page, "beside-walk").getByRole("button", { name: "Join it to the end" }).click();
    await until(async () => (await flags(page).count()) === 7, "the points of both");
    await page.keyboard.press("Control+z");
    await until(async () => (await flags(page).count()) === 4, "the points there were");
  });
});

test("rows of the table are dragged, and moved by keys, to another place in the walk", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    putFile(window, "first.geojson", pointsFile(FIRST));
    await openNamed(page, "first.geojson");
    await untilLegs(page, 3);
    expect(await rowNames(page)).toEqual(["B", "C", "D"]);
    const handles = part(page, "leg-table").locator(".row-handle");
    const [from, to] = [await handles.nth(0).boundingBox(), await handles.nth(2).boundingBox()];
    if (!from || !to) throw new Error("There are no handles.");
    await page.mouse.move(from.x + 4, from.y + 5);
    await page.mouse.down();
    await page.mouse.move(to.x + 4, to.y + to.height + 4, { steps: 6 });
    expect(await part(page, "leg-table").locator("tr.drop-after").count()).toBe(1);
    await page.mouse.up();
    await saveAs(page, "moved");
    const [a, b, c, d] = FIRST.map((at) => [...at]);
    expect(pointsIn(readWalk(window, "moved.walk.geojson"))).toEqual([a, c, d, b]);

    // The last goes up by one key, and one step back takes it down again.
    await handles.nth(2).focus();
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Control+s");
    await until(async () => (await textOf(page, "saved-state")) === "saved", "the walk to be saved");
    expect(pointsIn(readWalk(window, "moved.walk.geojson"))).toEqual([a, c, b, d]);
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+s");
    await until(async () => (await textOf(page, "saved-state")) === "saved", "the walk to be saved");
    expect(pointsIn(readWalk(window, "moved.walk.geojson"))).toEqual([a, b, c, d]);
  });
});
