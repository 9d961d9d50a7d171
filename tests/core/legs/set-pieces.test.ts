/** Small maps with one right answer any instructor knows (common practice, no source). Every leg runs 1000 m east. */
import { describe, expect, test } from "vitest";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { kindAndName } from "../../../core/legs/line-kinds.ts";
import type { LineFeature, MapFeatures } from "../../../core/map/features.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import { drawn, ground, hills, INFO, lineMap, place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const walked = (lines: readonly LineFeature[], elevation: ElevationModel | null = null): LegFigures =>
  legFigures(
    { n: 1, from: { label: "A", lonLat: place(0, 0) }, to: { label: "B", lonLat: place(1000, 0) } },
    ground(lines, elevation),
    settings,
  );

describe("what to follow", () => {
  test("a stream 30 m to the right all the way: follow it with the stream on the right", () => {
    const { handrails } = walked([
      drawn(
        "stream",
        [
          [-100, -30],
          [1100, -30],
        ],
        "Fern Beck",
      ),
    ]);
    expect(handrails).toHaveLength(1);
    expect(handrails[0]).toMatchObject({ kind: "stream", name: "Fern Beck", side: "right" });
    expect(handrails[0]?.coverage).toBeCloseTo(1, 3);
    expect(handrails[0]?.meanOffsetM).toBeCloseTo(30, 1);
  });

  test("a wall on the left for the first 400 m: followed so far and no further", () => {
    const { handrails } = walked([
      drawn("wall", [
        [-50, 20],
        [400, 20],
        [400, 300],
      ]),
    ]);
    expect(handrails[0]).toMatchObject({ kind: "wall", side: "left" });
    expect(handrails[0]?.fromM).toBeCloseTo(0, 1);
    expect(handrails[0]?.toM).toBeGreaterThan(385);
    expect(handrails[0]?.toM).toBeLessThan(401);
  });

  test("a stream straight across is no handrail but a crossing", () => {
    const { handrails, crossings } = walked([
      drawn("stream", [
        [500, -400],
        [500, 400],
      ]),
    ]);
    expect(handrails).toEqual([]);
    expect(crossings.map(({ kind }) => kind)).toEqual(["stream"]);
  });

  test("a road 200 m aside is too far off", () =>
    expect(
      walked([
        drawn("road", [
          [0, 200],
          [1000, 200],
        ]),
      ]).handrails,
    ).toEqual([]));

  test("a wiggling stream is followed although no single reach of it runs along the leg", () => {
    // Reaches of 10 m at 45° to either side: beyond the 35° allowed, one by one.
    const zigzag = Array.from({ length: 140 }, (_, i): [number, number] => [
      -20 + i * 7.07,
      25 + (i % 2) * 7.07,
    ]);
    const { handrails } = walked([drawn("stream", zigzag)]);
    expect(handrails).toHaveLength(1);
    expect(handrails[0]?.coverage).toBeGreaterThan(0.9);
  });

  test("a path that crosses from left to right is followed on each side in turn", () => {
    const { handrails } = walked([
      drawn("path", [
        [0, 50],
        [1000, -50],
      ]),
    ]);
    expect(handrails.map(({ side }) => side).toSorted()).toEqual(["left", "right"]);
    const left = handrails.find(({ side }) => side === "left");
    expect(left?.toM).toBeCloseTo(500, 0);
  });

  test("a path that weaves about the leg is one handrail, on the side where most of it lies", () => {
    const weave = Array.from({ length: 51 }, (_, i): [number, number] => [i * 20, -2 + 6 * Math.sin(i)]);
    const { handrails } = walked([drawn("path", weave)]);
    expect(handrails).toHaveLength(1);
    expect(handrails[0]).toMatchObject({ side: "right" });
    expect(handrails[0]?.minOffsetM).toBe(0);
    expect(handrails[0]?.coverage).toBeGreaterThan(0.95);
  });

  test("a short break in a fence does not end it; a field's width does", () => {
    const gap = (m: number): LegFigures =>
      walked([
        drawn("fence", [
          [0, 20],
          [400, 20],
        ]),
        drawn("fence", [
          [400 + m, 20],
          [1000, 20],
        ]),
      ]);
    expect(gap(20).handrails).toHaveLength(1);
    expect(gap(20).handrails[0]?.coverage).toBeCloseTo(0.98, 3);
    expect(gap(150).handrails).toHaveLength(2);
  });

  test("the two carriageways of a dual road are one handrail", () => {
    const { handrails } = walked([
      drawn(
        "road",
        [
          [0, 30],
          [1000, 30],
        ],
        "A1",
      ),
      drawn(
        "road",
        [
          [1000, 42],
          [0, 42],
        ],
        "A1",
      ),
    ]);
    expect(handrails).toHaveLength(1);
    expect(handrails[0]?.meanOffsetM).toBeCloseTo(36, 0);
    expect(handrails[0]?.coverage).toBeCloseTo(1, 3);
  });

  test("of a valley line and the stream in it the stream is followed", () => {
    const { handrails } = walked([
      drawn("valley", [
        [0, 22],
        [1000, 22],
      ]),
      drawn("stream", [
        [0, 20],
        [1000, 20],
      ]),
    ]);
    expect(handrails.map(({ kind }) => kind)).toEqual(["stream"]);
  });

  test("a path under foot comes before a stream, a stream before a ridge", () => {
    const { handrails } = walked([
      drawn("ridge", [
        [0, -20],
        [1000, -20],
      ]),
      drawn("stream", [
        [0, 20],
        [1000, 20],
      ]),
      drawn("path", [
        [0, 18],
        [1000, 18],
      ]),
    ]);
    expect(handrails.map(({ kind }) => kind)).toEqual(["path", "stream", "ridge"]);
  });

  test("a contour, a cliff and a boundary are not followed", () => {
    const { handrails } = walked([
      drawn("contour", [
        [0, 10],
        [1000, 10],
      ]),
      drawn("cliff", [
        [0, 10],
        [1000, 10],
      ]),
      drawn("boundary", [
        [0, 10],
        [1000, 10],
      ]),
    ]);
    expect(handrails).toEqual([]);
  });
});

