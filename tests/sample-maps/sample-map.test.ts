// What the sample map and its walk promise, read back from the files themselves through the program's own readers.
import { readFileSync, statSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { declinationAt } from "../../core/geodesy/declination.ts";
import { legFrame } from "../../core/geodesy/leg-frame.ts";
import type { AreaFeature, LineFeature, PointFeature } from "../../core/map/features.ts";
import { ROLES } from "../../core/map/kinds.ts";
import { bytesSource, type ByteSource } from "../../core/map/source.ts";
import { openGround, type Ground, prepareGround } from "../../core/terrain/ground.ts";
import { type Bbox, growBbox, type LonLat } from "../../core/units/position.ts";
import * as gazetteer from "../../sample-maps/features/gazetteer.ts";
import type { Walk } from "../../core/walk/walk.ts";
import { formatWalk, parseWalk } from "../../core/walk/walk-file.ts";

const place = (name: string): URL => new URL(`../../sample-maps/${name}`, import.meta.url);
const MAP = "uldermoor.pmtiles";
const TERRAIN = "uldermoor.terrain.pmtiles";
const WALK = "uldermoor-practice.walk.geojson";
const source = (name: string): ByteSource => bytesSource(name, new Uint8Array(readFileSync(place(name))));

let ground: Ground;
let bounds: Bbox;
let lines: readonly LineFeature[];
let points: readonly PointFeature[];
let areas: readonly AreaFeature[];
let walk: Walk;
let walkText: string;

beforeAll(async () => {
  ground = await openGround(source(MAP), source(TERRAIN));
  bounds = ground.map.info.bounds;
  await prepareGround(ground, bounds);
  lines = ground.map.lines(bounds);
  points = ground.map.points(bounds);
  areas = ground.map.areas(bounds);
  walkText = readFileSync(place(WALK), "utf8");
  walk = parseWalk(walkText, WALK, "2027-01-01").walk;
}, 120_000);

const height = (at: LonLat): number => ground.elevation?.at(at) ?? Number.NaN;
const metres = (a: LonLat, b: LonLat): number => legFrame(a, b).lengthM;

function* positions(coords: Float64Array): Generator<LonLat> {
  for (let i = 0; i < coords.length; i += 2) yield [coords[i] as number, coords[i + 1] as number];
}

/** Metres from a position to a line, in a frame about the position: flat to a millimetre at these distances. */
function metresToLine(at: LonLat, coords: Float64Array): number {
  const frame = legFrame(at, [at[0], at[1] + 0.001]);
  let best = Infinity;
  let before: readonly [number, number] | null = null;
  for (const position of positions(coords)) {
    const here = frame.toFrame(position);
    const [ax, ay] = before ?? here;
    const dx = here[0] - ax;
    const dy = here[1] - ay;
    const length2 = dx * dx + dy * dy;
    const t = length2 > 0 ? Math.min(1, Math.max(0, -(ax * dx + ay * dy) / length2)) : 0;
    best = Math.min(best, Math.hypot(ax + t * dx, ay + t * dy));
    before = here;
  }
  return best;
}

/** Even-odd rule over all rings. */
function inside(area: AreaFeature, [lon, lat]: LonLat): boolean {
  let odd = false;
  for (const ring of area.rings) {
    const corners = [...positions(ring)];
    for (let i = 1; i < corners.length; i++) {
      const [ax, ay] = corners[i - 1] as LonLat;
      const [bx, by] = corners[i] as LonLat;
      if (ay > lat !== by > lat && lon < ((bx - ax) * (lat - ay)) / (by - ay) + ax) odd = !odd;
    }
  }
  return odd;
}

const near = (at: LonLat, kind: LineFeature["kind"]): readonly LineFeature[] => {
  const box = growBbox([at[0], at[1], at[0], at[1]], 500);
  return lines.filter(
    (line) =>
      line.kind === kind &&
      [...positions(line.coords)].some(
        ([lon, lat]) => lon > box[0] && lon < box[2] && lat > box[1] && lat < box[3],
      ),
  );
};
const nearestM = (at: LonLat, ...kinds: LineFeature["kind"][]): number =>
  Math.min(...kinds.flatMap((kind) => near(at, kind).map((line) => metresToLine(at, line.coords))));

describe("the archive", () => {
  it("is small enough to come with the program", () => {
    const bytes = [MAP, TERRAIN, WALK].map((name) => statSync(place(name)).size).reduce((a, b) => a + b);
    expect(bytes).toBeLessThan(6_000_000);
  });

  it("says that the place is invented, wherever a map can say it", () => {
    const { info } = ground.map;
    expect(info.invented).toBe(true);
    expect(info.title).toContain("invented");
    expect(info.attribution).toContain("invented");
    expect(info.source).toBe("Invented terrain made by a seeded script");
    expect(walk.notes).toContain("invented");
    expect(
      lines.filter((line) => line.kind === "boundary").every((line) => line.name?.includes("invented")),
    ).toBe(true);
  });

  it("has interval, date, datum and the cell of its ground", () => {
    expect(ground.map.info).toMatchObject({ interval: { value: 10, unit: "m" }, rolesFrom: "metadata" });
    expect(ground.map.info.date).toMatch(/^\d{4}-\d\d-\d\d$/);
    expect(ground.map.info.elevationCellM).toBeCloseTo(12, 1);
  });

  it("has every role but rail", () => {
    const has = Object.keys(ground.map.info.roles);
    expect(ROLES.filter((role) => !has.includes(role))).toEqual(["rail"]);
  });

  it("bears every name that was made up for it", () => {
    const borne = new Set([...lines, ...points, ...areas].map((feature) => feature.name));
    const { STREAM_NAMES, SUMMIT_NAMES, WOOD_NAMES, WETLAND_NAMES, CLIFF_NAMES, BUILDINGS, WAYS } = gazetteer;
    const meant = [
      ...STREAM_NAMES.map(({ name }) => name),
      ...[...SUMMIT_NAMES, ...WOOD_NAMES, ...WETLAND_NAMES, ...CLIFF_NAMES].map(([name]) => name),
      ...[...BUILDINGS, ...WAYS].flatMap(({ name }) => name ?? []),
      gazetteer.LAKE_NAME,
      gazetteer.PLANTATION.name,
    ];
    expect(meant.filter((name) => !borne.has(name))).toEqual([]);
  });

  it("has nothing outside its bounds", () => {
    const [west, south, east, north] = growBbox(bounds, 2);
    const out = ([lon, lat]: LonLat): boolean => lon < west || lon > east || lat < south || lat > north;
    const strays = [
      ...lines.filter((line) => [...positions(line.coords)].some(out)),
      ...areas.filter((area) => area.rings.some((ring) => [...positions(ring)].some(out))),
      ...points.filter((point) => out(point.lonLat)),
    ];
    expect(strays.map((feature) => `${feature.kind} ${feature.name ?? ""}`)).toEqual([]);
  });

  it("lies where declination matters and the model is sound, east of its zone's middle meridian", () => {
    const middle: LonLat = [(bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2];
    const declination = declinationAt(middle, 300, walk.date);
    expect(declination.deg).toBeGreaterThan(8);
    expect(declination.zone).toBe("ok");
  });
});

describe("the ground", () => {
  it("has the relief of hills one walks, with some ground too steep", () => {
    const heights = lines.filter((line) => line.kind === "contour").map((line) => line.elevationM);
    const relief = Math.max(...heights) - Math.min(...heights);
    expect(relief).toBeGreaterThan(250);
    expect(relief).toBeLessThan(500);
    expect(lines.filter((line) => line.kind === "cliff").length).toBeGreaterThan(5);
  });

  it("has a flat lake at the height the map gives", () => {
    const lakes = areas.filter((area) => area.kind === "water");
    expect(lakes.length).toBeGreaterThan(0);
    const [west, south, east, north] = bounds;
    let seen = 0;
    for (let i = 0; i < 160; i++)
      for (let j = 0; j < 120; j++) {
        const at: LonLat = [
          west + ((east - west) * (i + 0.5)) / 160,
          south + ((north - south) * (j + 0.5)) / 120,
        ];
        const lake = lakes.find((area) => inside(area, at));
        // Terrain tiles are resampled: at the shore a pixel holds land as well.
        if (!lake || nearestM(at, "shore") < 25) continue;
        expect(Math.abs(height(at) - lake.elevationM)).toBeLessThan(0.13);
        seen++;
      }
    expect(seen).toBeGreaterThan(100);
  });

  it("has streams that go down all their way", () => {
    const streams = lines.filter((line) => line.kind === "stream" || line.kind === "river");
    expect(streams.length).toBeGreaterThan(60);
    const worst = streams.map((stream) => {
      let lowest = Infinity;
      let rise = 0;
      for (const at of positions(stream.coords)) {
        const here = height(at);
        if (Number.isNaN(here)) continue;
        rise = Math.max(rise, here - lowest);
        lowest = Math.min(lowest, here);
      }
      return { name: stream.name, rise };
    });
    // Lines are smoothed and bend on level ground, and tiles are resampled: a metre and a half is bank, not hill.
    expect(worst.filter(({ rise }) => rise > 1.5)).toEqual([]);
  });

  it("has its peaks on summits, at the heights printed", () => {
    const peaks = points.filter((point) => point.kind === "peak");
    expect(peaks.length).toBeGreaterThanOrEqual(10);
    for (const peak of peaks) {
      expect(peak.name).not.toBeNull();
      // Printed to the metre; tiles are resampled.
      expect(Math.abs(height(peak.lonLat) - peak.elevationM), String(peak.name)).toBeLessThan(1.2);
      for (let k = 0; k < 8; k++) {
        const around = legFrame(peak.lonLat, [peak.lonLat[0], peak.lonLat[1] + 0.001]);
        const [s, t] = [50 * Math.cos((k * Math.PI) / 4), 50 * Math.sin((k * Math.PI) / 4)];
        expect(height(around.toLonLat(s, t)), String(peak.name)).toBeLessThan(peak.elevationM + 0.6);
      }
    }
  });
});

describe("the practice walk", () => {
  it("reads without repairs, and is what the program writes", () => {
    const { repairs, newer } = parseWalk(walkText, WALK, "2027-01-01");
    expect(repairs).toEqual([]);
    expect(newer).toBe(false);
    expect(formatWalk(walk)).toBe(walkText);
    expect(walk.mapId).toBe(ground.map.info.id);
    expect(walk.date > "2025-01-01" && walk.date < "2030-01-01").toBe(true);
  });

  it("has eight to ten legs of 300 to 900 m, and a note at every point", () => {
    const legs = walk.points.slice(1).map((to, i) => metres(walk.points[i]?.lonLat as LonLat, to.lonLat));
    expect(legs.length).toBeGreaterThanOrEqual(8);
    expect(legs.length).toBeLessThanOrEqual(10);
    expect(legs.filter((length) => length < 300 || length > 900)).toEqual([]);
    expect(walk.points.every((point) => point.name && point.note.length > 20)).toBe(true);
  });

  it("has its points on what their names say", () => {
    const at = (name: string): LonLat => walk.points.find((point) => point.name === name)?.lonLat as LonLat;
    const summit = points.find((point) => point.name === "Lowder Knott");
    expect(metres(at("Lowder Knott"), summit?.lonLat as LonLat)).toBeLessThan(1);
    for (const name of ["Lowder fork", "Lake junction"]) {
      const meeting = [...near(at(name), "path"), ...near(at(name), "road")].filter(
        (line) => metresToLine(at(name), line.coords) < 2,
      );
      // Three ends, or one line ending on another that was stitched through.
      expect(meeting.length, name).toBeGreaterThanOrEqual(2);
    }
    for (const name of ["Saddle path", "Merle bend", "Bay bend"])
      expect(nearestM(at(name), "path", "road"), name).toBeLessThan(2);
    for (const name of ["Foot Bridge", "Kell Bridge"]) {
      expect(nearestM(at(name), "river"), name).toBeLessThan(2);
      expect(nearestM(at(name), "path"), name).toBeLessThan(2);
    }
    for (const [name, building] of [
      ["Boathouse", "Boathouse"],
      ["Bunkhouse, start", "Ulder Bunkhouse"],
      ["Bunkhouse, end", "Ulder Bunkhouse"],
    ] as const)
      expect(
        areas.some((area) => area.name === building && inside(area, at(name))),
        name,
      ).toBe(true);
  });

  it("keeps off the lake, the closed ground and the cliffs", () => {
    const closed = areas.filter((area) => area.kind === "water" || area.kind === "restricted");
    expect(closed.some((area) => area.kind === "restricted")).toBe(true);
    walk.points.slice(1).forEach((to, i) => {
      const frame = legFrame(walk.points[i]?.lonLat as LonLat, to.lonLat);
      for (let s = 0; s <= frame.lengthM; s += 10) {
        const here = frame.toLonLat(s, 0);
        expect(
          closed.filter((area) => inside(area, here)).map((area) => `leg ${i + 1}: ${area.name}`),
        ).toEqual([]);
        expect(nearestM(here, "cliff"), `leg ${i + 1} at ${s} m`).toBeGreaterThan(80);
      }
    });
  });
});
