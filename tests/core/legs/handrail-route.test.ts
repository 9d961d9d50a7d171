/**
 * A longer way along lines on small maps with one right answer. Source of the practice: US Army FM 3-21.8, navigation
 * aids (handrails); when the longer way pays is common practice, no source. Legs run 1000 m east.
 */
import * as turf from "@turf/turf";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { direct } from "../../../core/geodesy/geodesic.ts";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { frameLines } from "../../../core/legs/aids/framed-line.ts";
import { handrailRouteOf, routeBox, type RouteFinding } from "../../../core/legs/aids/handrail-route.ts";
import { handrailsOf } from "../../../core/legs/aids/handrails.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import type { LineFeature } from "../../../core/map/features.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { drawn, lineOf, metres, pairs, place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const frame = legFrame(place(0, 0), place(1000, 0));
function routed(
  lines: readonly LineFeature[],
  heightAt: ((p: LonLat) => number) | null = null,
): RouteFinding {
  const framed = frameLines(frame, lines);
  return handrailRouteOf(
    { frame, lines: framed, handrails: handrailsOf(frame, framed, settings), heightAt },
    settings,
  );
}
const told = ({ route }: RouteFinding): [string, string | null, number][] =>
  (route?.parts ?? []).map(({ how, kind, distanceM }) => [how, kind, Math.round(distanceM)]);

const round = drawn(
  "path",
  [
    [0, 5],
    [50, 300],
    [950, 300],
    [990, 60],
  ],
  "Old Way",
);

describe("a path goes round", () => {
  test("along it to its end and 61 m straight", () => {
    const { route, reason } = routed([round]);
    expect(reason).toBeNull();
    // From the start 5 m to the path; its length by Pythagoras: √(50² + 295²) + 900 + √(40² + 240²).
    const path = Math.hypot(50, 295) + 900 + Math.hypot(40, 240);
    expect(route?.distanceM).toBeCloseTo(5 + path + Math.hypot(10, 60), 0);
    expect(told({ route: route ?? null, reason })).toEqual([
      ["follow", "path", Math.round(5 + path)],
      ["straight", null, 61],
    ]);
    expect(route?.unaidedM).toBeCloseTo(Math.hypot(10, 60), 0);
    expect(route?.longestUnaidedM).toBe(route?.unaidedM);
    expect(route?.straightUnaidedM).toBeCloseTo(1000, 0);
    // From (990, 60) to (1000, 0): 170.5° by the arc tangent.
    expect(route?.parts[1]?.bearingTrueDeg).toBeCloseTo(180 - (Math.atan2(10, 60) * 180) / Math.PI, 0);
    expect(route?.why).toContain("path Old Way");
    expect(route?.climbM).toBeNull();
  });

  test("a path in three pieces with a gap of 20 m is the same way", () => {
    const { route } = routed([
      drawn("path", [
        [0, 5],
        [50, 300],
        [400, 300],
      ]),
      drawn("path", [
        [420, 300],
        [700, 300],
      ]),
      drawn("path", [
        [950, 300],
        [700, 300],
      ]),
      drawn("path", [
        [950, 301],
        [990, 60],
      ]),
    ]);
    expect(route?.distanceM).toBeCloseTo(
      5 + Math.hypot(50, 295) + 900 + Math.hypot(40, 240) + Math.hypot(10, 60),
      -1,
    );
    expect(route?.unaidedM).toBeCloseTo(20 + Math.hypot(10, 60), -1);
  });

  test("climb and descent are those of the path, not of the straight leg", () => {
    const { route } = routed([round], (p) => 100 + Math.max(0, metres(p)[1]) / 5);
    // From 5 m north up to 300 m north and down to the target: 60 m each way.
    expect(route?.climbM).toBeCloseTo(60, 0);
    expect(route?.descentM).toBeCloseTo(60, 0);
  });

  test("the coordinates run on from the start to the target", () => {
    const parts = routed([round]).route?.parts ?? [];
    const ends = parts.map(({ coords }) => [coords.slice(0, 2), coords.slice(-2)] as const);
    expect(turf.distance([...place(0, 0)], [...(ends[0]?.[0] ?? [])], { units: "meters" })).toBeLessThan(
      0.01,
    );
    expect(
      turf.distance([...place(1000, 0)], [...(ends.at(-1)?.[1] ?? [])], { units: "meters" }),
    ).toBeLessThan(0.01);
    for (let i = 1; i < ends.length; i++)
      expect([...(ends[i]?.[0] ?? [])]).toEqual([...(ends[i - 1]?.[1] ?? [])]);
    for (const { coords, distanceM } of parts)
      expect(
        turf.length(turf.lineString(Array.from(pairs(coords), (p) => [...p])), { units: "meters" }) /
          distanceM,
      ).toBeCloseTo(1, 1);
  });
});

describe("which lines, in which order", () => {
  const stream = drawn(
    "stream",
    [
      [200, -400],
      [200, 150],
      [520, 150],
    ],
    "Fern Beck",
  );
  const wall = drawn("wall", [
    [520, 500],
    [520, 100],
    [960, 100],
  ]);

  test("over to the stream, up it to the wall, along the wall to its end, and straight", () => {
    const finding = routed([stream, wall]);
    expect(told(finding).map(([how, kind]) => [how, kind])).toEqual([
      ["straight", null],
      ["follow", "stream"],
      ["follow", "wall"],
      ["straight", null],
    ]);
    // The stream lies square across the way: it stops all who come to it.
    expect(finding.route?.parts[0]?.stop).toMatchObject({ kind: "stream", name: "Fern Beck", beyondM: 0 });
    expect(finding.route?.parts[0]?.stop?.stoppedShare).toBeGreaterThan(0.95);
    expect(finding.route?.parts.at(-1)?.stop).toBeNull();
  });

  test("what lies beyond the target stops one on the last part", () => {
    const { route } = routed([
      round,
      drawn("road", [
        [700, -150],
        [1300, -150],
      ]),
    ]);
    expect(route?.parts.at(-1)?.stop).toMatchObject({ kind: "road" });
    // 150 m south of the target on a course of 170.5°.
    expect(route?.parts.at(-1)?.stop?.beyondM).toBeCloseTo(150 / Math.cos(Math.atan2(10, 60)), -1);
  });

  test("two paths 100 m apart that do not meet are not joined: at most one of them is followed", () => {
    const { route } = routed([
      drawn(
        "path",
        [
          [0, 10],
          [0, 250],
          [420, 250],
        ],
        "one",
      ),
      drawn(
        "path",
        [
          [1000, 10],
          [1000, 350],
          [420, 350],
        ],
        "other",
      ),
    ]);
    expect(new Set(route?.parts.flatMap(({ name }) => name ?? [])).size).toBeLessThanOrEqual(1);
  });

  test("no wall is followed over a river, a path over its bridge is", () => {
    const river = drawn("river", [
      [500, -2000],
      [500, 2000],
    ]);
    const over = (kind: Kind): [string, string | null, number][] =>
      told(
        routed([
          river,
          drawn(kind, [
            [0, 5],
            [50, 200],
            [950, 200],
            [1000, 5],
          ]),
        ]),
      );
    expect(over("path").map(([how]) => how)).toEqual(["follow"]);
    expect(over("wall")).toEqual([]);
  });
});

describe("when there is none", () => {
  const reason = (lines: LineFeature[]): string | null => routed(lines).reason;
  test("no line at all", () => expect(reason([])).toContain("no line to follow"));
  test("a path along the leg: straight on is safe enough", () =>
    expect(
      reason([
        drawn("path", [
          [0, 10],
          [1000, 10],
        ]),
      ]),
    ).toContain("safe enough"));
  test("a path that takes more than twice as long", () =>
    expect(
      reason([
        drawn("path", [
          [0, 5],
          [0, 590],
          [1000, 590],
          [1000, 5],
        ]),
      ]),
    ).toContain("so much longer"));
  test("a path that leads only a little of the way", () =>
    expect(
      reason([
        drawn("path", [
          [0, 5],
          [300, 200],
        ]),
      ]),
    ).toContain("leaves much less"));
  test("a cliff before the end of the path, and the target on the far side of it", () => {
    const { route } = routed([
      round,
      drawn("cliff", [
        [600, 30],
        [1400, 30],
      ]),
    ]);
    for (const { how, coords } of route?.parts ?? [])
      if (how === "straight")
        expect(
          turf.lineIntersect(
            turf.lineString(Array.from(pairs(coords), (p) => [...p])),
            turf.lineString([[...place(600, 30)], [...place(1400, 30)]]),
          ).features,
        ).toEqual([]);
  });
});

describe("on a real map", () => {
  const { features } = JSON.parse(
    readFileSync(new URL("../../fixtures/legs/lines.geojson", import.meta.url), "utf8"),
  ) as {
    features: {
      properties: { kind: Kind; name: string };
      geometry: { coordinates: [number, number][] };
    }[];
  };
  const lines = features.map(({ properties, geometry }) =>
    lineOf(properties.kind, geometry.coordinates, properties.name),
  );
  let x = 4242;
  const next = (): number => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) / 2 ** 32;
  };
  const legs = Array.from({ length: 30 }, (_, i) => {
    const from = place((next() - 0.5) * 4000, (next() - 0.5) * 3000);
    const to = direct(from, trueBearing(next() * 360), 500 + next() * 1000);
    const here = legFrame(from, to);
    const [west, south, east, north] = routeBox(here);
    const near = lines.filter(({ coords }) =>
      Array.from(pairs(coords)).some(
        ([lon, lat]) => lon >= west && lon <= east && lat >= south && lat <= north,
      ),
    );
    const framed = frameLines(here, near);
    const handrails = handrailsOf(here, framed, settings);
    return {
      title: `leg ${i}`,
      here,
      near,
      ...handrailRouteOf({ frame: here, lines: framed, handrails }, settings),
    };
  });

  test.for(legs)("$title keeps to what is promised; turf finds what is followed where it says", (leg) => {
    const { route, reason, here, near } = leg;
    expect(route === null).toBe(reason !== null);
    if (!route) return;
    expect(route.distanceM).toBeLessThanOrEqual(2 * here.lengthM);
    expect(route.unaidedM).toBeLessThanOrEqual(0.5 * route.straightUnaidedM);
    expect(route.parts.reduce((sum, p) => sum + p.distanceM, 0)).toBeCloseTo(route.distanceM, 6);
    for (const { how, name, coords, distanceM } of route.parts) {
      const way = turf.lineString(Array.from(pairs(coords), (p) => [...p]));
      expect(Math.abs(turf.length(way, { units: "meters" }) / distanceM - 1)).toBeLessThan(0.02);
      if (how !== "follow") continue;
      const own = near
        .filter((l) => l.name === name)
        .map((l) => turf.lineString(Array.from(pairs(l.coords), (p) => [...p])));
      // Off the line only for the few steps to or from it, and from one line to the next at a junction: 12 m.
      for (let d = 0; d <= distanceM; d += 10) {
        const at = turf.along(way, d, { units: "meters" });
        const off = Math.min(...own.map((l) => turf.pointToLineDistance(at, l, { units: "meters" })));
        expect(off, `${name} at ${d}`).toBeLessThan(12);
      }
    }
  });

  test("at least five of them have one", () =>
    expect(legs.filter(({ route }) => route).length).toBeGreaterThanOrEqual(5));
});
