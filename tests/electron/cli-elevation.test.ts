/** Elevation as a person hands it to make-map: several files, another unit, an area, voids; and what is said of it. */
import { copyFileSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from "vitest";
import { openArchive } from "../../core/map/archive.ts";
import { run } from "../../electron/cli/run.ts";
import { builtWorker } from "../../electron/services/built-worker.ts";
import { openFileSource } from "../../electron/services/file-source.ts";
import { GROUND_DECODERS } from "../../electron/services/ground-decoders.ts";
import { CommandLine } from "./support/command.ts";

const kind = (name: string): string =>
  fileURLToPath(new URL(`../fixtures/elevation/kinds/${name}`, import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "make-map-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
// Its threads come from the build: what is due, or under way elsewhere, ends before the first test.
beforeAll(() => {
  const commandLine = new CommandLine();
  try {
    commandLine.says(["--version"]);
    builtWorker("map-worker");
  } finally {
    commandLine.remove();
  }
}, 300_000);

afterEach(() => {
  vi.restoreAllMocks();
});

let said: string;
beforeEach(() => {
  said = "";
  vi.spyOn(process.stderr, "write").mockImplementation((text) => {
    said += String(text);
    return true;
  });
});

const at = (name: string): string => join(folder, name);
const makeMap = (out: string, ...args: string[]): Promise<number> =>
  run(["make-map", at(out), ...args, "--interval", "10m"]);

async function about(
  name: string,
): Promise<{ bounds: number[]; filledShare?: number; elevationCellM: number }> {
  const source = await openFileSource(at(name));
  const { header, metadata } = await openArchive(source, GROUND_DECODERS);
  await source.close();
  const { minLon, minLat, maxLon, maxLat } = header;
  return {
    ...(metadata["legwright"] as { elevationCellM: number }),
    bounds: [minLon, minLat, maxLon, maxLat],
  };
}

describe("make-map", () => {
  const tiles = ["--elevation", kind("sanfrancisco-west.tif"), kind("sanfrancisco-east.tif")];
  it("joins several models, and fills their voids only when asked", async () => {
    expect(await makeMap("both.pmtiles", ...tiles), said).toBe(0);
    const plain = await about("both.pmtiles");
    // gdalinfo of both: from -122.40931 to -122.39653, outer edges; a map ends at the centres of cells.
    expect(Math.abs(plain.bounds[0]! + 122.40931)).toBeLessThan(1 / 3600);
    expect(Math.abs(plain.bounds[2]! + 122.39653)).toBeLessThan(1 / 3600);
    expect(plain.filledShare).toBeUndefined();
    expect(await makeMap("filled.pmtiles", ...tiles, "--fill-voids", "30"), said).toBe(0);
    expect(said).toMatch(/heights \(.* %\) were missing and are made up|missing still/);
  }, 120_000);

  it("says how much of a map is made up", async () => {
    // A hole of nodata in the middle of a model.
    const rows = Array.from({ length: 30 }, (_, r) =>
      Array.from({ length: 30 }, (__, c) => (Math.hypot(r - 15, c - 15) < 2.5 ? -9999 : 100 + 5 * c)).join(
        " ",
      ),
    );
    writeFileSync(
      at("hole.asc"),
      `ncols 30\nnrows 30\nxllcorner 395000\nyllcorner 3800000\ncellsize 30\nNODATA_value -9999\n${rows.join("\n")}\n`,
    );
    writeFileSync(at("hole.prj"), "EPSG:32611");
    expect(await makeMap("hole.pmtiles", "--elevation", at("hole.asc"), "--fill-voids", "5"), said).toBe(0);
    expect((await about("hole.pmtiles")).filledShare).toBeCloseTo(21 / 900, 6);
    expect(said).toContain("21 heights");
    let told = "";
    vi.spyOn(process.stdout, "write").mockImplementation((text, done?: unknown) => {
      told += String(text);
      if (typeof done === "function") (done as () => void)();
      return true;
    });
    expect(await run(["inspect", at("hole.pmtiles")]), said).toBe(0);
    expect(told).toMatch(/Made up +2\.3 % of the heights/);
  }, 120_000);

  it("cuts out an area and takes larger cells", async () => {
    const [west, south, east, north] = [-84.32, 36.635, -84.31, 36.645];
    const model = kind("uint16-deflate.tif");
    const area = [west, south, east, north].join(",");
    expect(await makeMap("area.pmtiles", "--elevation", model, "--bounds", area), said).toBe(0);
    const { bounds, elevationCellM } = await about("area.pmtiles");
    for (const [i, edge] of [west, south, east, north].entries())
      expect(Math.abs(bounds[i]! - edge)).toBeLessThan(1 / 1200);
    expect(elevationCellM).toBeGreaterThan(90);
    expect(await makeMap("coarse.pmtiles", "--elevation", model, "--cell", "185m"), said).toBe(0);
    expect((await about("coarse.pmtiles")).elevationCellM).toBeCloseTo(185, -0.5);
  }, 120_000);

  it("finds the .prj file beside an ASCII grid, and takes a system named instead", async () => {
    copyFileSync(kind("corner.asc"), at("alone.asc"));
    expect(await makeMap("grid.pmtiles", "--elevation", kind("corner.asc")), said).toBe(0);
    expect(await makeMap("alone.pmtiles", "--elevation", at("alone.asc"))).toBe(1);
    expect(said).toContain("--crs");
    expect(await makeMap("alone.pmtiles", "--elevation", at("alone.asc"), "--crs", "EPSG:4326"), said).toBe(
      0,
    );
  }, 120_000);

  it.each([
    ["no box", ["--bounds", "1,2,3"], /no area/],
    ["a box from east to west", ["--bounds", "-84,36,-85,37"], /no extent/],
    ["latitudes first", ["--bounds", "37.79,-122.41,37.8,-122.39"], /beyond the earth/],
    ["an area elsewhere", ["--bounds", "10,46,11,47"], /lies outside/],
    ["a cell of nothing", ["--cell", "0"], /no size of a cell/],
    ["a system that is none", ["--grid-crs", "EPSG:1"], /no coordinate system/],
    ["half a cell of voids", ["--fill-voids", "0.5"], /no number of cells/],
  ])("%s is refused, and nothing is left behind", async (_what, args, message) => {
    const before = readdirSync(folder).toSorted();
    expect(await makeMap("bad.pmtiles", ...tiles, ...args)).toBe(1);
    expect(said).toMatch(message);
    expect(readdirSync(folder).toSorted()).toEqual(before);
  });
});
