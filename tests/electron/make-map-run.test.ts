/** make-map as a process with threads: what it leaves when it is stopped, and that threads make the map one thread makes. */
import { spawn } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeMap } from "../../core/mapmaking/make-map.ts";
import { readElevation } from "../../core/mapmaking/elevation/read-elevation.ts";
import { openArchive } from "../core/mapmaking/read-back.ts";
import { CommandLine } from "./support/command.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const MODEL = at("../fixtures/elevation/jacksboro-srtm3-epsg4326.tif");
const START = at("../../electron/launch/legwright.mjs");

const commandLine = new CommandLine();
const { folder } = commandLine;
afterAll(() => commandLine.remove());

/** Runs make-map in a folder of its own, and sends a signal when a line of progress matches. */
async function stopped(
  name: string,
  when: RegExp,
  signal: NodeJS.Signals,
): Promise<{ readonly code: number | null; readonly said: string; readonly left: string[] }> {
  const cwd = join(folder, name);
  mkdirSync(cwd);
  const child = spawn(process.execPath, [START, "make-map", "a.pmtiles", "--elevation", MODEL], { cwd });
  let said = "";
  let sent = false;
  child.stderr.on("data", (text: Buffer) => {
    said += text.toString();
    // Once: a second interrupt ends the process on the spot.
    if (when.test(said) && !sent) sent = child.kill(signal);
  });
  const code = await new Promise<number | null>((resolve) => child.on("close", resolve));
  return { code, said, left: readdirSync(cwd) };
}

describe("a map being made", () => {
  // The build, if one is due, happens here and not in the middle of a test.
  beforeAll(() => void commandLine.run(["--version"]), 300_000);

  it("is the same from many threads as from one", async () => {
    const flags = ["--interval", "20m", "--title", "T", "--derive", "none"];
    commandLine.says(["make-map", "threads.pmtiles", "--elevation", MODEL, ...flags]);
    const bytes = readFileSync(MODEL);
    const alone = await makeMap({
      elevation: await readElevation(Uint8Array.from(bytes).buffer, "jacksboro-srtm3-epsg4326.tif"),
      interval: { value: 20, unit: "m" },
      derive: { streams: false, ridges: false, spotHeights: false, cliffs: false },
      about: { title: "T", source: null, date: null, attribution: null, datum: null, invented: false },
    });
    const one = openArchive(alone.archive);
    const many = openArchive(Uint8Array.from(readFileSync(join(folder, "threads.pmtiles"))));
    const header = await one.getHeader();
    expect((await many.getHeader()).numAddressedTiles).toBe(header.numAddressedTiles);
    let compared = 0;
    const span = (lon: number, zoom: number): number => Math.floor(((lon + 180) / 360) * 2 ** zoom);
    for (let zoom = 8; zoom <= 14; zoom++)
      for (let x = span(header.minLon, zoom); x <= span(header.maxLon, zoom); x++)
        for (let y = 0; y < 2 ** zoom; y++) {
          const lat = (Math.atan(Math.sinh(Math.PI * (1 - (2 * y) / 2 ** zoom))) * 180) / Math.PI;
          if (lat < header.minLat || lat > header.maxLat + 180 / 2 ** zoom) continue;
          const [a, b] = await Promise.all([one.getZxy(zoom, x, y), many.getZxy(zoom, x, y)]);
          expect(b === undefined, `${zoom}/${x}/${y}`).toBe(a === undefined);
          if (!a || !b) continue;
          expect(Buffer.compare(Buffer.from(a.data), Buffer.from(b.data))).toBe(0);
          compared++;
        }
    expect(compared).toBeGreaterThan(200);
  }, 120_000);

  it("leaves nothing when it is cancelled", async () => {
    const { code, said, left } = await stopped("cancelled", /Following streams/, "SIGINT");
    expect(code).toBe(1);
    expect(said).toMatch(/cancelled/);
    expect(left).toEqual([]);
  }, 120_000);

  it.each([/Drawing contours/, /Following streams/, /Cutting the map/, /Writing the files/])(
    "leaves nothing that looks like a map when it is killed at “%s”",
    async (when) => {
      const { left } = await stopped(`killed-${String(when).replace(/\W/g, "")}`, when, "SIGKILL");
      expect(left.filter((name) => !/^\..*\.tmp$/.test(name))).toEqual([]);
    },
    120_000,
  );
});
