/**
 * What a point put down near it is meant for, held to the demo map as the reference readers of PMTiles and MVT give it, measured
 * with turf: nothing nearer is passed over, and what is caught is there.
 */
import { fileURLToPath } from "node:url";
import { destination, lineIntersect, lineString, point, pointToLineDistance } from "@turf/turf";
import { beforeAll, describe, expect, test } from "vitest";
import { openGroundAt } from "../../../electron/cli/map-files.ts";
import { snapPlace } from "../../../core/legs/aids/snap-place.ts";
import type { Ground } from "../../../core/terrain/ground.ts";
import { metresBetween, RawMap, type Xy } from "../course/raw-map.ts";

const BASE = fileURLToPath(new URL("../../../sample-maps/uldermoor", import.meta.url));
let ground: Ground;
let raw: RawMap;

beforeAll(async () => {
  [ground, raw] = await Promise.all([openGroundAt(`${BASE}.pmtiles`), RawMap.open(BASE)]);
});

/** Lines of some roles; edges of woods and lakes too, as their rings. */
const linesOf = (roles: readonly string[]): Xy[][] =>
  raw.features
    .filter(({ role, type, underground }) => roles.includes(role) && type !== 1 && !underground)
    .flatMap(({ parts }) => parts.map((part) => [...part]));

const nearM = (at: Xy, line: readonly Xy[]): number =>
  pointToLineDistance(point([...at]), lineString(line.map((xy) => [...xy])), { units: "meters" });

/** A fixed sequence, so that a failure can be looked at. */
function* places(count: number): Generator<Xy> {
  const [west, south, east, north] = raw.bounds;
  let state = 7;
  const next = (): number => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
  for (let i = 0; i < count; i++)
    yield [west + (0.1 + 0.8 * next()) * (east - west), south + (0.1 + 0.8 * next()) * (north - south)];
}

const STOOD_ON = ["path", "road", "stream", "wall", "fence", "powerLine"];
const REACH_M = 60;

describe("on the demo map", () => {
  test("a crossing of path and stream is caught from beside it, where turf has the two lines cross", async () => {
    const paths = linesOf(["path"]);
    const streams = linesOf(["stream"]);
    const crossings = paths.flatMap((path) =>
      streams.flatMap((stream) =>
        lineIntersect(
          lineString(path.map((xy) => [...xy])),
          lineString(stream.map((xy) => [...xy])),
        ).features.map(({ geometry }) => geometry.coordinates as unknown as Xy),
      ),
    );
    expect(crossings.length).toBeGreaterThan(8);
    let [exact, merged] = [0, 0];
    for (const crossing of crossings) {
      const [lon, lat] = destination([...crossing], 12, 70, { units: "meters" }).geometry.coordinates as [
        number,
        number,
      ];
      const found = await snapPlace(ground, [lon, lat], 30);
      expect(found?.onLine).toBe(false);
      // Another place may lie nearer; what meets within 10 m is one place, which may lie so much farther off.
      expect(metresBetween([lon, lat], found?.lonLat as Xy)).toBeLessThan(12.5 + 10);
      const apartM = metresBetween(crossing, found?.lonLat as Xy);
      if (apartM < 1) exact++;
      if (apartM < 10) merged++;
    }
    // The others have a junction or a confluence within 10 m, which is one place with them.
    expect(exact / crossings.length).toBeGreaterThan(0.7);
    expect(merged / crossings.length).toBeGreaterThan(0.9);
  });

  test("of 250 places those caught by a line lie on the nearest, and nothing is near those not caught", async () => {
    const lines = linesOf(STOOD_ON);
    const edges = linesOf(["wood", "water"]);
    const count = { line: 0, place: 0, none: 0 };
    for (const at of places(250)) {
      const found = await snapPlace(ground, at, REACH_M);
      const nearest = Math.min(...lines.map((line) => nearM(at, line)));
      if (!found) {
        count.none++;
        expect(nearest).toBeGreaterThan(0.6 * REACH_M - 0.5);
      } else if (found.onLine) {
        count.line++;
        const offM = metresBetween(at, found.lonLat);
        expect(offM).toBeLessThan(0.6 * REACH_M + 0.1);
        expect(offM).toBeLessThan(nearest + 0.5);
        const on = Math.min(...[...lines, ...edges].map((line) => nearM(found.lonLat, line)));
        expect(on).toBeLessThan(0.5);
      } else {
        count.place++;
        expect(metresBetween(at, found.lonLat)).toBeLessThan(REACH_M + 0.1);
      }
    }
    expect(Math.min(count.line, count.place, count.none)).toBeGreaterThan(10);
  });

  test("a summit is caught at its spot and called by its name", async () => {
    const peak = raw.features.find(({ role }) => role === "peak")?.parts[0]?.[0] as Xy;
    const [lon, lat] = destination([...peak], 20, 200, { units: "meters" }).geometry.coordinates as [
      number,
      number,
    ];
    const found = await snapPlace(ground, [lon, lat], 40);
    expect(found?.kind).toBe("peak");
    expect(metresBetween(peak, found?.lonLat as Xy)).toBeLessThan(0.1);
  });
});
