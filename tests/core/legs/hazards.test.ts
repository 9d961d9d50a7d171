/**
 * Hazards in the drift cone. Small maps with one right answer (analytic surfaces, closed forms worked in the comments),
 * and 300 random legs over real lines and areas against GEOS: tests/fixtures/legs/hazards-truth.json.
 */
import * as turf from "@turf/turf";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { frameAreas } from "../../../core/legs/aids/framed-area.ts";
import { frameLines } from "../../../core/legs/aids/framed-line.ts";
import { type Hazard, type HazardFinding, hazardsOf } from "../../../core/legs/aids/hazards.ts";
import type { AreaFeature, LineFeature } from "../../../core/map/features.ts";
import { type Kind, ROLES } from "../../../core/map/kinds.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { drawn, hills, lineOf, place } from "./support/line-map.ts";

const settings = { driftDeg: 6, hazardBeyondM: 100, steepDeg: [30, 35, 40] };
const ALL_ROLES = Object.fromEntries(ROLES.map((role) => [role, { layer: role }]));

const areaOf = (
  kind: Kind,
  rings: readonly (readonly LonLat[])[],
  name: string | null = null,
): AreaFeature => ({
  kind,
  name,
  elevationM: NaN,
  rings: rings.map((ring) => Float64Array.from(ring.flat())),
  attributes: {},
});
const drawnArea = (
  kind: Kind,
  rings: readonly (readonly (readonly [number, number])[])[],
  name: string | null = null,
): AreaFeature =>
  areaOf(
    kind,
    rings.map((ring) => [...ring, ring[0] as readonly [number, number]].map(([e, n]) => place(e, n))),
    name,
  );

/** A leg of 1000 m east; north is its left. */
function found(
  on: {
    lines?: readonly LineFeature[];
    areas?: readonly AreaFeature[];
    elevation?: ElevationModel | null;
    roles?: object;
  },
  more: Partial<typeof settings> = {},
): HazardFinding {
  const frame = legFrame(place(0, 0), place(1000, 0));
  return hazardsOf(
    frame,
    {
      lines: frameLines(frame, on.lines ?? []),
      areas: frameAreas(frame, on.areas ?? []),
      elevation: on.elevation ?? null,
      roles: on.roles ?? ALL_ROLES,
    },
    { ...settings, ...more },
  );
}
const withAttributes = (line: LineFeature, attributes: LineFeature["attributes"]): LineFeature => ({
  ...line,
  attributes,
});
const across = (kind: Kind, at: number, name: string | null = null): LineFeature =>
  drawn(
    kind,
    [
      [at, -500],
      [at, 500],
    ],
    name,
  );
const LEVEL = hills(() => 100);

