import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { COMPASS_MARKS_DEG, type Settings, USUAL_SETTINGS } from "../../electron/contract.ts";
import { checkArguments } from "../../electron/services/call-arguments.ts";
import { openConfSettings } from "../../electron/services/conf-settings.ts";
import { readPreferences } from "../../electron/services/preferences.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-preferences-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const write = (content: unknown): void =>
  writeFileSync(join(folder, "settings.json"), JSON.stringify(content));
const onDisk = (): Record<string, unknown> =>
  JSON.parse(readFileSync(join(folder, "settings.json"), "utf8")) as Record<string, unknown>;

/** Gauss–Krüger on the Bessel ellipsoid, with constants for its datum. */
const BESSEL = {
  name: "Old sheets",
  definition:
    "+proj=tmerc +lat_0=0 +lon_0=9 +k=1 +x_0=3500000 +y_0=0 +ellps=bessel +towgs84=598.1,73.7,418.2,0.202,0.045,-2.455,6.7",
};
const TRIAL = { ground: "flat", distanceM: 200, paces: 131, seconds: 150 } as const;
const CHOSEN: Partial<Settings> = {
  lengths: "ch",
  compass: { unit: "mils", graduationDeg: 1.125, adjustable: true },
  notation: "grid",
  grids: [BESSEL],
  gridName: "Old sheets",
  paceTrials: [TRIAL, { ...TRIAL, ground: "up", seconds: null }],
  aids: { ...USUAL_SETTINGS.aids, driftDeg: 8, openHopM: 120, steering: "unaided" },
};

describe("compass, notations, grids and pace trials", () => {
  it("are as usual in a file from before there were any", () => {
    write({ theme: "dark", addedMaps: ["/maps/a.pmtiles"] });
    const settings = openConfSettings(folder);
    expect(settings.notices).toEqual([]);
    expect(settings.get()).toEqual({ ...USUAL_SETTINGS, theme: "dark" });
    expect(settings.addedMaps()).toEqual(["/maps/a.pmtiles"]);
  });

  it("are kept for the next run, through the check of calls", () => {
    const [change] = checkArguments("setSettings", JSON.parse(JSON.stringify([CHOSEN])));
    expect(openConfSettings(folder).set(change)).toEqual({ ...USUAL_SETTINGS, ...CHOSEN });
    const again = openConfSettings(folder);
    expect(again.get()).toEqual({ ...USUAL_SETTINGS, ...CHOSEN });
    expect(again.notices).toEqual([]);
  });

  it("have marks that are whole mils of a circle of 6400", () => {
    expect(COMPASS_MARKS_DEG.mils.map((deg) => (deg * 6400) / 360)).toEqual([10, 20, 25, 50, 100]);
  });

  it("take a grid that is offered without adding it", () => {
    const settings = openConfSettings(folder);
    expect(settings.set({ gridName: "nad27", notation: "grid" })).toMatchObject({
      gridName: "nad27",
      notation: "grid",
    });
  });

  it("are written in the usual notation again when the chosen grid is taken away", () => {
    const settings = openConfSettings(folder);
    settings.set(CHOSEN);
    expect(settings.set({ grids: [] })).toMatchObject({ grids: [], gridName: null, notation: "mgrs" });
    expect(openConfSettings(folder).notices).toEqual([]);
  });
});