describe("what stops", () => {
  test("a road across the way 200 m beyond: gone 200 m too far", () => {
    const { backstop, notes } = walked([
      drawn(
        "road",
        [
          [1200, -500],
          [1200, 500],
        ],
        "Moor Road",
      ),
    ]);
    expect(backstop).toMatchObject({ kind: "road", name: "Moor Road" });
    expect(backstop?.beyondM).toBeCloseTo(200, 1);
    expect(backstop?.stoppedShare).toBeCloseTo(1, 6);
    expect(backstop?.crossingDeg).toBeGreaterThan(85);
    expect(notes.join(" ")).not.toContain("Nothing");
  });

  test("nothing anywhere: no backstop, and it says how far it looked", () => {
    const { backstop, notes, handrails, crossings } = walked([]);
    expect([backstop, handrails, crossings]).toEqual([null, [], []]);
    expect(notes).toContain("Nothing within 500 m beyond the target stops a walker who goes too far.");
  });

  test("a road that ends before the way of those who drift left stops only part", () => {
    const { backstop, notes } = walked([
      drawn("road", [
        [1150, -500],
        [1150, 20],
      ]),
    ]);
    expect(backstop?.stoppedShare).toBeGreaterThan(0.5);
    expect(backstop?.stoppedShare).toBeLessThan(0.9);
    expect(notes.join(" ")).toMatch(/stops only \d\d % of walkers/);
  });

  test("a wall off to one side stops hardly anyone and is not called a backstop", () => {
    const { backstop, notes } = walked([
      drawn("wall", [
        [1150, 60],
        [1150, 500],
      ]),
    ]);
    expect(backstop).toBeNull();
    expect(notes.join(" ")).toMatch(/Nothing within 500 m .*the wall stops only \d+ %/);
  });

  test("the nearer of two roads, not the bigger", () => {
    const { backstop } = walked([
      drawn(
        "road",
        [
          [1400, -500],
          [1400, 500],
        ],
        "far",
      ),
      drawn(
        "path",
        [
          [1100, -500],
          [1100, 500],
        ],
        "near",
      ),
    ]);
    expect(backstop?.name).toBe("near");
  });

  test("a ridge line gives way to a road behind it", () => {
    const { backstop } = walked([
      drawn("ridge", [
        [1100, -500],
        [1100, 500],
      ]),
      drawn("road", [
        [1300, -500],
        [1300, 500],
      ]),
    ]);
    expect(backstop?.kind).toBe("road");
  });

  test("a line along the way stops nobody", () =>
    expect(
      walked([
        drawn("stream", [
          [800, 5],
          [1500, 40],
        ]),
      ]).backstop,
    ).toBeNull());

  test("a line crossed before the target is no backstop", () =>
    expect(
      walked([
        drawn("road", [
          [900, -500],
          [900, 500],
        ]),
      ]).backstop,
    ).toBeNull());

  test("a target on a wood edge: the edge is the stop, at the target, and one must know which way to turn", () => {
    const { backstop, crossings, notes } = walked([
      drawn(
        "woodEdge",
        [
          [990, -300],
          [1003, 0],
          [1010, 300],
        ],
        "High Wood",
      ),
    ]);
    expect(backstop).toMatchObject({ kind: "woodEdge", name: "High Wood", beyondM: 0 });
    expect(backstop?.stoppedShare).toBeCloseTo(1, 6);
    expect(crossings).toEqual([]); // the target lies 3 m before it
    expect(notes.join(" ")).toContain("know which way to turn");
  });

  test("a road drawn in two parts that meet is one backstop", () => {
    const { backstop } = walked([
      drawn("road", [
        [1100, -500],
        [1100, 0],
      ]),
      drawn("road", [
        [1100, 0],
        [1100, 500],
      ]),
    ]);
    expect(backstop?.stoppedShare).toBeCloseTo(1, 6);
    expect(backstop?.stretches).toHaveLength(2);
  });

  test("a cliff is never a backstop", () =>
    expect(
      walked([
        drawn("cliff", [
          [1100, -500],
          [1100, 500],
        ]),
      ]).backstop,
    ).toBeNull());

  test("ground that rises beyond flat ground stops where no line does", () => {
    const rising = hills((e) => (e < 1120 ? 100 : 100 + (e - 1120) * 0.4)); // 21.8°
    const { backstop } = walked([], rising);
    expect(backstop?.kind).toBe("rise");
    // The 50 m that climb at 15° on average begin a little before the foot: 0.268 / 0.4 of them on the slope.
    expect(backstop?.beyondM).toBeGreaterThan(95);
    expect(backstop?.beyondM).toBeLessThanOrEqual(120);
    expect(
      walked(
        [
          drawn("road", [
            [1300, -500],
            [1300, 500],
          ]),
        ],
        rising,
      ).backstop?.kind,
    ).toBe("road");
  });

  test("ground that drops like a cliff is not offered as a stop", () => {
    expect(
      walked(
        [],
        hills((e) => (e < 1120 ? 500 : 500 - (e - 1120) * 2)),
      ).backstop,
    ).toBeNull();
  });
});