describe("lines", () => {
  test("a cliff under the straight line, 25 m high: on it, its drop told", () => {
    const { hazards } = found({
      lines: [across("cliff", 600, "High Edge")],
      elevation: hills((east) => (east < 600 ? 200 : 175)),
    });
    const cliff = hazards.find(({ kind }) => kind === "cliff");
    expect(cliff).toMatchObject({ name: "High Edge", side: "on", offsetM: 0 });
    expect(cliff?.fromM).toBeCloseTo(600, 1);
    expect(cliff?.toM).toBeCloseTo(600, 1);
    expect(cliff?.value).toBeCloseTo(25, 6);
  });

  test("a cliff beside the leg is told only where the cone reaches it, from there on", () => {
    // Half the width of the cone: 10 + s·tan 6°; it reaches 60 m at s = 50 / tan 6° = 475.7 m.
    const { hazards } = found({
      lines: [
        drawn("cliff", [
          [0, -60],
          [1300, -60],
        ]),
      ],
    });
    expect(hazards).toHaveLength(1);
    expect(hazards[0]).toMatchObject({ kind: "cliff", side: "right", value: null });
    expect(hazards[0]?.fromM).toBeCloseTo(50 / Math.tan(Math.PI / 30), 0);
    expect(hazards[0]?.toM).toBeCloseTo(1100, 1);
    expect(hazards[0]?.offsetM).toBeCloseTo(60, 1);
  });

  test("the cone ends the chosen length beyond the target", () => {
    const lines = [across("rail", 1150)];
    expect(found({ lines }).hazards).toEqual([]);
    const { hazards } = found({ lines }, { hazardBeyondM: 200 });
    expect(hazards).toHaveLength(1);
    expect(hazards[0]?.fromM).toBeCloseTo(1150, 1);
    // Beyond the target the leg no longer crosses it.
    expect(hazards[0]?.value).toBeNull();
  });

  test("big streams only: rivers, and streams 3 m wide or more, with the width the map gives", () => {
    const { hazards } = found({
      lines: [
        across("stream", 200),
        withAttributes(across("stream", 400), { width: "2" }),
        withAttributes(across("stream", 600), { width: "4.5 m" }),
        across("river", 800, "Fern Water"),
      ],
    });
    expect(hazards.map(({ kind, value }) => [kind, value])).toEqual([
      ["stream", 4.5],
      ["river", null],
    ]);
  });

  test("major roads and railways, not lanes nor tunnels; crossed three times is told", () => {
    const { hazards } = found({
      lines: [
        withAttributes(across("road", 200), { class: "minor" }),
        withAttributes(across("rail", 300), { tunnel: "yes" }),
        withAttributes(
          drawn("road", [
            [500, -50],
            [505, 20],
            [510, -20],
            [515, 300],
          ]),
          { class: "primary" },
        ),
        across("rail", 700),
      ],
    });
    expect(hazards.map(({ kind, value }) => [kind, value])).toEqual([
      ["road", 3],
      ["rail", 1],
    ]);
  });

  test("a river met twice, far apart, is two dangers; within 50 m it is one", () => {
    const u = (back: number): LineFeature =>
      drawn(
        "river",
        [
          [300, -500],
          [300, 500],
          [300 + back, 500],
          [300 + back, -500],
        ],
        "Fern Water",
      );
    expect(found({ lines: [u(200)] }).hazards.map(({ fromM }) => Math.round(fromM))).toEqual([300, 500]);
    expect(found({ lines: [u(40)] }).hazards).toHaveLength(1);
  });
});

describe("areas", () => {
  const lake: [number, number][] = [
    [400, 20],
    [600, 20],
    [600, 300],
    [400, 300],
  ];

  test("a lake on the left: side, stretch and nearest distance", () => {
    const { hazards } = found({ areas: [drawnArea("water", [lake], "Long Tarn")] });
    expect(hazards).toHaveLength(1);
    expect(hazards[0]).toMatchObject({ kind: "water", name: "Long Tarn", side: "left", value: null });
    expect(hazards[0]?.fromM).toBeCloseTo(400, 1);
    expect(hazards[0]?.toM).toBeCloseTo(600, 1);
    expect(hazards[0]?.offsetM).toBeCloseTo(20, 1);
  });

  test("its shore, drawn as a line of its own, is not told a second time", () => {
    const shore = drawn("shore", [...lake, lake[0] as [number, number]], "Long Tarn");
    expect(found({ lines: [shore], areas: [drawnArea("water", [lake], "Long Tarn")] }).hazards).toHaveLength(
      1,
    );
    expect(found({ lines: [shore] }).hazards).toMatchObject([{ kind: "water", side: "left" }]);
  });

  test("a lake the leg crosses is on it; so is one that swallows the whole cone", () => {
    const wide: [number, number][] = [
      [-2000, -2000],
      [3000, -2000],
      [3000, 2000],
      [-2000, 2000],
    ];
    const [all] = found({ areas: [drawnArea("water", [wide])] }).hazards;
    expect(all).toMatchObject({ side: "on", fromM: 0, offsetM: 0 });
    expect(all?.toM).toBeCloseTo(1100, 3);
    expect(
      found({
        areas: [
          drawnArea("wetland", [
            [
              [300, -30],
              [350, -30],
              [350, 5],
              [300, 5],
            ],
          ]),
        ],
      }).hazards,
    ).toMatchObject([{ kind: "wetland", side: "on", offsetM: 0 }]);
  });

  test("an island the whole cone lies on is dry", () => {
    const ring = (half: number): [number, number][] => [
      [-half, -half],
      [half, -half],
      [half, half],
      [-half, half],
    ];
    expect(found({ areas: [drawnArea("water", [ring(4000), ring(2000).toReversed()])] }).hazards).toEqual([]);
  });

  test("a lake cut by tiles is one lake; two lakes are two", () => {
    const part = (from: number, to: number): AreaFeature =>
      drawnArea("water", [
        [
          [from, -5],
          [to, -5],
          [to, 40],
          [from, 40],
        ],
      ]);
    const one = found({ areas: [part(300, 400), part(500, 560), part(400, 500)] }).hazards;
    expect(one).toHaveLength(1);
    expect([one[0]?.fromM, one[0]?.toM].map((m) => Math.round(m ?? NaN))).toEqual([300, 560]);
    expect(found({ areas: [part(300, 400), part(450, 500)] }).hazards).toHaveLength(2);
  });
});

