/** Compass, declination, pace, time and units as a person sets them, and what slip, table and paper make of it. */
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, part, plain, settle, tableRows, textOf } from "./support/planner.ts";
import { paperTable, paperText } from "./support/print-screen.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const practiceWalk = async ({ page }: TestWindow): Promise<void> => {
  await choose(page, "walk-menu", "Open the practice walk");
  await until(async () => (await page.locator(".ribbon-leg").count()) > 7, "the practice walk");
};

const openSheet = async (page: Page, sheet: string): Promise<void> => {
  if ((await part(page, "settings").count()) === 0) await page.keyboard.press("Control+,");
  await part(page, `sheet-${sheet}`).click();
};

const closeSettings = async (page: Page): Promise<void> => {
  await part(page, "settings-close").click();
  await until(async () => (await part(page, "settings").count()) === 0, "the settings to close");
};

/** Writes into a blank and is done with it. */
const write = async (page: Page, blank: string, text: string): Promise<void> => {
  await part(page, blank).fill(text);
  await part(page, blank).press("Enter");
};

const shows = (page: Page, name: string, text: string | RegExp): Promise<void> =>
  until(async () => {
    const shown = await textOf(page, name);
    return typeof text === "string" ? shown === text : text.test(shown);
  }, `${name} to show ${text}`);

/** The first figure in a text. */
const number = (text: string): number => Number(/\d+(?:\.\d+)?/.exec(text)?.[0]);

describe("the compass", () => {
  test("in mils shows mils on slip, ribbon, table and paper, by the handbook's 6400 to the circle", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      const degrees = number(await textOf(page, "bearing-true"));
      await openSheet(page, "compass");
      await part(page, "compass-unit").selectOption("mils");
      await shows(page, "preview-bearing", /^\d+ mils$/);
      await closeSettings(page);
      const set = await textOf(page, "bearing");
      expect(set).toMatch(/^\d{1,4} mils$/);
      expect(number(set) % 10).toBe(0);
      // 1° is 17.78 mils: US Army FM 21-26 (1993), para 6-1b. The degrees were shown to a tenth.
      expect(Math.abs(number(await textOf(page, "bearing-true")) - degrees * 17.7778)).toBeLessThan(1.4);
      // Back azimuth in mils: add or subtract 3200 (same manual).
      expect(Math.abs(number(set) - number(await textOf(page, "bearing-back")))).toBe(3200);
      expect(plain(await page.locator(".leg-bearing").first().textContent())).toMatch(/^\d+ mils$/);
      for (const row of await tableRows(page))
        expect(row.filter((cell) => /^\d+ mils$/.test(cell))).toHaveLength(2);
      await paperTable(page);
      const figure = String(number(set));
      await until(
        async () => (await paperText(page)).split(/\s+/).includes(figure),
        `${figure} mils on paper`,
      );
    });
  });

  test("by quadrants, and with its declination set on it, dials the map's own bearings", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      const trueDeg = Math.round(number(await textOf(page, "bearing-true")));
      await openSheet(page, "compass");
      await part(page, "compass-adjustable").click();
      await closeSettings(page);
      await shows(page, "bearing", `${trueDeg}°`);
      expect(await textOf(page, "bearing-words")).toMatch(
        /^true, to set, with 15\.\d° E set on the compass$/,
      );
      await openSheet(page, "compass");
      await part(page, "compass-unit").selectOption("quadrant");
      await closeSettings(page);
      // South-west of south: 192° is S 12° W, as surveyors write it.
      await shows(page, "bearing", `S ${trueDeg - 180}° W`);
    });
  });
});

