/** Drawing a walk as a person does, and reading its figures. */
import { bearing, distance } from "@turf/turf";
import { describe, expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import {
  choose,
  clickMap,
  dotOf,
  flags,
  mapPlace,
  openNamed,
  part,
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

const metres = (text: string): number => Number(/^(\d+) m$/.exec(text)?.[1] ?? NaN);
const degrees = (text: string): number => Number(/(-?[\d.]+)°/.exec(text)?.[1] ?? NaN);

/** A text once it no longer changes: figures come a moment after the change. */
async function settled(read: () => Promise<string>): Promise<string> {
  let last = await read();
  let since = Date.now();
  await until(async () => {
    const now = await read();
    if (now !== last) since = Date.now();
    last = now;
    return Date.now() - since > 600;
  }, "figures at rest");
  return last;
}

// Inverse problem on WGS 84 by GeodSolve of GeographicLib 2.1.2:
// printf '46.3418 -133.1925 46.3343 -133.1940\n…' | GeodSolve -i -p 3   (azimuth at the start, distance in metres)
const REFERENCE = {
  points: [
    [-133.1925, 46.3418],
    [-133.194, 46.3343],
    [-133.1878, 46.3305],
    [-133.1765, 46.3321],
    [-133.1704, 46.3385],
  ] as const,
  azimuths: [360 - 172.11280672, 131.50059216, 78.44347966, 33.43006141],
  distances: [841.645, 637.433, 888.087, 852.46],
  // GeoConvert -c at the start of each leg: meridian convergence, degrees.
  convergences: [1.30788, 1.30663, 1.31104, 1.31925],
};

describe("drawing", () => {
  test("three clicks make two legs with their figures; the cautions and the invented place are said", async () => {
    await inWindow(async ({ page }) => {
      expect(await page.locator(".map-edge").textContent()).toContain("Invented terrain, not a real place.");
      for (const [x, y] of [
        [0.3, 0.7],
        [0.45, 0.4],
        [0.7, 0.5],
      ] as const)
        await clickMap(page, x, y);
      await untilLegs(page, 2);
      expect(await flags(page).allTextContents()).toEqual(["A", "B", "C"]);
      expect(await page.getByRole("heading", { name: "Leg 2, B to C" }).count()).toBe(1);
      expect(await textOf(page, "bearing")).toMatch(/^\d{1,3}°$/);
      expect(metres(await textOf(page, "distance"))).toBeGreaterThan(100);
      expect(metres(await textOf(page, "slope-distance"))).toBeGreaterThanOrEqual(
        metres(await textOf(page, "distance")),
      );
      expect(await textOf(page, "climb")).toMatch(/^\d+ m$/);
      expect(await textOf(page, "time")).toMatch(/min$/);
      const rows = await tableRows(page);
      expect(rows.map((cells) => cells.slice(0, 3))).toEqual([
        ["1", "A", "B"],
        ["2", "B", "C"],
      ]);
      expect(await textOf(page, "declination-statement")).toMatch(
        /^Declination 1\d\.\d° E ± 0\.\d° on \d{1,2} [A-Z][a-z]+ \d{4} by WMM2025, changing by .* a year/,
      );
      await choose(page, "view-menu", "Before you rely on it");
      expect(await page.getByRole("dialog").textContent()).toContain("paper map and a compass");
      await page.keyboard.press("Escape");
    });
  });

  test("bearings and distances on screen are those of GeographicLib", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      putFile(window, "reference.geojson", pointsFile(REFERENCE.points));
      await openNamed(page, "reference.geojson");
      await untilLegs(page, 4);
      for (const [i, azimuth] of REFERENCE.azimuths.entries()) {
        await page.locator(".ribbon-leg").nth(i).click();
        await until(
          async () => (await page.getByRole("heading", { name: `Leg ${i + 1},` }).count()) === 1,
          `leg ${i + 1} on the slip`,
        );
        expect(metres(await textOf(page, "distance"))).toBe(Math.round(REFERENCE.distances[i] as number));
        expect(degrees(await textOf(page, "bearing-true"))).toBeCloseTo(azimuth, 0.9);
        expect(Math.abs(degrees(await textOf(page, "bearing-true")) - azimuth)).toBeLessThanOrEqual(0.05001);
        expect(
          Math.abs(
            degrees(await textOf(page, "bearing-grid")) - (azimuth - (REFERENCE.convergences[i] as number)),
          ),
        ).toBeLessThanOrEqual(0.06);
        // What is set, what is true and the declination beside them must agree with each other.
        const declination = degrees(await textOf(page, "declination"));
        expect(Math.abs(degrees(await textOf(page, "bearing")) + declination - azimuth)).toBeLessThanOrEqual(
          0.6,
        );
        expect((degrees(await textOf(page, "bearing")) + 180) % 360).toBe(
          degrees(await textOf(page, "bearing-back")),
        );
      }
    });
  });

  test("the place clicked is the place saved: distances on screen against the saved coordinates", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await clickMap(page, 0.3, 0.6);
      await clickMap(page, 0.6, 0.4);
      await untilLegs(page, 1);
      await saveAs(page, "two.walk.geojson");
      const [a, b] = pointsIn(readWalk(window, "two.walk.geojson")) as [[number, number], [number, number]];
      // turf works on a sphere: up to 0.6 % and 0.2° off the ellipsoid.
      const expected = distance(a, b, { units: "meters" });
      const shown = metres(await textOf(page, "distance"));
      expect(Math.abs(shown / expected - 1)).toBeLessThan(0.006);
      expect(
        Math.abs(degrees(await textOf(page, "bearing-true")) - ((bearing(a, b) + 360) % 360)),
      ).toBeLessThan(0.25);
    });
  });
});