describe("steep ground", () => {
  const rise = (deg: number): number => Math.tan((deg * Math.PI) / 180);

  test("a plane of 33° beside the leg is of class 30 to 35, on that side, with its share of the cone", () => {
    // Level up to 40 m left of the leg, from there rising to the north at 33°.
    const { hazards, notes } = found({
      elevation: hills((_, north) => 100 + Math.max(0, north - 40) * rise(33), 5),
    });
    expect(notes).toEqual([]);
    expect(hazards).toHaveLength(1);
    const [plane] = hazards as [Hazard];
    expect(plane).toMatchObject({ kind: "steep", side: "left", steep: { fromDeg: 30, belowDeg: 35 } });
    expect(plane.value).toBeCloseTo(33, 4);
    // Steep from 40 m on; slope is taken over three samples of 5 m, so that the foot is off by one and a half at most.
    expect(Math.abs(plane.offsetM - 40)).toBeLessThan(7.5);
    // The cone reaches 40 m at 30 / tan 6° = 285 m, and the farthest the first steep sample can lie, 50 m, at 381 m.
    expect(plane.fromM).toBeGreaterThan(280);
    expect(plane.fromM).toBeLessThan(382);
    expect(plane.toM).toBeGreaterThan(1100 - 2.5);
    // By areas: ∫ (s·tan 6° − 30) ds from 285 to 1100 over ∫ 2(10 + s·tan 6°) ds.
    const t = Math.tan(Math.PI / 30);
    const own = (t * (1100 ** 2 - 285.4 ** 2)) / 2 - 30 * (1100 - 285.4);
    const all = 2 * (10 * (1100 - plane.fromM) + (t * (1100 ** 2 - plane.fromM ** 2)) / 2);
    expect(plane.steep?.share).toBeCloseTo(own / all, 1);
  });

  test.for([
    [29, null],
    [31, 30],
    [37, 35],
    [48, 40],
  ] as const)("the whole ground at %i° is of the right class, on the leg", ([deg, from]) => {
    const { hazards } = found({ elevation: hills((_, north) => 1000 - north * rise(deg), 10) });
    if (from === null) {
      expect(hazards).toEqual([]);
      return;
    }
    expect(hazards).toMatchObject([{ kind: "steep", side: "on", offsetM: 0, steep: { fromDeg: from } }]);
    expect(hazards[0]?.value).toBeCloseTo(deg, 4);
    expect(hazards[0]?.fromM).toBeLessThan(10);
    // The last sample stands for half a step of 10 m beyond it.
    expect(hazards[0]?.toM).toBeGreaterThan(1095);
    expect(hazards[0]?.toM).toBeLessThan(1100.01);
    expect(hazards[0]?.steep?.share).toBeGreaterThan(0.97);
  });

  test("chosen angles are used", () => {
    const elevation = hills((_, north) => 1000 - north * rise(27), 10);
    expect(found({ elevation }, { steepDeg: [25] }).hazards).toMatchObject([
      { steep: { fromDeg: 25, belowDeg: null } },
    ]);
  });

  test("a band across the leg: from where to where, within a sample", () => {
    // Falls 36° from 500 to 620 m east, level before and behind.
    const { hazards } = found({
      elevation: hills((east) => 500 - Math.min(120, Math.max(0, east - 500)) * rise(36), 5),
    });
    const band = hazards.find(({ steep }) => steep?.fromDeg === 35);
    expect(band).toMatchObject({ side: "on" });
    expect(Math.abs((band?.fromM ?? NaN) - 500)).toBeLessThan(10);
    expect(Math.abs((band?.toM ?? NaN) - 620)).toBeLessThan(10);
  });

  test("voids are told, not filled", () => {
    const { hazards, notes } = found({
      elevation: hills((east, north) => (east > 550 ? NaN : 1000 - north * rise(37)), 10),
    });
    expect(hazards[0]?.toM).toBeLessThan(570);
    // The cone's far part is wider: (1100 − 550)·mean width there over the whole, about 65 %.
    expect(notes.join()).toMatch(/Heights are missing on (6\d|7\d) % of the drift cone/);
  });
});