describe("what is crossed", () => {
  test("a stream drawn twice is one crossing, a road's two halves are one, a bend's two crossings are two", () => {
    const { crossings } = walked([
      drawn(
        "stream",
        [
          [200, -50],
          [200, 50],
        ],
        "Fern Beck",
      ),
      drawn(
        "stream",
        [
          [201, -50],
          [202, 50],
        ],
        "Fern Beck",
      ),
      drawn(
        "road",
        [
          [400, -50],
          [400, 50],
        ],
        "A1",
      ),
      drawn(
        "road",
        [
          [412, 50],
          [412, -50],
        ],
        "A1",
      ),
      drawn("path", [
        [600, -50],
        [605, 20],
        [612, 20],
        [616, -50],
      ]),
    ]);
    expect(crossings.map(({ kind, atM }) => [kind, Math.round(atM)])).toEqual([
      ["stream", 201],
      ["road", 406],
      ["path", 604],
      ["path", 613],
    ]);
  });

  test("a wall beside a road is a crossing of its own", () => {
    const { crossings } = walked([
      drawn("road", [
        [400, -50],
        [400, 50],
      ]),
      drawn("wall", [
        [403, -50],
        [403, 50],
      ]),
    ]);
    expect(crossings.map(({ kind }) => kind)).toEqual(["road", "wall"]);
  });

  test("contours are not on the list", () =>
    expect(
      walked([
        drawn("contour", [
          [400, -50],
          [400, 50],
        ]),
      ]).crossings,
    ).toEqual([]));

  test("through a wood: in and out", () => {
    const ring: [number, number][] = [
      [300, -100],
      [700, -100],
      [700, 100],
      [300, 100],
      [300, -100],
    ];
    expect(
      walked([drawn("woodEdge", ring, "High Wood")]).crossings.map(({ atM }) => Math.round(atM)),
    ).toEqual([300, 700]);
  });
});

