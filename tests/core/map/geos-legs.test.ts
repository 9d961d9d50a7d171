/**
 * What legs cross on a real map, read through an archive's tiles, against GEOS on the lines before they were cut up.
 * Lines: OpenStreetMap, tests/fixtures/legs/README.md. GEOS by way of tests/fixtures/map/leg-crossings.py: 60 legs
 * transcribed in leg-crossings.json beside it, 500 more worked out here where Debian's python3-shapely is.
 */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { crossingsOf } from "../../../core/map/crossings.ts";
import type { MapFeatures } from "../../../core/map/features.ts";
import { openMap } from "../../../core/map/open-map.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../../../core/units/position.ts";
import { archiveSource, type RawTile } from "./support/archives.ts";
import { type Line, tileLines, worldLonLat, worldUnits } from "./support/tiled-lines.ts";
import type { RawFeature, XY } from "./support/vector-tile-bytes.ts";

const Z = 14;
type Crossing = readonly [line: number, atM: number, angleDeg: number];
type Leg = readonly [from: LonLat, to: LonLat];

const fixture = (name: string): URL => new URL(`../../fixtures/${name}`, import.meta.url);
const { features } = JSON.parse(readFileSync(fixture("legs/lines.geojson"), "utf8")) as {
  features: { properties: { kind: string }; geometry: { coordinates: XY[] } }[];
};
const ROLES: Record<string, string> = { road: "road", path: "path", river: "stream", shore: "water" };
/** Coordinates rounded to the tiles' units beforehand, so that only the cutting and joining is tested. */
const lines = features.map(({ properties: { kind }, geometry: { coordinates } }, id) => {
  const units = coordinates.map((c) => worldUnits(c, Z));
  const closed = coordinates[0]?.join() === coordinates.at(-1)?.join();
  return { role: ROLES[kind] as string, area: kind === "shore" && closed, units, id };
});
const BOUNDS: Bbox = [20.4, -34.07, 20.52, -33.985];

function tiles(how: "whole" | "cut"): RawTile[] {
  const all: RawTile[] = [];
  const [x0, y1] = worldUnits([BOUNDS[0], BOUNDS[1]], Z).map((u) => u >> 12) as [number, number];
  const [x1, y0] = worldUnits([BOUNDS[2], BOUNDS[3]], Z).map((u) => u >> 12) as [number, number];
  for (let x = x0; x <= x1; x++)
    for (let y = y0; y <= y1; y++) {
      const layer = (role: string) => {
        const here = lines.filter((l) => l.role === role);
        const drawn: Line[] = here
          .filter((l) => !l.area)
          .map(({ units, id }) => ({ units, properties: { id } }));
        const areas = here
          .filter((l) => l.area)
          .filter(({ units }) =>
            [units.map((u) => u[0] / 4096 - x), units.map((u) => u[1] / 4096 - y)].every(
              (at) => Math.max(...at) > -0.1 && Math.min(...at) < 1.1,
            ),
          )
          .map(({ units, id }): RawFeature => ({
            type: "polygon",
            parts: [units.slice(0, -1).map((u) => [u[0] - x * 4096, u[1] - y * 4096] as const)],
            properties: { id },
          }));
        return { name: role, features: [...tileLines(drawn, x, y, 64, how), ...areas] };
      };
      all.push({ z: Z, x, y, layers: ["road", "path", "stream", "water"].map(layer) });
    }
  return all;
}

/** The same legs on every machine: Park and Miller's generator (CACM 31 (1988) 1192–1201). */
function legs(count: number, seed: number): Leg[] {
  let state = seed;
  const random = (low: number, high: number): number => {
    state = (state * 48271) % 2147483647;
    return Number((low + (high - low) * (state / 2147483647)).toFixed(6));
  };
  const shores = lines.filter(({ area }) => area).flatMap(({ units }) => units);
  return Array.from({ length: count }, (_, i) => {
    if (i % 4 === 0) {
      // Across a lake: about a place on its shore.
      const [lon, lat] = worldLonLat(shores[Math.floor(random(0, shores.length))] as XY, Z);
      const [east, north] = [random(-0.008, 0.008), random(-0.006, 0.006)];
      return [
        [Number((lon - east).toFixed(6)), Number((lat - north).toFixed(6))],
        [Number((lon + east * random(0.3, 1)).toFixed(6)), Number((lat + north * random(0.3, 1)).toFixed(6))],
      ];
    }
    const from: LonLat = [random(20.425, 20.455), random(-34.035, -34.012)];
    return [from, [random(from[0] - 0.02, from[0] + 0.02), random(from[1] - 0.016, from[1] + 0.016)]];
  });
}

