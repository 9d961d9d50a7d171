/**
 * Maps made for the window, by the built threads. Heights and places of jacksboro-srtm3-epsg4326.tif are GDAL's: gdalinfo -mm
 * (GDAL 3.6.2). Those of the features are the fixture's own.
 */
import { chmodSync, copyFileSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { readInfo } from "../../core/map/read-info.ts";
import type { MakingState, MapOrder } from "../../electron/contract.ts";
import { pageFiles } from "../../electron/browser-host/page-files.ts";
import { openConfSettings } from "../../electron/services/conf-settings.ts";
import { GROUND_DECODERS } from "../../electron/services/ground-decoders.ts";
import { createServices, type Services } from "../../electron/services/services.ts";
import { makePlace, type Place } from "./support/host.ts";

// Maps are made on whatever processors there are.
vi.setConfig({ testTimeout: 120_000 });

const fixture = (name: string): string => fileURLToPath(new URL(`../fixtures/${name}`, import.meta.url));
const ORDER: MapOrder = {
  elevation: [],
  features: [],
  title: "Hills",
  attribution: null,
  bounds: null,
  interval: { value: 20, unit: "m" },
  crs: null,
  featuresCrs: null,
  heightUnit: null,
  derive: { streams: true, ridges: true, spotHeights: true, cliffs: false },
  fillVoids: null,
};

let place: Place;
let services: Services;
const api = () => services.api;
const servicesIn = (folder: string): Services =>
  createServices({
    app: { folder: place.root, version: "0.0.0" },
    host: { host: "browser", dialogs: "page", folderName: "walks" },
    walksFolder: folder,
    settings: openConfSettings(place.settings),
    chooser: pageFiles(place.walks),
    printer: null,
    readInfo: (source) => readInfo(source, GROUND_DECODERS),
  });
const give = async (
  from: string,
  name: string,
  kind: "elevation" | "features" = "elevation",
): Promise<string> => {
  copyFileSync(fixture(from), join(place.walks, name));
  return (await api().pickDataFiles(kind, [name]))[0]!.id;
};
/** Ready in a moment, where what becomes of it is all that counts. */
const smallHills = (): Promise<string> => give("cli/hills.tif", "hills.tif");
const hills = (): Promise<string> => give("elevation/jacksboro-srtm3-epsg4326.tif", "hills.tif");

async function ended(
  key: string,
  told: (state: MakingState) => void = () => undefined,
  of: Services = services,
): Promise<MakingState> {
  for (;;) {
    const state = await of.api.mapMakingState(key);
    told(state);
    if (state.entry || state.fault) return state;
    await new Promise((resolve) => setTimeout(resolve, 30));
  }
}

beforeEach(() => {
  place = makePlace();
  services = servicesIn(place.walks);
});
afterEach(async () => {
  await services.close();
  place.remove();
});

describe("looking at files", () => {
  it("tells what an elevation model is", async () => {
    const look = await api().lookAtData(await hills(), "elevation", null);
    expect(look).toMatchObject({ as: "elevation", samples: [403, 344], crs: "EPSG:4326" });
    // GDAL's corners are those of cells; samples lie half a cell inside.
    const [west, south, east, north] = look.bounds!;
    const half = 0.000833333333333 / 2;
    expect(west).toBeCloseTo(-84.41375 + half, 6);
    expect(south).toBeCloseTo(36.44625 + half, 6);
    expect(east).toBeCloseTo(-84.0779167 - half, 6);
    expect(north).toBeCloseTo(36.7329167 - half, 6);
  });

  it("looks over the heights, and says what interval would be taken", async () => {
    const survey = await api().surveyElevation({
      elevation: [await hills()],
      crs: null,
      heightUnit: null,
      bounds: null,
    });
    expect(survey.heights).toEqual({ lowestM: 236, highestM: 1076, voidShare: 0 });
  });

  it("takes the very interval it said", async () => {
    const elevation = [await smallHills()];
    const { automatic } = await api().surveyElevation({
      elevation,
      crs: null,
      heightUnit: null,
      bounds: null,
    });
    const key = await api().startMapMaking({ ...ORDER, interval: null, elevation });
    expect((await ended(key)).entry?.interval).toEqual({ value: automatic?.m, unit: "m" });
  });

  it("says that a model does not say where it lies, until it is told", async () => {
    const id = await give("cli/no-crs.tif", "no-crs.tif");
    await expect(api().lookAtData(id, "elevation", null)).rejects.toMatchObject({ code: "no-crs" });
    expect(await api().lookAtData(id, "elevation", "EPSG:4326")).toMatchObject({ samples: [20, 20] });
  });

  it("counts features and says where they are", async () => {
    const look = await api().lookAtData(
      await give("features-in/uplands.osm", "uplands.osm", "features"),
      "features",
      null,
    );
    expect(look).toMatchObject({ kind: "osm", crs: "WGS 84" });
    expect(look.features).toBeGreaterThan(10);
    const [west, south, east, north] = look.bounds!;
    expect(west).toBeGreaterThan(9.9);
    expect(east).toBeLessThan(10.2);
    expect(south).toBeGreaterThan(44.9);
    expect(north).toBeLessThan(45.2);
  });

  it("names the fault of a file that is none", async () => {
    writeFileSync(join(place.walks, "junk.tif"), "no heights");
    const [junk] = await api().pickDataFiles("elevation", ["junk.tif"]);
    await expect(api().lookAtData(junk!.id, "elevation", null)).rejects.toMatchObject({
      code: "bad-elevation",
      where: expect.stringContaining("junk.tif") as string,
    });
  });
});

describe("making a map", () => {
  it("goes from 0 to 1 and ends with the map in the case", async () => {
    const shares: number[] = [];
    const key = await api().startMapMaking({ ...ORDER, elevation: [await hills()] });
    const { entry, fault, done } = await ended(key, (state) => shares.push(state.done));
    expect(fault).toBeNull();
    expect(done).toBe(1);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(shares.some((share) => share > 0 && share < 1)).toBe(true);
    expect(entry).toMatchObject({ title: "Hills", interval: { value: 20, unit: "m" }, hasTerrain: true });
    expect(readdirSync(place.walks).toSorted()).toEqual([
      "Hills.pmtiles",
      "Hills.terrain.pmtiles",
      "hills.tif",
    ]);
    expect((await api().listMaps()).map(({ title }) => title)).toEqual(["Hills"]);
  });

  it("leaves nothing when it is cancelled, and can be begun again", async () => {
    const order = { ...ORDER, elevation: [await hills()] };
    const key = await api().startMapMaking(order);
    while ((await api().mapMakingState(key)).done < 0.15) await new Promise((go) => setTimeout(go, 20));
    await expect(api().startMapMaking(order)).rejects.toMatchObject({ code: "unavailable" });
    await api().cancelMapMaking(key);
    expect((await api().mapMakingState(key)).fault).toMatchObject({ code: "cancelled" });
    expect(readdirSync(place.walks)).toEqual(["hills.tif"]);
    const again = await api().startMapMaking(order);
    await api().cancelMapMaking(again);
    expect(readdirSync(place.walks)).toEqual(["hills.tif"]);
  });

  it("leaves nothing when the host closes", async () => {
    const key = await api().startMapMaking({ ...ORDER, elevation: [await hills()] });
    while ((await api().mapMakingState(key)).done < 0.15) await new Promise((go) => setTimeout(go, 20));
    await services.close();
    expect(readdirSync(place.walks)).toEqual(["hills.tif"]);
  });

  it("never replaces a map that is there", async () => {
    writeFileSync(join(place.walks, "Hills.pmtiles"), "mine");
    const key = await api().startMapMaking({ ...ORDER, elevation: [await smallHills()] });
    expect((await ended(key)).entry?.fileName).toBe("Hills 2.pmtiles");
  });

  it("says why it cannot be: no title, no contour, no such key", async () => {
    const elevation = [await hills()];
    await expect(api().startMapMaking({ ...ORDER, elevation, title: " " })).rejects.toMatchObject({
      code: "bad-argument",
    });
    const key = await api().startMapMaking({ ...ORDER, elevation, interval: { value: 0.001, unit: "m" } });
    expect((await ended(key)).fault).toMatchObject({ code: "bad-argument", where: "interval" });
    expect(readdirSync(place.walks)).toEqual(["hills.tif"]);
    await expect(api().mapMakingState("no-such-key")).rejects.toMatchObject({ code: "bad-argument" });
  });

  it.skipIf(process.getuid?.() === 0)("says that a folder cannot be written", async () => {
    const locked = join(place.root, "locked");
    mkdirSync(locked);
    const id = await hills();
    const handle = services.picked.pathOf(id);
    chmodSync(locked, 0o500);
    const other = servicesIn(locked);
    const key = await other.api.startMapMaking({ ...ORDER, elevation: [other.picked.take(handle).id] });
    expect((await ended(key, undefined, other)).fault?.code).toBe("read-only");
    await other.close();
    expect(readdirSync(locked)).toEqual([]);
    chmodSync(locked, 0o700);
  });

  it("says that a folder is none", async () => {
    const file = join(place.root, "a-file");
    writeFileSync(file, "x");
    const other = servicesIn(file);
    const path = services.picked.pathOf(await hills());
    const key = await other.api.startMapMaking({ ...ORDER, elevation: [other.picked.take(path).id] });
    expect(["exists", "no-file"]).toContain((await ended(key, undefined, other)).fault?.code);
    await other.close();
  });
});