describe("what is said", () => {
  test("a stop at the target names the sure one behind it", () => {
    const { backstop, notes } = walked([
      drawn(
        "stream",
        [
          [1000, -300],
          [1000, 300],
        ],
        "Fern Beck",
      ),
      drawn(
        "road",
        [
          [1180, -500],
          [1180, 500],
        ],
        "Moor Road",
      ),
    ]);
    expect(backstop).toMatchObject({ kind: "stream", beyondM: 0 });
    expect(notes.join(" ")).toContain("Behind it the Moor Road stops who goes on, 180 m beyond the target.");
  });

  test("kind and name in words", () => {
    expect(kindAndName("stream", "Fern Beck")).toBe("stream Fern Beck");
    expect(kindAndName("road", "Moor Road")).toBe("Moor Road");
    expect(kindAndName("road", "Broadway")).toBe("road Broadway");
    expect(kindAndName("woodEdge", "High Wood")).toBe("edge of High Wood");
    expect(kindAndName("powerLine", null)).toBe("power line");
  });

  const on = (map: Partial<MapFeatures>): LegFigures =>
    legFigures(
      { n: 1, from: { label: "A", lonLat: place(0, 0) }, to: { label: "B", lonLat: place(1000, 0) } },
      { map: { ...lineMap([]), ...map }, elevation: null },
      settings,
    );

  test("a map that shows no lines is not said to have none", () => {
    const { notes } = on({ info: { ...INFO, roles: { contour: { layer: "contour" } } } });
    expect(notes.join(" ")).toContain("This map shows no lines");
    expect(notes.join(" ")).not.toContain("Nothing within");
  });

  test("beyond the map's edge nothing is claimed", () => {
    const edge = place(1200, 0)[0];
    const blind: MapFeatures["blind"] = (box) => (box[2] > edge ? [{ bbox: box, reason: "outside" }] : []);
    const { notes } = on({ blind });
    expect(notes.join(" ")).toContain("the map does not show all of the 500 m beyond the target");
    expect(notes.join(" ")).not.toContain("Nothing within");
    expect(notes.join(" ")).not.toContain("Part of the leg");
  });

  test("a leg that leaves the map says so", () => {
    const { notes, blind } = on({ info: { ...INFO, bounds: [20, -35, place(600, 0)[0], -33] } });
    expect(notes).toContain("From 600 m on the leg lies outside the map: what is there is not known.");
    expect(blind).toHaveLength(1);
    const holes = on({ blind: (bbox) => [{ bbox, reason: "missing" }] });
    expect(holes.notes).toContain("The map has no data for the whole leg: what is there is not known.");
  });
});