describe("declination", () => {
  test("a grid–magnetic angle from the margin turns the bearings as the manual's rule says; undo brings them back", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      const before = await textOf(page, "bearing");
      await openSheet(page, "declination");
      await part(page, "printed-of").selectOption("gridMagnetic");
      await write(page, "printed-value", "9° E");
      await write(page, "printed-year", "2027");
      await shows(page, "printed-today", /° E$/);
      // The model rules until the other is chosen: nothing has turned yet.
      expect(await textOf(page, "bearing")).toBe(before);
      await part(page, "rules-printed").click();
      await closeSettings(page);
      await until(async () => (await textOf(page, "bearing")) !== before, "the bearing to turn");
      await part(page, "north").selectOption("grid");
      // Magnetic 190° with an easterly angle of 9° is grid 199°: Soldier's Manual of Common Tasks, converting azimuths.
      const grid = number(await textOf(page, "bearing-grid"));
      const magnetic = number(await textOf(page, "bearing"));
      expect(Math.abs(grid - 9 - magnetic)).toBeLessThanOrEqual(0.551);
      expect(await textOf(page, "north-rule")).toBe(
        "Magnetic north lies 9.0° E of grid north; map to compass: subtract 9.0°, compass to map: add 9.0°.",
      );
      await tableRows(page);
      expect(await textOf(page, "declination-statement")).toMatch(
        /from the map’s margin.*WMM2025 gives 15\.\d° E/,
      );
      await part(page, "undo").click();
      await part(page, "undo").click();
      await shows(page, "bearing", before);
    });
  });

  test("brings a margin to the day beside the model, and says how far apart they are", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await openSheet(page, "declination");
      await part(page, "settings-date").fill("2026-01-01");
      await write(page, "printed-value", "14°05' E");
      await write(page, "printed-year", "1998");
      await write(page, "printed-change", "6' W");
      // By hand: 845′ − 28 × 6′ = 677′ = 11.28° E.
      await shows(page, "printed-today", "11.3° E");
      const model = number(await textOf(page, "model-today"));
      await shows(page, "declination-apart", `The two are ${(model - 11.2833).toFixed(1)}° apart.`);
      const notes = await part(page, "declination-note").allTextContents();
      expect(notes.map(plain).join(" ")).toContain("28 years old");
    });
  });

  test("outside the model's years there is none, unless one insists; then every figure is marked", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await openSheet(page, "declination");
      await part(page, "settings-date").fill("2031-06-01");
      await shows(page, "model-missing", /There is no magnetic model for 2031/);
      expect(await textOf(page, "bearing")).toBe("–");
      await part(page, "beyond-model").click();
      await shows(page, "model-today", /° E ± /);
      await closeSettings(page);
      await shows(page, "bearing", /^\d+°$/);
      expect(await part(page, "slip").textContent()).toContain("carried on beyond its years");
      await tableRows(page);
      expect(await textOf(page, "table-warning")).toContain("beyond its years");
    });
  });

  test("what cannot be is said in a sentence, and changes nothing", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await openSheet(page, "declination");
      await write(page, "printed-value", "12 degrees somewhere");
      await write(page, "printed-year", "2012");
      expect(await textOf(page, "entry-fault")).toMatch(
        /^“12 degrees somewhere” is not an angle to east or west\. Write it such as 12° 30′ W/,
      );
      expect(await part(page, "rules-printed").isDisabled()).toBe(true);
      expect(await textOf(page, "printed-today")).toBe("–");
      expect(await part(page, "printed-value").getAttribute("aria-invalid")).toBe("true");
      await closeSettings(page);
      expect(await textOf(page, "saved-state")).toBe("");
    });
  });
});