describe("terrain traps", () => {
  const rise = (deg: number): number => Math.tan((deg * Math.PI) / 180);
  // Ground falls to the south (right) at 36° down to 100 m right of the leg, level there.
  const slope = hills((_, north) => 100 + Math.max(0, north + 100) * rise(36), 5);

  test("a stream at the foot of steep ground", () => {
    const stream = drawn(
      "stream",
      [
        [-100, -90],
        [1200, -90],
      ],
      "Fern Beck",
    );
    const { hazards, notes } = found({ lines: [stream], elevation: slope });
    expect(hazards).toMatchObject([{ kind: "steep", trap: { kind: "stream", name: "Fern Beck" } }]);
    // Straight down to the south: from within the cone, 120 m wide to a side at most, to 90 m right.
    expect(hazards[0]?.trap?.belowM).toBeLessThan(150);
    expect(hazards[0]?.trap?.atT).toBeCloseTo(90, 0);
    expect(notes.join()).toContain("simple look down the fall line");
  });

  test("the same stream above the steep ground is none", () => {
    const stream = drawn("stream", [
      [-100, 140],
      [1200, 140],
    ]);
    expect(found({ lines: [stream], elevation: slope }).hazards).toMatchObject([
      { kind: "steep", trap: null },
    ]);
  });

  test("a cliff below, and a gully the ground alone forms", () => {
    const edge = drawn("cliff", [
      [0, -95],
      [1200, -95],
    ]);
    const { hazards } = found({ lines: [edge], elevation: slope });
    expect(hazards.find(({ kind }) => kind === "steep")?.trap).toMatchObject({ kind: "cliff" });
    const gully = hills((_, north) => 100 + Math.abs(north + 60) * rise(36), 5);
    const steep = found({ elevation: gully }).hazards.filter(({ kind }) => kind === "steep");
    expect(steep.length).toBeGreaterThan(0);
    for (const { trap } of steep) {
      expect(trap).toMatchObject({ kind: "draw" });
      expect(Math.abs((trap?.atT ?? NaN) - 60)).toBeLessThan(25);
    }
  });
});

describe("what cannot be known", () => {
  test("nothing anywhere: no dangers and nothing to say", () =>
    expect(found({ elevation: LEVEL })).toEqual({ hazards: [], notes: [] }));

  test("a map without layers and without terrain says so", () => {
    const { hazards, notes } = found({ roles: { road: { layer: "road" } } });
    expect(hazards).toEqual([]);
    expect(notes).toEqual([
      "This map does not show cliffs, open water, rivers, wetlands, railways or restricted areas: whether there are any here is not known from it.",
      "There is no terrain model here: steep ground, drops and terrain traps are not known.",
    ]);
  });

  test("a leg without length has none", () => {
    const frame = legFrame(place(0, 0), place(0, 0));
    expect(hazardsOf(frame, { lines: [], areas: [], elevation: null, roles: {} }, settings)).toEqual({
      hazards: [],
      notes: [],
    });
  });
});

interface Truth {
  readonly from: LonLat;
  readonly to: LonLat;
  readonly hazards: readonly {
    readonly kind: Kind;
    readonly name: string | null;
    readonly fromM: number;
    readonly toM: number;
    readonly offsetM: number;
    readonly side: "on" | "left" | "right";
  }[];
}