describe("changing", () => {
  test("a day typed figure by figure is one step back, and a year is taken when it is whole", async () => {
    await inWindow(async ({ page }) => {
      const day = part(page, "date");
      const before = await day.inputValue();
      await day.focus();
      await page.keyboard.type("0516202");
      // The year stands as 0202 in the field, and nowhere else.
      await day.blur();
      const thisYear = `${before.slice(0, 4)}-05-16`;
      await until(async () => (await day.inputValue()) === thisYear, "the day that holds");
      await page.keyboard.press("Control+z");
      await until(async () => (await day.inputValue()) === before, "the day before");
      await day.focus();
      await page.keyboard.type("05162027");
      await day.blur();
      expect(await day.inputValue()).toBe("2027-05-16");
      await page.keyboard.press("Control+z");
      await until(async () => (await day.inputValue()) === before, "the day before again");
    });
  });

  test("dragging a point changes the figures while it moves, and is one step back", async () => {
    await inWindow(async ({ page }) => {
      for (const [x, y] of [
        [0.3, 0.6],
        [0.5, 0.5],
        [0.7, 0.6],
      ] as const)
        await clickMap(page, x, y);
      await untilLegs(page, 2);
      const before = await textOf(page, "distance");
      const from = await dotOf(page, 2);
      await page.mouse.move(from.x, from.y);
      await page.mouse.down();
      await page.mouse.move(from.x + 30, from.y - 20, { steps: 4 });
      await until(async () => (await textOf(page, "distance")) !== before, "figures during the drag");
      const during = await textOf(page, "distance");
      await page.mouse.move(from.x + 80, from.y - 60, { steps: 6 });
      await until(async () => (await textOf(page, "distance")) !== during, "figures to follow the drag");
      await page.mouse.up();
      expect(await part(page, "undo").getAttribute("aria-label")).toBe("Undo: Move C");
      const after = await settled(() => textOf(page, "distance"));
      await page.keyboard.press("Control+z");
      await until(async () => (await textOf(page, "distance")) === before, "the drag undone at once");
      expect(await part(page, "redo").getAttribute("aria-label")).toBe("Redo: Move C");
      await page.keyboard.press("Control+Shift+z");
      await until(async () => (await textOf(page, "distance")) === after, "the drag done again");
    });
  });

  test("Escape takes a drag back and leaves nothing to undo but the points", async () => {
    await inWindow(async ({ page }) => {
      for (const [x, y] of [
        [0.3, 0.6],
        [0.5, 0.5],
      ] as const)
        await clickMap(page, x, y);
      await untilLegs(page, 1);
      const before = await textOf(page, "distance");
      const from = await dotOf(page, 1);
      await page.mouse.move(from.x, from.y);
      await page.mouse.down();
      await page.mouse.move(from.x + 60, from.y + 40, { steps: 4 });
      await until(async () => (await textOf(page, "distance")) !== before, "figures during the drag");
      await page.keyboard.press("Escape");
      await page.mouse.up();
      await until(async () => (await textOf(page, "distance")) === before, "the drag taken back");
      expect(await part(page, "undo").getAttribute("aria-label")).toBe("Undo: Add B");
      expect(await flags(page).count()).toBe(2);
    });
  });

  test("a leg pulled by its middle gets a point there; clicked, it is the one on the slip", async () => {
    await inWindow(async ({ page }) => {
      for (const [x, y] of [
        [0.25, 0.6],
        [0.75, 0.6],
        [0.75, 0.2],
      ] as const)
        await clickMap(page, x, y);
      await untilLegs(page, 2);
      const middle = await mapPlace(page, 0.5, 0.6);
      await page.mouse.click(middle.x, middle.y);
      await until(
        async () => (await page.getByRole("heading", { name: "Leg 1, A to B" }).count()) === 1,
        "leg 1 on the slip",
      );
      expect(await flags(page).count()).toBe(3);
      await page.mouse.move(middle.x, middle.y);
      await page.mouse.down();
      await page.mouse.move(middle.x, middle.y - 80, { steps: 6 });
      await page.mouse.up();
      await untilLegs(page, 3);
      expect(await flags(page).allTextContents()).toEqual(["A", "B", "C", "D"]);
      expect(await part(page, "undo").getAttribute("aria-label")).toBe("Undo: Insert B");
    });
  });

  test("a point is renamed in the table, everywhere, and its letter comes back", async () => {
    await inWindow(async ({ page }) => {
      for (const [x, y] of [
        [0.3, 0.6],
        [0.5, 0.5],
        [0.7, 0.6],
      ] as const)
        await clickMap(page, x, y);
      await untilLegs(page, 2);
      await part(page, "show-table").click();
      const field = page.getByLabel("Name of point B").first();
      await field.fill("Beck foot");
      await field.press("Enter");
      await until(async () => (await tableRows(page))[0]?.[2] === "Beck foot", "the new name in the table");
      expect((await tableRows(page))[1]?.[1]).toBe("Beck foot");
      await until(
        async () => (await page.getByRole("heading", { name: "Leg 2, Beck foot to C" }).count()) === 1,
        "the new name on the slip",
      );
      expect(await part(page, "undo").getAttribute("aria-label")).toBe("Undo: Rename B");
      await part(page, "undo").click();
      await until(async () => (await tableRows(page))[0]?.[2] === "B", "the letter again");
    });
  });

  test("the day and the north change what is shown", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      putFile(window, "reference.geojson", pointsFile(REFERENCE.points));
      await openNamed(page, "reference.geojson");
      await untilLegs(page, 4);
      await page.locator(".ribbon-leg").nth(1).click();
      await part(page, "north").selectOption("true");
      // The table gives the map's bearings, 131.5006° by GeodSolve (above); a needle is dialled magnetic all the same.
      const [, second = []] = await tableRows(page);
      expect(second[3]).toBe("132°");
      expect(second[4]).toBe(await textOf(page, "bearing"));
      expect(second[4]).not.toBe("132°");
      await part(page, "north").selectOption("magnetic");
      const declinationNow = await textOf(page, "declination");
      await part(page, "date").fill("2025-01-05");
      await part(page, "date").blur();
      await until(
        async () => (await textOf(page, "declination")) !== declinationNow,
        "another day's declination",
      );
      await part(page, "date").fill("2041-01-05");
      await part(page, "date").blur();
      await until(
        async () => (await textOf(page, "bearing")) === "–",
        "no bearing outside the model's years",
      );
    });
  });
});

