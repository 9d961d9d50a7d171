/**
 * What to beware of, what is not known, how likely the target is found, and how to get out: small maps with one right
 * answer. No source for the practice where none is named: common practice. Figures are plane geometry, worked in the
 * comments.
 */
import { describe, expect, test } from "vitest";
import { HAZARD_CAUTION } from "../../../../core/legs/aids/hazards.ts";
import { ROLES } from "../../../../core/map/kinds.ts";
import { advised, DEG, legOn, line } from "./set-piece.ts";

const across = (e: number, from = -1500, to = 1500): [number, number][] => [
  [e, from],
  [e, to],
];
const along = (n: number, from = -4000, to = 5000): [number, number][] => [
  [from, n],
  [to, n],
];

describe("dangers", () => {
  test("a cliff under the straight line, 30 m high: on it, its drop told, and what to mind beside it", () => {
    const { hazards } = legOn({
      lines: [line("cliff", across(600, -200, 200), "High Edge")],
      height: (e) => (e < 600 ? 130 : 100),
    });
    const cliff = hazards.find(({ kind }) => kind === "cliff");
    expect(cliff).toMatchObject({ name: "High Edge", side: "on", offsetM: 0 });
    expect(cliff?.fromM).toBeCloseTo(600, 0);
    expect(cliff?.value).toBeCloseTo(30, 0);
    expect(HAZARD_CAUTION).toMatch(/turn back in doubt/);
  });

  test("a cliff beside a leg is a danger only where one may drift to it", () => {
    // The cone's half width is 10 + s·tan 6°: at 900 m 104.6 m.
    const beside = (n: number) =>
      legOn({
        lines: [
          line("cliff", [
            [700, n],
            [900, n],
          ]),
        ],
      }).hazards.filter(({ kind }) => kind === "cliff");
    expect(beside(-90)).toMatchObject([{ side: "right" }]);
    expect(beside(-130)).toEqual([]);
  });

  test("a slab of 33° beside the leg: steep ground of 30° to 35°, on its side", () => {
    // Level south to 30 m north of the leg, then rising at 33° for 60 m.
    const { hazards } = legOn({
      height: (_, n) => 100 + Math.tan(33 * DEG) * Math.min(60, Math.max(0, n - 30)),
    });
    const steep = hazards.filter(({ kind }) => kind === "steep");
    expect(steep.length).toBeGreaterThan(0);
    for (const one of steep) expect(one.side).toBe("left");
    expect(steep.some(({ steep: s }) => s?.fromDeg === 30 && s.belowDeg === 35)).toBe(true);
    expect(steep.every(({ steep: s }) => s?.fromDeg === 30)).toBe(true);
    // Slopes over three samples of 10 m: at the slab's edges gentler, in its middle what it is.
    expect(Math.max(...steep.map(({ value }) => value ?? NaN))).toBeCloseTo(33, 0);
  });

  test("a cliff above a stream is a terrain trap", () => {
    const { hazards, hazardNotes } = legOn({
      lines: [line("cliff", along(-40, 300, 800)), line("stream", along(-100, 0, 1200), "Black Gill")],
      // Level at 200 m, a drop of 40 m at 40 m south, then falling to the stream at 20°.
      height: (_, n) => (n > -40 ? 200 : n > -100 ? 160 + Math.tan(20 * DEG) * (n + 40) : 138),
    });
    const cliff = hazards.find(({ kind }) => kind === "cliff");
    expect(cliff).toMatchObject({ side: "right", trap: { kind: "stream", name: "Black Gill" } });
    expect(Math.abs((cliff?.trap?.belowM ?? NaN) - 60)).toBeLessThan(15);
    expect(hazardNotes.join(" ")).toContain("Terrain traps are a simple look");
  });

  test("a wide river across the way is told with its width", () => {
    const { hazards, crossings } = legOn({
      lines: [line("river", across(450), "Fern Water", { width: "18" })],
    });
    expect(hazards).toMatchObject([{ kind: "river", name: "Fern Water", side: "on", value: 18 }]);
    expect(hazards[0]?.fromM).toBeCloseTo(450, 0);
    expect(crossings).toMatchObject([{ kind: "river", name: "Fern Water" }]);
  });
});