describe("pace and time", () => {
  test("trials give a mean and a spread, and their pace gives the counts", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await openSheet(page, "pace");
      for (const count of ["70", "72", "74"]) {
        await part(page, "trial-distance").fill("100 m");
        await part(page, "trial-paces").fill(count);
        await part(page, "trial-took").fill("1:30");
        await part(page, "trial-add").click();
      }
      // By hand: mean 72, spread √((4 + 0 + 4) / 2) = 2, which is 2.8 % of 72; 100 m in 90 s are 4.0 km an hour.
      await shows(
        page,
        "found-flat",
        "flat: 72.0 to 100 m ± 2.0 from trial to trial, 2.8 % of the distance · 4.0 km an hourUse this",
      );
      await part(page, "use-flat").click();
      const distance = number(await textOf(page, "distance"));
      await shows(page, "paces", String(Math.round(distance * 0.72)));
      await write(page, "pace-flat", "0");
      expect(await textOf(page, "entry-fault")).toMatch(/^0 paces per 100 m cannot be/);
      await write(page, "pace-flat", "72");
      await closeSettings(page);
      await part(page, "undo").click();
      await shows(page, "paces", String(Math.round(distance * 0.65)));
    });
  });

  test("a start gives arrivals, one too late a warning; a bad hour is refused beside its blank", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await part(page, "give-start").click();
      await write(page, "time-zone", "America/Anchorage");
      await write(page, "start-time", "25:99");
      expect(await textOf(page, "entry-fault")).toBe(
        "“25:99” is not a time of day. Write it as hours and minutes, like 08:30.",
      );
      expect(await part(page, "arrival").count()).toBe(0);
      await write(page, "start-time", "9.30");
      expect(await part(page, "start-time").inputValue()).toBe("09:30");
      await until(async () => (await part(page, "arrival").count()) === 1, "an arrival");
      const minutes = number(await textOf(page, "time"));
      await shows(page, "arrival", `09:${30 + minutes}`);
      expect(await part(page, "dark-warning").count()).toBe(0);
      await write(page, "start-time", "20:00");
      await until(async () => (await part(page, "dark-warning").count()) === 1, "a warning of the dark");
      expect(await textOf(page, "dark-warning")).toMatch(/^Mind The walk ends at 21:\d\d, in the dark/);
      await closeSettings(page);
      await tableRows(page);
      const last = part(page, "row-arrival").last();
      expect(plain(await last.textContent())).toMatch(/^21:\d\d dark$/);
      expect(plain(await part(page, "hours-statement").textContent())).toContain(
        "(clock of America/Anchorage",
      );
    });
  });

  test("another rule of time and a slower party change the time, as the sheet foretold", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      await openSheet(page, "time");
      const foretold = await textOf(page, "time-din33466");
      await part(page, "method-din33466").click();
      await shows(page, "preview-time", foretold);
      await write(page, "factor-party", "9");
      expect(await textOf(page, "entry-fault")).toBe(
        "The factor for party must lie between 0.2 and 5, not 9.",
      );
      await write(page, "factor-party", "2");
      const twice = 2 * number(foretold);
      await until(
        async () => Math.abs(number(await textOf(page, "preview-time")) - twice) <= 1,
        "twice the time",
      );
    });
  });
});

describe("lengths and places", () => {
  test("chains for distances; a grid by its PROJ string, and a wrong one refused", async () => {
    await inWindow(async (window) => {
      const { page } = window;
      await practiceWalk(window);
      const metres = number(await textOf(page, "distance"));
      await openSheet(page, "places");
      await part(page, "lengths").selectOption("ch");
      // 66 ft to the chain: the agreement of 1959 makes it 20.1168 m.
      await until(async () => (await textOf(page, "distance")).endsWith("ch"), "chains");
      expect(Math.abs(number(await textOf(page, "distance")) - metres / 20.1168)).toBeLessThan(0.08);
      expect(await textOf(page, "climb")).toMatch(/ m$/);

      await part(page, "grid-name").fill("Old survey");
      await part(page, "grid-definition").fill("+proj=nonsense");
      await part(page, "grid-add").click();
      expect((await textOf(page, "entry-fault")).length).toBeGreaterThan(20);
      expect(await part(page, "notation").locator("option", { hasText: "Old survey" }).count()).toBe(0);
      // A zone of its own about the place: the end of the leg lies within 100 km of the false origin.
      await part(page, "grid-definition").fill(
        "+proj=tmerc +lat_0=46 +lon_0=-133 +x_0=500000 +y_0=100000 +ellps=WGS84",
      );
      await part(page, "grid-add").click();
      await part(page, "notation").selectOption({ label: "Old survey" });
      await shows(page, "preview-position", /^4\d{5} 1[34]\d{4}$/);
    });
  });
});

test("without a leg the settings show an example", async () => {
  await inWindow(async ({ page }) => {
    await openSheet(page, "pace");
    await until(async () => (await part(page, "preview-paces").count()) === 1, "the example");
    // 850 m at 65 to 100 m.
    expect(await textOf(page, "preview-paces")).toBe("553");
    await openSheet(page, "time");
    await shows(page, "time-naismith", /min$/);
  });
});