describe("a change that cannot be", () => {
  it.each<[string, Partial<Settings>, RegExp]>([
    ["a mark no compass has", { compass: { ...USUAL_SETTINGS.compass, graduationDeg: 3 } }, /mark every 3°/],
    [
      "a mark of degrees on a compass of mils",
      { compass: { unit: "mils", graduationDeg: 2, adjustable: false } },
      /mark every 35\.6 mils/,
    ],
    ["a graduation that is no number", { compass: { ...USUAL_SETTINGS.compass, graduationDeg: NaN } }, /./],
    ["a definition that is none", { grids: [{ name: "A", definition: "+proj=nowhere" }] }, /cannot be read/],
    [
      "a definition that leaves its datum open",
      { grids: [{ name: "A", definition: "+proj=utm +zone=32 +ellps=bessel" }] },
      /does not say how its datum lies/,
    ],
    ["two grids of one name", { grids: [BESSEL, BESSEL] }, /called “Old sheets” already/],
    ["a grid named as one that is offered", { grids: [{ ...BESSEL, name: "nad27" }] }, /already/],
    ["a grid there is not", { gridName: "Nowhere" }, /no grid called “Nowhere”/],
    ["a notation in no grid", { notation: "grid" }, /No grid is chosen/],
    ["a trial of no paces", { paceTrials: [{ ...TRIAL, paces: 0 }] }, /0 paces per 100 m cannot be/],
    ["a trial over nothing", { paceTrials: [{ ...TRIAL, distanceM: 0 }] }, /more than 0/],
    ["a trial in no time", { paceTrials: [{ ...TRIAL, seconds: -1 }] }, /more than 0/],
    ["a drift that cannot be", { aids: { ...USUAL_SETTINGS.aids, driftDeg: 400 } }, /The drift must lie/],
    ["aids that lack a member", { aids: { driftDeg: 5 } as never }, /make no sense/],
    ["a unit that is none", { lengths: "cubit" as never }, /make no sense/],
  ])("%s: is refused with the reason, and nothing changes", (_what, change, message) => {
    const settings = openConfSettings(folder);
    settings.set(CHOSEN);
    const before = onDisk();
    // One of the chosen is a grid: without it a bare choice of the notation says what it should.
    if (change.notation) settings.set({ grids: [] });
    expect(() => settings.set(change)).toThrow(
      expect.objectContaining({
        code: "bad-argument",
        message: expect.stringMatching(message) as string,
      }) as Error,
    );
    if (!change.notation) expect(onDisk()).toEqual(before);
  });
});

describe("a file with a bad value", () => {
  it.each<[string, Record<string, unknown>, string, Partial<Settings>]>([
    ["compass", { compass: { unit: "gon", graduationDeg: 1, adjustable: false } }, "the compass", {}],
    ["compass that lacks a member", { compass: { unit: "mils" } }, "the compass", {}],
    ["notation", { notation: 7 }, "the notation of positions", {}],
    ["unit", { lengths: "cubit" }, "the unit of distances", {}],
    ["aids", { aids: { ...USUAL_SETTINGS.aids, sightM: -3 } }, "what aids and odds go by", {}],
    ["list", { grids: "none" }, "the list of grids", {}],
    ["grid among good ones", { grids: [BESSEL, { name: "B" }] }, "1 grid", { grids: [BESSEL] }],
    [
      "trial among good ones",
      { paceTrials: [{ ...TRIAL, paces: null }, TRIAL, { ...TRIAL, paces: 0 }] },
      "2 pace trials",
      { paceTrials: [TRIAL] },
    ],
    ["chosen grid", { gridName: "Gone", notation: "grid" }, "the chosen grid", {}],
  ])("%s: loses that alone, is kept as it was, and says so once", (_what, bad, told, left) => {
    const file = { theme: "dark", addedMaps: ["/maps/a.pmtiles"], fromTheFuture: 1, ...bad };
    write(file);
    const settings = openConfSettings(folder);
    expect(settings.get()).toEqual({ ...USUAL_SETTINGS, theme: "dark", ...left });
    expect(settings.addedMaps()).toEqual(["/maps/a.pmtiles"]);
    const [kept] = readdirSync(folder).filter((name) => name.includes("before-mending"));
    expect(settings.notices).toEqual([
      `Settings that could not be read were left out: ${told}. The file as it was is kept as ${kept}.`,
    ]);
    const before = JSON.parse(readFileSync(join(folder, kept as string), "utf8")) as unknown;
    expect(before).toMatchObject(bad);
    expect(onDisk()).toMatchObject({ theme: "dark", fromTheFuture: 1, ...left });
    expect(openConfSettings(folder).notices).toEqual([]);
  });

  it("gives preferences that can be, whatever the file holds", () => {
    const keys = ["lengths", "compass", "notation", "grids", "gridName", "paceTrials", "driftTrials"];
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...keys), fc.jsonValue()), (file) => {
        const { preferences } = readPreferences(file);
        checkArguments("setSettings", [preferences]);
        expect(readPreferences({ ...preferences }).mended).toEqual([]);
      }),
      { numRuns: 1000, seed: 20260516 },
    );
  });
});