describe("what the map does not show", () => {
  test("no water layer: it says so instead of none", () => {
    const { hazards, hazardNotes } = legOn({ shows: ROLES.filter((role) => role !== "water") });
    expect(hazards).toEqual([]);
    expect(hazardNotes.join(" ")).toContain(
      "This map does not show open water: whether there are any here is not known from it.",
    );
    expect(legOn({}).hazardNotes.join(" ")).not.toContain("does not show");
  });

  test("no terrain: it says so instead of no steep ground, no climb and nothing in sight", () => {
    const leg = legOn({ height: null, lines: [line("cliff", across(600, -200, 200))] });
    expect([leg.climbM, leg.slopeDistanceM, leg.sight.targetVisible]).toEqual([null, null, null]);
    expect(leg.hazards.find(({ kind }) => kind === "cliff")).toMatchObject({ value: null, trap: null });
    expect(leg.hazardNotes.join(" ")).toContain(
      "There is no terrain model here: steep ground, drops and terrain traps are not known.",
    );
    expect(leg.notes.join(" ")).toContain("There are no heights here");
    expect(leg.sight.reason).not.toBeNull();
  });

  test("no woods on the map: hops are as long everywhere, and it is said", () =>
    expect(legOn({ shows: ROLES.filter((role) => role !== "wood") }).steering.notes.join(" ")).toContain(
      "does not show which ground is wooded",
    ));
});

describe("nothing anywhere", () => {
  test("nothing to follow, nothing that stops, flagged odds, no way out, each with its sentence", async () => {
    const { leg, advice } = await advised({});
    expect([leg.handrails, leg.crossings, leg.hazards, leg.attackPoints]).toEqual([[], [], [], []]);
    expect(leg.backstop).toBeNull();
    expect(leg.notes).toContain("Nothing within 500 m beyond the target stops a walker who goes too far.");
    expect(leg.targetIsHard?.hard).toBe(true);
    expect(advice.flagged).toBe(true);
    expect(advice.odds?.stopped).toBe(0);
    expect([advice.route, advice.escape, advice.better]).toEqual([null, null, []]);
    expect(advice.routeReason).toMatch(/shows no line to follow/);
    expect(advice.notes.join(" ")).toContain("there is no escape bearing");
  });
});

describe("the way out", () => {
  test("a road on one side only: straight to it", async () => {
    const { advice } = await advised({ lines: [line("road", along(-700), "Low Road")] });
    expect(advice.escape).toMatchObject({ bearingTrueDeg: 180, kind: "road", name: "Low Road" });
    expect(advice.escape?.worstM).toBeCloseTo(700, 0);
  });

  test("the nearer road lies beyond a lake: the farther one it is", async () => {
    const { advice } = await advised({
      lines: [line("road", along(500), "High Road"), line("road", along(-900), "Low Road")],
      areas: [
        {
          role: "water",
          ring: [
            [-2500, 150],
            [3500, 150],
            [3500, 400],
            [-2500, 400],
          ],
        },
      ],
    });
    expect(advice.escape).toMatchObject({ bearingTrueDeg: 180, name: "Low Road" });
  });
});

describe("a longer way", () => {
  test("along a track that leads there round a bend it is safer: offered, with better odds", async () => {
    const track = line(
      "path",
      [
        [0, 0],
        [150, 200],
        [850, 200],
        [1000, 0],
      ],
      "Moor Track",
    );
    const { advice } = await advised({ lines: [track] });
    expect(advice.route).not.toBeNull();
    // 250 + 700 + 250 m.
    expect(advice.route?.distanceM).toBeCloseTo(1200, 0);
    expect(advice.route?.unaidedM).toBeCloseTo(0, 0);
    expect(advice.route?.why).toContain("Moor Track");
    expect(advice.route?.odds?.find).toBeGreaterThan((advice.odds?.find ?? 1) + 0.2);
  });

  test("along a track far round it is not worth it: not offered, and why", async () => {
    const { advice } = await advised({
      lines: [
        line("path", [
          [0, 0],
          [0, 580],
          [1000, 580],
          [1000, 0],
        ]),
      ],
    });
    expect(advice.route).toBeNull();
    expect(advice.routeReason).toMatch(/not worth it|can be reached/);
  });

  test("a leg beside a path all the way needs none", async () => {
    const { advice } = await advised({
      lines: [line("path", along(-20, -100, 1100))],
    });
    expect(advice.route).toBeNull();
    expect(advice.routeReason).toContain("safe enough");
    expect(advice.flagged).toBe(false);
  });
});