test("every figure of the slip says by one key how it was worked out", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await practiceWalk(window);
    const asks = page.locator(".slip [data-ask]");
    const count = await asks.count();
    expect(count).toBeGreaterThanOrEqual(12);
    for (let i = 0; i < count; i++) {
      const ask = asks.nth(i);
      await ask.press("Enter");
      await until(async () => (await ask.getAttribute("aria-expanded")) === "true", "the answer");
      const panel = page.locator(`#${await ask.getAttribute("aria-controls")}`);
      expect(await panel.locator("li").count()).toBeGreaterThan(0);
      await ask.press("Escape");
      await until(async () => (await part(page, "how").count()) === 0, "the answer to go");
    }
  });
});

test("the person's settings are there again after the page was loaded anew, and bad ones never", async () => {
  await inWindow(async (window) => {
    const { page } = window;
    await openSheet(page, "compass");
    await part(page, "compass-unit").selectOption("mils");
    await part(page, "compass-graduation").selectOption({ label: "100 mils" });
    await part(page, "compass-adjustable").click();
    await openSheet(page, "places");
    await part(page, "lengths").selectOption("yd");
    await part(page, "heights").selectOption("imperial");
    await part(page, "notation").selectOption("utm");
    await openSheet(page, "pace");
    await part(page, "trial-distance").fill("0");
    await part(page, "trial-paces").fill("66");
    await part(page, "trial-add").click();
    expect(await textOf(page, "entry-fault")).toMatch(/^The distance must be more than 0/);
    await part(page, "trial-distance").fill("200");
    await part(page, "trial-paces").fill("132");
    await part(page, "trial-add").click();
    await until(
      async () => (await page.locator('[data-test="trials"] li button').count()) === 1,
      "the trial",
    );
    await page.waitForTimeout(300);
    await page.reload();
    await until(async () => (await page.locator(".map-edge").count()) === 1, "the map again");
    if ((await page.getByRole("button", { name: "Understood" }).count()) > 0) await settle(window);
    await openSheet(page, "compass");
    expect(await part(page, "compass-unit").inputValue()).toBe("mils");
    expect(Number(await part(page, "compass-graduation").inputValue())).toBe(5.625);
    expect(await part(page, "compass-adjustable").isChecked()).toBe(true);
    await openSheet(page, "places");
    expect(await part(page, "lengths").inputValue()).toBe("yd");
    expect(await part(page, "heights").inputValue()).toBe("imperial");
    expect(await part(page, "notation").inputValue()).toBe("utm");
    await openSheet(page, "pace");
    expect(await page.locator('[data-test="trials"] li button').count()).toBe(1);
  });
});

describe("looks", () => {
  const sheets = ["compass", "declination", "pace", "time", "places"];

  test("by night only red leaves the settings; narrow, nothing sticks out; every control has a name", async () => {
    await inWindow(
      async (window) => {
        const { page } = window;
        await practiceWalk(window);
        await page.getByRole("button", { name: "View" }).click();
        await page.locator('[role^="menuitem"]', { hasText: "Night" }).click();
        await openSheet(page, "compass");
        for (const sheet of sheets) {
          await part(page, `sheet-${sheet}`).click();
          const { colours, wide, nameless } = await page.evaluate(() => {
            const dialog = document.querySelector("dialog") as HTMLElement;
            const all = [...dialog.querySelectorAll<HTMLElement>("*")];
            const red = (colour: string): boolean => {
              const [, g = 0, b = 0, a = 1] = (colour.match(/[\d.]+/g) ?? []).map(Number);
              return a === 0 || (g === 0 && b === 0);
            };
            return {
              colours: all
                .map((element) => getComputedStyle(element))
                .flatMap((s) => [s.color, s.backgroundColor, s.borderTopColor, s.borderBottomColor])
                .filter((colour) => !red(colour)),
              wide: all
                .filter((element) => element.getBoundingClientRect().right > innerWidth + 1)
                .map((element) => element.className),
              nameless: all
                .filter((element) => element.matches("button, input, select"))
                .filter(
                  (element) =>
                    !element.getAttribute("aria-label") &&
                    !element.textContent?.trim() &&
                    !(element as HTMLInputElement).labels?.length,
                )
                .map((element) => element.outerHTML),
            };
          });
          expect({ sheet, colours, wide, nameless }).toEqual({ sheet, colours: [], wide: [], nameless: [] });
        }
      },
      { width: 700, height: 900 },
    );
  });
});
