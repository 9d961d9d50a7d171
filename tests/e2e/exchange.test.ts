/** A walk from other programs and for them, as a person brings it in and gives it out. */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { againstSchema } from "../core/exchange/xml-rules.ts";
import { windowsOfThisFile } from "./support/in-window.ts";
import { choose, flags, part, plain, textOf, untilLegs } from "./support/planner.ts";
import { type TestWindow, until } from "./support/window.ts";

const inWindow = windowsOfThisFile();

const PRACTICE = new URL("../../sample-maps/uldermoor-practice.walk.geojson", import.meta.url);

/** Places on the demo map. */
const PLACES = [
  [46.3416879, -133.1922526],
  [46.3338599, -133.1946257],
  [46.3305435, -133.1878242],
  [46.3320925, -133.1766076],
] as const;

/** A track that winds up to some 40 m about the legs between the places, and two waypoints. */
const RECORDED = `<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="receiver">
${PLACES.slice(0, 2)
  .map(([lat, lon], i) => `<wpt lat="${lat}" lon="${lon}"><name>Post ${i + 1}</name><sym>Flag</sym></wpt>`)
  .join("\n")}
<trk><name>Round the moor</name><trkseg>
${PLACES.slice(1)
  .flatMap((to, n) =>
    Array.from({ length: 40 }, (_, i) => {
      const [from, t] = [PLACES[n]!, i / 40];
      const lat = from[0] + (to[0] - from[0]) * t + Math.sin(9 * t) * 4e-4;
      return `<trkpt lat="${lat}" lon="${from[1] + (to[1] - from[1]) * t}"><ele>300</ele></trkpt>`;
    }),
  )
  .join("\n")}
</trkseg></trk></gpx>`;

const drop = async (page: Page, name: string, text: string): Promise<void> => {
  const transfer = await page.evaluateHandle(
    ([fileName = "", content = ""]) => {
      const data = new DataTransfer();
      data.items.add(new File([content], fileName));
      return data;
    },
    [name, text],
  );
  await page.dispatchEvent("body", "drop", { dataTransfer: transfer });
};
const there = (page: Page, name: string): Promise<void> =>
  until(async () => (await part(page, name).count()) > 0, name);
const legsShown = async (page: Page): Promise<number> =>
  Number(/^(\d+) legs?/.exec(await textOf(page, "import-legs"))?.[1]);
const away = (page: Page): Promise<void> =>
  until(async () => (await page.locator("dialog[open]").count()) === 0, "the screen to close");
const onClipboard = (page: Page): Promise<string> => page.evaluate(() => navigator.clipboard.readText());

test("a walk comes in by menu, drop and clipboard, is seen before it is taken, and can be undone", async () => {
  await inWindow(async ({ page, context, host }) => {
    await context.grantPermissions(["clipboard-read", "clipboard-write"], { origin: host.origin });

    // By menu: a recorded track, thinned.
    await choose(page, "walk-menu", "Bring in a file or text");
    await page.locator('dialog input[type="file"]').setInputFiles({
      name: "recorded.gpx",
      mimeType: "application/gpx+xml",
      buffer: Buffer.from(RECORDED),
    });
    await there(page, "line-picture");
    // On the open map, which the walk lies on.
    await there(page, "picture-ground");
    expect(plain(await part(page, "candidates").textContent())).toMatch(
      /Track: Round the moor 120 points .*Single points 2 points/,
    );
    expect(await part(page, "tolerance").inputValue()).toBe("20 m");
    const usual = await legsShown(page);
    await part(page, "tolerance").fill("3 m");
    await until(async () => (await legsShown(page)) > usual, "more legs with a finer tolerance");
    await part(page, "tolerance-slide").fill("70");
    await until(async () => (await legsShown(page)) < usual, "fewer legs with a coarser tolerance");
    const report = await textOf(page, "import-report");
    for (const said of [
      /“sym” was left out \(positions: 2\)/,
      /Heights of 120/,
      /1 more/,
      /Of 120 positions/,
    ])
      expect(report).toMatch(said);
    await part(page, "candidate-1").click();
    await until(async () => (await textOf(page, "import-legs")) === "1 leg out of 2 positions", "the points");
    await part(page, "candidate-0").click();
    await until(async () => (await legsShown(page)) === usual, "the track again");
    expect(await part(page, "import-end").isDisabled()).toBe(true);
    await part(page, "import-take").click();
    await away(page);
    await untilLegs(page, usual);
    expect(await part(page, "title").inputValue()).toBe("Round the moor");
    expect(await textOf(page, "saved-state")).toBe("not saved");
    await page.keyboard.press("Control+z");
    await until(async () => (await flags(page).count()) === 0, "the walk undone");
    await page.keyboard.press("Control+Shift+z");
    await untilLegs(page, usual);

    // By drop: a table in another language, its columns put right, at the end of the walk.
    const table = `Punkt;Dybde;Nord;Ost\n${PLACES.slice(2)
      .map(
        ([lat, lon], i) =>
          `Post ${i};${i + 1};${String(lat).replace(".", ",")};${String(lon).replace(".", ",")}\n`,
      )
      .join("")}`;
    await drop(page, "posts.csv", table);
    await there(page, "column-3");
    await part(page, "column-1").selectOption("");
    await part(page, "column-2").selectOption("lat");
    await part(page, "column-3").selectOption("lon");
    await until(async () => (await textOf(page, "import-legs")) === "1 leg out of 2 positions", "the table");
    expect(await textOf(page, "import-report")).toContain("“Dybde”");
    await part(page, "separator").selectOption(",");
    await there(page, "import-fault");
    expect(await part(page, "import-take").isDisabled()).toBe(true);
    await part(page, "separator").selectOption("");
    await there(page, "line-picture");
    await part(page, "import-end").check();
    await part(page, "import-take").click();
    await away(page);
    await untilLegs(page, usual + 2);
    await page.keyboard.press("Control+z");
    await untilLegs(page, usual);

    // From the clipboard: a list of references, then one with latitude and longitude exchanged.
    const paste = async (text: string): Promise<void> => {
      await page.evaluate((copied) => navigator.clipboard.writeText(copied), text);
      await page.keyboard.press("Control+v");
      await there(page, "import-legs");
    };
    await paste("Ford: 8TPS 39290 33416\nHut: 8TPS 40000 33416\n8TPS 40000 34000 barn\n");
    expect(await textOf(page, "import-source")).toBe("Pasted text · list of positions");
    expect(await textOf(page, "import-legs")).toBe("2 legs out of 3 positions");
    await page.keyboard.press("Escape");
    await away(page);
    await paste("lat,lon\n-133.19,46.34\n-133.18,46.35\n");
    expect(await textOf(page, "import-report")).toContain("They were exchanged");
    await part(page, "axes").selectOption("asIs");
    await there(page, "import-fault");
    await page.keyboard.press("Escape");
    await away(page);

    // A broken file says where, and nothing is lost.
    await drop(page, "broken.gpx", RECORDED.replace("</trkseg>", ""));
    await there(page, "import-fault");
    expect(await textOf(page, "import-fault")).toMatch(/broken\.gpx, line \d+/);
    expect(await part(page, "import-take").isDisabled()).toBe(true);
    await page.keyboard.press("Escape");
    await away(page);
    await untilLegs(page, usual);
  });
});