describe("300 legs over real lines and areas against GEOS", () => {
  const fixture = (name: string): unknown =>
    JSON.parse(readFileSync(new URL(`../../fixtures/legs/${name}`, import.meta.url), "utf8"));
  const truths = fixture("hazards-truth.json") as Truth[];
  const { features } = fixture("lines.geojson") as {
    features: { properties: { kind: Kind; name: string }; geometry: { coordinates: LonLat[] } }[];
  };
  const lines = features
    .filter(({ properties }) => properties.kind !== "shore")
    .map(({ properties, geometry }) => lineOf(properties.kind, geometry.coordinates, properties.name));
  const polygons = (
    fixture("areas.geojson") as {
      features: { properties: { kind: Kind }; geometry: { coordinates: [number, number][][] } }[];
    }
  ).features;
  const whole = polygons.map(({ properties, geometry }) => areaOf(properties.kind, geometry.coordinates));
  // As tiles give them: cut along a grid whose lines run through the middle of things.
  const GRID = 0.0107;
  const cut = polygons.flatMap(({ properties, geometry }) => {
    const [w, s, e, n] = turf.bbox(turf.polygon(geometry.coordinates)) as [number, number, number, number];
    const pieces: AreaFeature[] = [];
    for (let x = Math.floor(w / GRID); x * GRID < e; x++)
      for (let y = Math.floor(s / GRID); y * GRID < n; y++) {
        const box: [number, number, number, number] = [x * GRID, y * GRID, (x + 1) * GRID, (y + 1) * GRID];
        const piece = turf.bboxClip(turf.polygon(geometry.coordinates), box).geometry;
        const parts = piece.type === "Polygon" ? [piece.coordinates] : piece.coordinates;
        for (const rings of parts as [number, number][][][])
          if (rings.length > 0) pieces.push(areaOf(properties.kind, rings));
      }
    return pieces;
  });

  // The two restricted areas are cut off along parallels, in edges of some kilometres: an edge cut in two bows with the
  // parallel by some decimetres, which is more where it is met at a small angle.
  test.for([
    ["whole", whole, 1],
    ["cut by tiles", cut, 2],
  ] as const)("the same dangers, areas %s", ([, areas, withinM]) => {
    let told = 0;
    truths.forEach(({ from, to, hazards: wanted }, i) => {
      const frame = legFrame(from, to);
      const { hazards } = hazardsOf(
        frame,
        {
          lines: frameLines(frame, lines),
          areas: frameAreas(frame, areas),
          elevation: null,
          roles: ALL_ROLES,
        },
        settings,
      );
      const names = (list: readonly Truth["hazards"][number][]): string[] =>
        list.map(({ kind, name }) => `${kind} ${name}`).toSorted();
      expect(names(hazards), `leg ${i}`).toEqual(names(wanted));
      for (const w of wanted) {
        const same = hazards.filter(
          (h) =>
            h.kind === w.kind &&
            h.name === w.name &&
            Math.abs(h.fromM - w.fromM) < withinM &&
            Math.abs(h.toM - w.toM) < withinM &&
            Math.abs(h.offsetM - w.offsetM) < 1,
        );
        expect(same.length, `leg ${i}: ${JSON.stringify(w)}`).toBeGreaterThan(0);
        if (w.offsetM > 0.01) expect(same.map(({ side }) => side)).toContain(w.side);
        told++;
      }
    });
    expect(truths).toHaveLength(300);
    expect(told).toBeGreaterThan(2000);
  });

  test("the fixture holds areas on every side", () => {
    const sides = truths.flatMap(({ hazards }) =>
      hazards.filter(({ kind }) => kind === "water").map(({ side }) => side),
    );
    for (const side of ["on", "left", "right"])
      expect(sides.filter((s) => s === side).length).toBeGreaterThan(10);
    expect(new Set(truths.flatMap(({ hazards }) => hazards.map(({ kind }) => kind)))).toEqual(
      new Set(["road", "river", "water", "restricted"]),
    );
  });
});