test("a point clicked is picked, Delete takes it out and its legs become one", async () => {
  await inWindow(async ({ page }) => {
    const places = [
      [0.3, 0.6],
      [0.5, 0.4],
      [0.7, 0.6],
    ] as const;
    for (const [x, y] of places) await clickMap(page, x, y);
    await untilLegs(page, 2);
    const dot = await dotOf(page, 1);
    await page.mouse.click(dot.x, dot.y);
    expect(await flags(page).nth(1).getAttribute("aria-pressed")).toBe("true");
    expect(await page.getByRole("heading", { name: "Leg 1, A to B" }).count()).toBe(1);
    await page.keyboard.press("Delete");
    await untilLegs(page, 1);
    expect(await part(page, "undo").getAttribute("aria-label")).toBe("Undo: Remove B");
  });
});

test("all of it by keyboard: points set under the cross, moved, taken out", async () => {
  await inWindow(async ({ page }) => {
    await page.locator(".maplibregl-canvas").focus();
    await page.keyboard.press("Enter");
    await until(async () => (await flags(page).count()) === 1, "a point under the cross");
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
    await page.waitForTimeout(500);
    await page.keyboard.press("Enter");
    await untilLegs(page, 1);
    const before = await textOf(page, "distance");
    await flags(page).nth(1).focus();
    // Along the leg, so that it becomes longer by as much.
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await until(async () => (await textOf(page, "distance")) !== before, "the point moved by keys");
    expect(await part(page, "undo").getAttribute("aria-label")).toBe("Undo: Move B");
    await page.keyboard.press("Delete");
    await until(async () => (await flags(page).count()) === 1, "the point gone");
    await page.keyboard.press("Control+z");
    await until(async () => (await flags(page).count()) === 2, "the point back");
    await flags(page).nth(0).focus();
    await page.keyboard.press("i");
    await until(async () => (await flags(page).count()) === 3, "a point in the middle of the leg");
  });
});