/** The text that is shown as what is written; empty while it is worked out. */
const writtenText = async (page: Page): Promise<string> =>
  (await part(page, "written").count()) === 1
    ? ((await part(page, "written")
        .textContent({ timeout: 1000 })
        .catch(() => "")) ?? "")
    : "";
const untilWritten = (page: Page, like: RegExp): Promise<void> =>
  until(async () => like.test(await writtenText(page)), `a text like ${like}`, 60_000);

async function saved({ page, walksFolder }: TestWindow, name: string): Promise<Buffer> {
  const path = join(walksFolder, name);
  await part(page, "export-file").click();
  await page.getByLabel("File name").fill(name);
  await page.getByRole("dialog").last().getByRole("button", { name: "Save", exact: true }).click();
  await until(async () => existsSync(path), `${name} to be written`);
  return readFileSync(path);
}

test("a walk goes out as files and by the clipboard, with what is wanted, and says what stays behind", async () => {
  await inWindow(async (window) => {
    const { page, context, host } = window;
    await context.grantPermissions(["clipboard-read", "clipboard-write"], { origin: host.origin });
    // A walk of our own that is dropped is opened as it is.
    await drop(page, "practice.walk.geojson", readFileSync(PRACTICE, "utf8"));
    await until(async () => (await page.locator(".ribbon-leg").count()) > 5, "the practice walk");
    await page.keyboard.press("Control+e");
    await there(page, "written");
    expect(await textOf(page, "export-report")).toMatch(/no other format carries them/);

    await part(page, "part-track").check();
    await untilWritten(page, /<trkpt [^>]*><ele>\d+\.\d<\/ele>/);
    expect(await textOf(page, "export-checked")).toMatch(/same places and names/);
    const gpx = await saved(window, "out.gpx");
    expect(againstSchema(gpx.toString(), "gpx")).toEqual([]);
    expect(gpx.toString()).toContain("<name>Bunkhouse, start</name>");
    await part(page, "export-copy").click();
    expect(await onClipboard(page)).toBe(gpx.toString());
    if (spawnSync("ogrinfo", ["--version"]).status === 0) {
      const { stdout } = spawnSync("ogrinfo", ["-al", join(window.walksFolder, "out.gpx"), "waypoints"], {
        encoding: "utf8",
      });
      expect(stdout).toMatch(/name \(String\) = Bunkhouse, start[^]*POINT \(-133\.1922526 46\.3416879\)/);
    }

    await part(page, "as-kmz").check();
    await untilWritten(page, /<kml /);
    expect((await saved(window, "out.kmz")).subarray(0, 2).toString()).toBe("PK");
    expect(await part(page, "export-copy").isDisabled()).toBe(true);

    await part(page, "as-csv").check();
    await part(page, "out-decimal").selectOption(",");
    await part(page, "part-heights").check();
    await untilWritten(
      page,
      /^name;lat;lon;ele;note\r\nBunkhouse, start;46,3416879;-133,1922526;\d+,\d;From the bunkhouse/,
    );
    expect(await textOf(page, "export-report")).toContain("A table holds the points alone");
    await part(page, "part-notes").uncheck();
    await untilWritten(page, /^name;lat;lon;ele;note\r\nBunkhouse, start;46,3416879;-133,1922526;\d+,\d;\r/);
    expect(await textOf(page, "export-report")).toContain("Notes do not go along, as you chose");

    // The leg table, as the page that word processors take, and as plain text.
    await part(page, "export-table").check();
    await part(page, "as-html").check();
    await untilWritten(page, /^<!doctype html>/i);
    await part(page, "export-copy").click();
    const kinds = await page.evaluate(async () => {
      const [item] = await navigator.clipboard.read();
      return item?.types ?? [];
    });
    expect(kinds).toContain("text/html");
    await part(page, "as-txt").check();
    await untilWritten(page, /^Uldermoor weekend/);
    await part(page, "export-copy").click();
    expect(await onClipboard(page)).toMatch(/Lowder Knott/);
    await page.keyboard.press("Escape");
    await away(page);
  });
});