async function crossed(map: MapFeatures, [from, to]: Leg): Promise<Crossing[]> {
  const box = growBbox(bboxOf([from, to]) as Bbox, 50);
  await map.prepare(box);
  return crossingsOf(legFrame(from, to), map.lines(box)).map(
    ({ line, atM, crossingDeg }) => [Number(line.attributes["id"]), atM, crossingDeg] as const,
  );
}

/** @param slackM how far a line may have been shifted aside by rounding where tiles cut it */
function expectSame(found: readonly Crossing[], truth: readonly Crossing[], leg: Leg, slackM: number): void {
  const byLine = (list: readonly Crossing[]): Crossing[] =>
    list.toSorted((a, b) => a[0] - b[0] || a[1] - b[1]);
  const [have, want] = [byLine(found), byLine(truth)];
  expect(
    have.map(([line]) => line),
    `lines crossed by ${leg.join(" – ")}`,
  ).toEqual(want.map(([line]) => line));
  have.forEach(([line, atM, angleDeg], i) => {
    const [, wantM, wantDeg] = want[i] as Crossing;
    // A line shifted aside meets a leg that all but runs along it farther off.
    const along = slackM / Math.sin((Math.max(1, wantDeg) * Math.PI) / 180);
    expect(Math.abs(atM - wantM), `${line} at ${wantM} m, ${wantDeg}°`).toBeLessThan(Math.max(0.5, along));
    if (slackM === 0) expect(Math.abs(angleDeg - wantDeg)).toBeLessThan(0.5);
  });
}

const asked = (of: readonly Leg[]): string =>
  JSON.stringify({ lines: lines.map(({ units }) => units.map((u) => worldLonLat(u, Z))), legs: of });
const geos = (of: readonly Leg[]): Crossing[][] =>
  JSON.parse(
    spawnSync("/usr/bin/python3", [fixture("map/leg-crossings.py").pathname], {
      input: asked(of),
      encoding: "utf8",
      maxBuffer: 2 ** 26,
    }).stdout,
  ) as Crossing[][];
const hasGeos = spawnSync("/usr/bin/python3", ["-c", "import shapely, osgeo"]).status === 0;

const LIVE = legs(500, 20261125);
let live: Crossing[][] | null = null;

describe.for(["whole", "cut"] as const)("legs over a real map whose tiles take lines %s", (how) => {
  let map: MapFeatures;
  beforeAll(async () => {
    map = await openMap(archiveSource(tiles(how), BOUNDS));
  });
  const slackM = how === "cut" ? 0.5 : 0;

  it("cross what GEOS says (60 legs transcribed)", async () => {
    const truth = JSON.parse(readFileSync(fixture("map/leg-crossings.json"), "utf8")) as Crossing[][];
    expect(truth.flat().length).toBeGreaterThan(300);
    expect(truth.flat().some(([line]) => lines[line]?.area)).toBe(true);
    for (const [i, leg] of legs(60, 7).entries())
      expectSame(await crossed(map, leg), truth[i] as Crossing[], leg, slackM);
  });

  it.skipIf(!hasGeos)("cross what GEOS says, 500 legs (skipped without python3-shapely)", async () => {
    const truth = (live ??= geos(LIVE));
    expect(truth).toHaveLength(500);
    expect(truth.flat().length).toBeGreaterThan(3000);
    expect(truth.flat().filter(([line]) => lines[line]?.area).length).toBeGreaterThan(100);
    for (const [i, leg] of LIVE.entries())
      expectSame(await crossed(map, leg), truth[i] as Crossing[], leg, slackM);
  });
});
