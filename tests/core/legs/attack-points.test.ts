/**
 * Attack points on small maps with one right answer. Source of the practice: US Army FM 3-21.8, navigation aids (a
 * feature that cannot be mistaken, near the goal, from which the last short stretch is taken by careful compass and pace
 * count); which feature is best is common practice, no source. Legs run 1000 m east, t is metres south of them.
 */
import * as turf from "@turf/turf";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { direct } from "../../../core/geodesy/geodesic.ts";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import {
  ATTACK_REACH_M,
  attackBox,
  type AttackFinding,
  type AttackInput,
  attackPointsOf,
} from "../../../core/legs/aids/attack-points.ts";
import { frameLines } from "../../../core/legs/aids/framed-line.ts";
import { handrailsOf } from "../../../core/legs/aids/handrails.ts";
import { linePlaces } from "../../../core/legs/aids/line-places.ts";
import { nodesOf } from "../../../core/legs/aids/line-meetings.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import type { AreaFeature, LineFeature, PointFeature } from "../../../core/map/features.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import type { Landform } from "../../../core/terrain/landforms/landform.ts";
import { trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { drawn, lineOf, metres, pairs, place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const frame = legFrame(place(0, 0), place(1000, 0));

function found(lines: readonly LineFeature[], rest: Partial<AttackInput> = {}): AttackFinding {
  const framed = frameLines(frame, lines);
  return attackPointsOf(
    { frame, lines: framed, handrails: handrailsOf(frame, framed, settings), ...rest },
    settings,
  );
}
const places = (lines: readonly LineFeature[]): [Kind, string, number, number][] =>
  linePlaces(frameLines(frame, lines), { minS: 0, maxS: 1000, minT: -400, maxT: 400 }).map((p) => [
    p.kind,
    p.words,
    Math.round(p.s),
    Math.round(p.t),
  ]);
const point = (kind: Kind, e: number, n: number, name: string | null = null): PointFeature => ({
  kind,
  name,
  elevationM: NaN,
  lonLat: place(e, n),
  attributes: {},
});
const form = (kind: Landform["kind"], e: number, n: number, line: Float64Array | null = null): Landform => ({
  kind,
  name: null,
  lonLat: place(e, n),
  elevationM: 300,
  extent: [0, 0, 0, 0],
  reliefM: 40,
  atLeast: false,
  line,
});
const forkBefore = [
  drawn(
    "path",
    [
      [850, -400],
      [850, 400],
    ],
    "Old Way",
  ),
  drawn("path", [
    [850, 0],
    [1100, 300],
  ]),
];

describe("what makes a target hard", () => {
  test.each<[string, LineFeature[], Partial<AttackInput>, boolean, RegExp]>([
    ["nothing near", [], {}, true, /^Nothing that cannot be missed/],
    [
      "on a stream",
      [
        drawn("stream", [
          [1000, -300],
          [1008, 300],
        ]),
      ],
      {},
      false,
      /lies by the stream/,
    ],
    [
      "a stream 40 m off",
      [
        drawn("stream", [
          [1040, -300],
          [1040, 300],
        ]),
      ],
      {},
      true,
      /^Nothing/,
    ],
    ["a hut", [], { points: [point("building", 1010, 10, "Low Hut")] }, false, /at the building Low Hut/],
    ["a summit", [], { points: [point("peak", 1000, 20, "Grey Knott")] }, false, /at Grey Knott/],
    [
      "a ridge line",
      [
        drawn("ridge", [
          [1000, -300],
          [1000, 300],
        ]),
      ],
      {},
      true,
      /^Nothing/,
    ],
    [
      "a path junction 20 m off",
      [
        drawn("path", [
          [1020, -300],
          [1020, 300],
        ]),
        drawn("path", [
          [1020, 0],
          [1300, 0],
        ]),
      ],
      {},
      false,
      /at the junction of paths/,
    ],
  ])("%s", (_, lines, rest, hard, because) => {
    const finding = found(lines, rest);
    expect(finding.hard).toBe(hard);
    expect(finding.because).toMatch(because);
    if (!hard) expect(finding.points).toEqual([]);
  });
});

describe("the obvious attack point", () => {
  test("the path junction 150 m short of a target on an open slope", () => {
    const { points } = found(forkBefore);
    expect(points[0]).toMatchObject({ kind: "junction", name: "Old Way" });
    expect(points[0]?.words).toBe("the junction of path Old Way and a path");
    expect(points[0]?.distanceM).toBeCloseTo(150, 0);
    expect(points[0]?.bearingTrueDeg).toBeCloseTo(90, 1);
    expect(metres(points[0]?.lonLat ?? place(0, 0))[0]).toBeCloseTo(850, 0);
    expect(points[0]?.why).toContain("stops one there");
  });

  test("a junction the handrail leads to comes before one as near that nothing leads to", () => {
    const at = (n: number, name: string): LineFeature[] => [
      drawn(
        "wall",
        [
          [900, n - 40],
          [900, n + 40],
        ],
        name,
      ),
      drawn("wall", [
        [900, n],
        [960, n],
      ]),
    ];
    const { points } = found([
      ...at(50, "north"),
      ...at(-50, "south"),
      drawn(
        "stream",
        [
          [0, -20],
          [600, -30],
          [895, -48],
        ],
        "Fern Beck",
      ),
    ]);
    expect(points[0]?.name).toBe("south");
    expect(points[0]?.why).toContain("stream Fern Beck leads there");
    expect(points.map(({ name }) => name)).toContain("north");
  });

  test("across a cliff no last leg is sent", () => {
    const { points, reason } = found([
      ...forkBefore,
      drawn("cliff", [
        [930, -300],
        [930, 300],
      ]),
    ]);
    // The fork and all that lies west of the cliff; the branch's end at (1100, 300) is beyond the target's reach of it.
    expect(points.every(({ lonLat }) => metres(lonLat)[0] > 930)).toBe(true);
    expect(points.length > 0 || reason !== null).toBe(true);
  });

  test("a river in the way lowers it below one on this side", () => {
    const { points } = found([
      drawn(
        "road",
        [
          [880, -300],
          [880, 300],
        ],
        "Moor Road",
      ),
      drawn("path", [
        [880, 0],
        [700, 100],
      ]),
      drawn("river", [
        [940, -300],
        [940, 300],
      ]),
      drawn("wall", [
        [1150, -100],
        [1150, 100],
      ]),
      drawn("wall", [
        [1150, 0],
        [1300, 0],
      ]),
    ]);
    expect(points[0]).toMatchObject({ kind: "junction" });
    expect(metres(points[0]?.lonLat ?? place(0, 0))[0]).toBeCloseTo(1150, 0);
  });

  test("at most three, none beside another, best first", () => {
    const walls = [-250, -150, -50, 50, 150, 250].flatMap((n) => [
      drawn("wall", [
        [800, n],
        [900, n],
      ]),
      drawn("wall", [
        [850, n],
        [850, n + 40],
      ]),
    ]);
    const { points } = found(walls);
    expect(points.length).toBeLessThanOrEqual(3);
    for (const a of points)
      for (const b of points) {
        const [p, q] = [metres(a.lonLat), metres(b.lonLat)];
        if (a !== b) expect(Math.hypot(p[0] - q[0], p[1] - q[1])).toBeGreaterThanOrEqual(60);
      }
    expect(points.map(({ score }) => score)).toEqual(
      points.map(({ score }) => score).toSorted((a, b) => b - a),
    );
  });

  test("a hut 120 m off, a summit, the foot of a spur and a saddle are candidates; a lone spot height is not", () => {
    const kinds = (rest: Partial<AttackInput>): Kind[] => found([], rest).points.map(({ kind }) => kind);
    expect(kinds({ points: [point("building", 880, 0)] })).toEqual(["building"]);
    expect(kinds({ points: [point("peak", 900, 60, "Grey Knott")] })).toEqual(["peak"]);
    expect(kinds({ landforms: [form("saddle", 920, 20)] })).toEqual(["saddle"]);
    expect(kinds({ points: [point("spotHeight", 900, 0)] })).toEqual([]);
    expect(kinds({ points: [point("spotHeight", 900, 0)], landforms: [form("hill", 905, 5)] })).toEqual([
      "spotHeight",
    ]);
    // A summit on the map and the top in the terrain are one.
    expect(
      kinds({ points: [point("peak", 900, 0, "Grey Knott")], landforms: [form("hill", 930, 10)] }),
    ).toEqual(["peak"]);
  });

  test("a small pond is one, a lake is not", () => {
    const round = (e: number, n: number, r: number): AreaFeature => ({
      kind: "water",
      name: null,
      elevationM: NaN,
      attributes: {},
      rings: [
        Float64Array.from(
          Array.from({ length: 13 }, (_, i) =>
            place(e + r * Math.cos((i * Math.PI) / 6), n + r * Math.sin((i * Math.PI) / 6)),
          ).flat(),
        ),
      ],
    });
    expect(found([], { areas: [round(900, 0, 20)] }).points.map(({ kind }) => kind)).toEqual(["water"]);
    expect(found([], { areas: [round(800, 0, 90)] }).points).toEqual([]);
  });

  test("too short a leg is its own attack point; nothing near is said to be nothing", () => {
    const short = legFrame(place(880, 0), place(1000, 0));
    expect(attackPointsOf({ frame: short, lines: frameLines(short, forkBefore) }, settings).reason).toContain(
      "so short",
    );
    expect(found([]).reason).toContain("nothing easy to find");
  });

  test("uphill over a brow counts for less than over level ground", () => {
    const level = found(forkBefore, { heightAt: () => 300 });
    const brow = found(forkBefore, {
      heightAt: (p) => 300 + Math.min(30, Math.max(0, metres(p)[0] - 850) * 0.6),
    });
    expect(brow.points[0]?.score).toBeLessThan(level.points[0]?.score ?? 0);
    expect(brow.points[0]?.why).toContain("30 m up");
  });
});

describe("places that lines make", () => {
  const cross = (a: Kind, b: Kind): [Kind, string, number, number][] =>
    places([
      drawn(a, [
        [300, 0],
        [700, 0],
      ]),
      drawn(b, [
        [500, -300],
        [500, 300],
      ]),
    ]).filter(([, , s, t]) => s === 500 && t === 0);

  test.each<[Kind, Kind, string | null]>([
    ["path", "path", "the junction of paths"],
    ["path", "road", "the junction of a path and a road"],
    ["path", "stream", "where the path crosses the stream"],
    ["road", "rail", "where the road crosses the railway"],
    ["path", "wall", "where the path meets the wall"],
    ["wall", "fence", "the junction of a wall and a fence"],
    ["path", "powerLine", null],
    ["powerLine", "stream", null],
    ["stream", "stream", null], // streams run into each other; a crossing is a slip of the map
    ["contour", "path", null],
    ["path", "boundary", null],
  ])("%s over %s: %s", (a, b, words) => expect(cross(a, b).map((p) => p[1])).toEqual(words ? [words] : []));

  test("streams that meet are a confluence; a line cut at a tile's edge is nothing; a name that changes is nothing", () => {
    expect(
      places([
        drawn(
          "stream",
          [
            [200, 100],
            [500, 0],
            [800, 0],
          ],
          "Fern Beck",
        ),
        drawn("stream", [
          [300, -200],
          [500, -2],
        ]),
      ]).filter(([kind]) => kind === "confluence"),
    ).toEqual([["confluence", "the confluence of stream Fern Beck and a stream", 500, 2]]);
    const cut = (name: string | null): unknown[] =>
      places([
        drawn(
          "path",
          [
            [-100, 0],
            [500, 0],
          ],
          name,
        ),
        drawn("path", [
          [501, 0],
          [1100, 20],
        ]),
      ]);
    expect(cut(null)).toEqual([]);
    expect(cut("Old Way")).toEqual([]);
  });

  test("one bend of 90° is one bend, seen over a rounded corner too; a gentle curve and a wiggle are none", () => {
    const arc = (r: number): [number, number][] =>
      Array.from({ length: 10 }, (_, i): [number, number] => [
        500 + r * Math.sin((i * Math.PI) / 18),
        r * (1 - Math.cos((i * Math.PI) / 18)),
      ]);
    const bent = (r: number): unknown[] =>
      places([drawn("path", [[-100, 0], ...arc(r), [500 + r, 900]])]).filter(([kind]) => kind === "bend");
    expect(bent(0.001)).toHaveLength(1);
    expect(bent(12)).toHaveLength(1);
    expect(bent(300)).toEqual([]);
    const wiggle = Array.from({ length: 150 }, (_, i): [number, number] => [-100 + 8 * i, (i % 2) * 8]);
    expect(places([drawn("stream", wiggle)])).toEqual([]);
  });

  test("ends of walls and paths are places, a stream's source is not; a ring has no end", () => {
    const end = (kind: Kind): string[] =>
      places([
        drawn(kind, [
          [-100, 0],
          [500, 0],
        ]),
      ]).map((p) => p[1]);
    expect(end("wall")).toEqual(["the end of the wall"]);
    expect(end("path")).toEqual(["the end of the path"]);
    expect(end("stream")).toEqual([]);
    expect(
      places([
        drawn("woodEdge", [
          [300, 100],
          [700, 100],
          [700, -100],
          [300, -100],
          [300, 100],
        ]),
      ]).every(([kind]) => kind === "corner"),
    ).toBe(true);
  });
});

describe("against turf on a real map", () => {
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
  let x = 31337;
  const next = (): number => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) / 2 ** 32;
  };
  const centres = Array.from({ length: 30 }, (): LonLat =>
    place((next() - 0.5) * 4000, (next() - 0.5) * 3000),
  );
  const WAYS = new Set<Kind>(["path", "road"]);

  test.for(centres.slice(0, 12).map((at, i) => ({ at, title: `around place ${i}` })))(
    "$title every crossing of two ways is at a node, and every node where turf finds two lines within 16 m",
    ({ at }) => {
      const here = legFrame(at, direct(at, trueBearing(90), 500));
      const framed = frameLines(here, lines);
      const nodes = nodesOf(framed, { minS: -300, maxS: 300, minT: -300, maxT: 300 });
      const box = turf.bboxPolygon([
        ...(turf.bbox(turf.circle([...at], 450, { units: "meters" })) as [number, number, number, number]),
      ]);
      const near = features.filter((f) =>
        turf.booleanIntersects(turf.lineString(f.geometry.coordinates), box),
      );
      const ways = near.filter((f) => WAYS.has(f.properties.kind));
      for (const a of ways)
        for (const b of ways) {
          if (a.properties.name >= b.properties.name) continue;
          const [p, q] = [turf.lineString(a.geometry.coordinates), turf.lineString(b.geometry.coordinates)];
          for (const { geometry } of turf.lineIntersect(p, q).features) {
            const [s, t] = here.toFrame(geometry.coordinates as [number, number]);
            if (Math.abs(s) > 280 || Math.abs(t) > 280 || turfAngle(p, q, geometry.coordinates) < 30)
              continue;
            expect(
              nodes.some((n) => Math.hypot(n.s - s, n.t - t) <= 11),
              `${a.properties.name} and ${b.properties.name}`,
            ).toBe(true);
          }
        }
      for (const node of nodes) {
        const [lon, lat] = here.toLonLat(node.s, node.t);
        const touching = near.filter(
          (f) =>
            turf.pointToLineDistance([lon, lat], turf.lineString(f.geometry.coordinates), {
              units: "meters",
            }) <= 16,
        );
        expect(touching.length).toBeGreaterThanOrEqual(2);
        for (const { line } of node.members)
          expect(touching.map(({ properties }) => properties.name)).toContain(line.line.name);
      }
    },
  );

  /** Angle between two lines at a meeting, from points 10 m along either. */
  function turfAngle(
    p: ReturnType<typeof turf.lineString>,
    q: ReturnType<typeof turf.lineString>,
    at: number[],
  ): number {
    const heading = (l: ReturnType<typeof turf.lineString>): number => {
      const along = turf.nearestPointOnLine(l, at, { units: "meters" }).properties.location;
      const [a, b] = [-10, 10].map((d) => turf.along(l, Math.max(0, along + d), { units: "meters" }));
      return turf.bearing(a as never, b as never);
    };
    const turn = Math.abs(heading(p) - heading(q)) % 180;
    return Math.min(turn, 180 - turn);
  }

  test("all candidates lie within the reach of the box that is asked for", () => {
    const [west, south, east, north] = attackBox(place(0, 0));
    for (const bearing of [0, 45, 90, 135, 180, 225, 270, 315]) {
      const [lon, lat] = direct(place(0, 0), trueBearing(bearing), ATTACK_REACH_M);
      expect(lon >= west && lon <= east && lat >= south && lat <= north).toBe(true);
    }
  });

  test("advice on 30 legs: never more than three, all within the reach, none over a river's bank or back past the start", () => {
    for (const at of centres) {
      const to = direct(at, trueBearing(next() * 360), 500 + next() * 900);
      const here = legFrame(at, to);
      const { points } = attackPointsOf({ frame: here, lines: frameLines(here, lines) }, settings);
      expect(points.length).toBeLessThanOrEqual(3);
      for (const { distanceM, lonLat } of points) {
        expect(distanceM).toBeGreaterThanOrEqual(60);
        expect(distanceM).toBeLessThanOrEqual(ATTACK_REACH_M);
        const last = turf.lineString([[...lonLat], [...to]]);
        for (const shore of lines.filter(({ kind }) => kind === "shore")) {
          const met = turf.lineIntersect(
            last,
            turf.lineString(Array.from(pairs(shore.coords), (p) => [...p])),
          );
          for (const m of met.features)
            expect(turf.distance([...lonLat], m, { units: "meters" })).toBeLessThan(11);
        }
      }
    }
  });
});
