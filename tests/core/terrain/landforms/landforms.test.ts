import { describe, expect, it } from "vitest";
import { legFrame } from "../../../../core/geodesy/leg-frame.ts";
import { MEANING } from "../../../../core/terrain/landforms/landform.ts";
import { landformsAlong, type LegLandform } from "../../../../core/terrain/landforms/landforms-along.ts";
import { landformsIn, landformsReason } from "../../../../core/terrain/landforms/landforms-in.ts";
import { nameLandformAt } from "../../../../core/terrain/landforms/name-landform.ts";
import type { Ground } from "../../../../core/terrain/ground.ts";
import type { Bbox } from "../../../../core/units/position.ts";
import { madeGround, metresOf, placeAt } from "../support/made-ground.ts";

/** Grid steps are 20 m here: twice the spacing. */
const STEP_M = 20;
const box = (halfM: number): Bbox =>
  [...placeAt(-halfM, -halfM), ...placeAt(halfM, halfM)] as unknown as Bbox;
const along = (ground: Ground, from: [number, number], to: [number, number]): LegLandform[] =>
  landformsAlong(ground, legFrame(placeAt(...from), placeAt(...to)));
const bell = (x: number, sigma: number): number => Math.exp((-x * x) / (2 * sigma * sigma));

describe("a cone", () => {
  // 300 m high at (50, −30), falling 1 in 4, on a plain.
  const ground = madeGround((x, y) => Math.max(0, 300 - Math.hypot(x - 50, y + 30) / 4));

  it("is one hill with its top where it was put and its whole height for prominence", () => {
    const forms = landformsIn(ground, box(500));
    const hills = forms.filter((f) => f.kind === "hill");
    expect(hills).toHaveLength(1);
    const [x, y] = metresOf(hills[0]!.lonLat);
    expect(Math.hypot(x - 50, y + 30)).toBeLessThan(STEP_M);
    expect(hills[0]!.elevationM).toBeGreaterThan(300 - STEP_M / 4);
    expect(forms.some((f) => f.kind === "depression" || f.kind === "saddle" || f.kind === "cliff")).toBe(
      false,
    );
    // Its top is the ground no more than 15 m below: 60 m to every side.
    const [west, south] = metresOf([hills[0]!.extent[0], hills[0]!.extent[1]]);
    expect(Math.abs(west - (50 - 60))).toBeLessThan(STEP_M);
    expect(Math.abs(south - (-30 - 60))).toBeLessThan(STEP_M);
  });

  it("has for prominence what is known of it", () => {
    const [hill] = landformsIn(ground, box(500));
    expect(hill!.atLeast).toBe(true);
    // The area looked at reaches 500 m and less than 1200 m: a fall of 100 to 300 m.
    expect(hill!.reliefM).toBeGreaterThan(100);
    expect(hill!.reliefM).toBeLessThanOrEqual(300);
  });

  it("is gone over by a leg through its top", () => {
    const over = along(ground, [-700, -30], [800, -30]);
    expect(over.map((f) => f.kind)).toEqual(["hill"]);
    expect(over[0]).toMatchObject({ way: "across", words: "Go over the top of a hill." });
    expect(Math.abs(over[0]!.atM - 750)).toBeLessThan(STEP_M);
    expect(Math.abs(over[0]!.fromM - 690)).toBeLessThan(STEP_M);
    expect(Math.abs(over[0]!.toM - 810)).toBeLessThan(STEP_M);
  });

  it("names itself at the top and is a plain slope on its side", () => {
    expect(nameLandformAt(ground, placeAt(50, -30))).toMatchObject({ kind: "hill" });
    expect(nameLandformAt(ground, placeAt(50, -30)).why).toContain(MEANING.hill);
    const side = nameLandformAt(ground, placeAt(550, -30));
    expect(side.kind).toBeNull();
    expect(side.why).toContain("to the east at 14°");
  });
});

describe("two hills and the saddle between them", () => {
  // Bells 120 m and 90 m high, 800 m apart; between them the ground is lowest where their sum is.
  const height = (x: number, y: number): number =>
    120 * bell(Math.hypot(x + 400, y), 180) + 90 * bell(Math.hypot(x - 400, y), 180);
  const ground = madeGround(height);
  let low = 0;
  for (let x = -400; x < 400; x += 1) if (height(x, 0) < height(low, 0)) low = x;

  it("are two hills with their prominences and one saddle", () => {
    const forms = landformsIn(ground, box(1500));
    const hills = forms.filter((f) => f.kind === "hill");
    expect(hills).toHaveLength(2);
    const [high, lower] = hills;
    expect(Math.abs(metresOf(high!.lonLat)[0] + 400)).toBeLessThan(STEP_M);
    expect(Math.abs(metresOf(lower!.lonLat)[0] - 400)).toBeLessThan(STEP_M);
    expect(lower!.reliefM).toBeCloseTo(height(400, 0) - height(low, 0), 0);
    expect(lower!.atLeast).toBe(false);
    const saddles = forms.filter((f) => f.kind === "saddle");
    expect(saddles).toHaveLength(1);
    const [x, y] = metresOf(saddles[0]!.lonLat);
    expect(Math.hypot(x - low, y)).toBeLessThan(2 * STEP_M);
    expect(saddles[0]!.elevationM).toBeCloseTo(height(low, 0), 0);
  });

  it("are met in order of walking", () => {
    const met = along(ground, [-700, 0], [700, 0]);
    expect(met.filter((f) => f.way === "across").map((f) => f.kind)).toEqual(["hill", "saddle", "hill"]);
    // The other way over the saddle one comes up and goes down the trough between the hills.
    const between = along(ground, [low, -600], [low, 600]);
    expect(between.filter((f) => f.way === "across").map((f) => f.kind)).toEqual(["saddle"]);
    expect(
      between.filter((f) => f.way === "along").every((f) => f.kind === "valley" || f.kind === "draw"),
    ).toBe(true);
  });
});

describe("the saddle x² − y²", () => {
  const ground = madeGround((x, y) => 500 + (x * x - y * y) / 2000);

  it("is one saddle in its middle, nothing else that is closed", () => {
    const forms = landformsIn(ground, box(600));
    const saddles = forms.filter((f) => f.kind === "saddle");
    expect(saddles).toHaveLength(1);
    expect(Math.hypot(...metresOf(saddles[0]!.lonLat))).toBeLessThan(STEP_M);
    expect(saddles[0]!.elevationM).toBeCloseTo(500, 0);
    expect(forms.some((f) => f.kind === "hill" || f.kind === "depression")).toBe(false);
    expect(nameLandformAt(ground, placeAt(5, -10))).toMatchObject({ kind: "saddle" });
  });
});

describe("a plane with a spur and a draw", () => {
  // Falls 1 in 5 to the south; a bulge 25 m high along x = −400, a trough 25 m deep along x = 400, σ = 100 m.
  const ground = madeGround((x, y) => 800 + y / 5 + 25 * bell(x + 400, 100) - 25 * bell(x - 400, 100));

  it("gives the leg along the slope just these, from flank to flank", () => {
    const met = along(ground, [-900, 0], [900, 0]);
    expect(met.map((f) => f.kind)).toEqual(["spur", "draw"]);
    const [spur, draw] = met;
    expect(Math.abs(spur!.atM - 500)).toBeLessThan(5);
    expect(Math.abs(draw!.atM - 1300)).toBeLessThan(5);
    // A bell turns one σ from its middle; the window the surface is fitted in spreads it a little.
    for (const [form, at] of [
      [spur!, 500],
      [draw!, 1300],
    ] as const) {
      expect(Math.abs(form.fromM - (at - 100))).toBeLessThan(STEP_M);
      expect(Math.abs(form.toM - (at + 100))).toBeLessThan(STEP_M);
      // 100 m to the side the bell has lost 1 − e^−½.
      expect(form.reliefM).toBeCloseTo(25 * (1 - Math.exp(-0.5)), 0);
    }
    expect(met.map((f) => f.words)).toEqual(["Cross a spur.", "Drop into a draw and climb out."]);
  });

  it("are met the other way round by the leg walked back, and aslant", () => {
    expect(along(ground, [900, 0], [-900, 0]).map((f) => f.kind)).toEqual(["draw", "spur"]);
    expect(along(ground, [-900, -500], [900, 500]).map((f) => f.kind)).toEqual(["spur", "draw"]);
  });

  it("are followed by a leg up or down their line", () => {
    const [up] = along(ground, [-400, -500], [-400, 500]);
    expect(up).toMatchObject({ kind: "spur", way: "along", words: "Go up a spur." });
    expect(up!.toM - up!.fromM).toBeGreaterThan(900);
    const [down] = along(ground, [400, 500], [400, -500]);
    expect(down).toMatchObject({ kind: "draw", way: "along", words: "Go down a draw." });
    expect(along(ground, [0, -500], [0, 500])).toEqual([]);
  });

  it("are lines in a box, and nothing else is there", () => {
    const forms = landformsIn(ground, box(700));
    expect(forms.map((f) => f.kind)).toEqual(["spur", "draw"]);
    for (const [form, x] of [
      [forms[0]!, -400],
      [forms[1]!, 400],
    ] as const) {
      const line = form.line!;
      for (let i = 0; i < line.length; i += 2)
        expect(Math.abs(metresOf([line[i]!, line[i + 1]!])[0] - x)).toBeLessThan(STEP_M);
      expect(
        Math.abs(metresOf([line[0]!, line[1]!])[1] - metresOf([line.at(-2)!, line.at(-1)!])[1]),
      ).toBeGreaterThan(1000);
    }
  });

  it("say what they are where one points, and the plane between is a plain slope", () => {
    expect(nameLandformAt(ground, placeAt(-395, 40))).toMatchObject({ kind: "spur" });
    expect(nameLandformAt(ground, placeAt(405, 40))).toMatchObject({ kind: "draw" });
    expect(nameLandformAt(ground, placeAt(-395, 40)).why).toContain("falls at 11°");
    expect(nameLandformAt(ground, placeAt(0, 0)).why).toContain("to the south at 11°");
  });

  it("on level ground are a ridge and a valley", () => {
    const level = madeGround((x, y) => 800 + y / 100 + 25 * bell(x + 400, 100) - 25 * bell(x - 400, 100));
    expect(along(level, [-900, 0], [900, 0]).map((f) => f.kind)).toEqual(["ridge", "valley"]);
    expect(nameLandformAt(level, placeAt(-395, 40))).toMatchObject({ kind: "ridge" });
  });
});

describe("a pit", () => {
  // 30 m deep in a plane falling 1 in 50 to the east: it runs over where the bell's side and the fall are in balance.
  const height = (x: number, y: number): number => 200 - x / 50 - 30 * bell(Math.hypot(x, y), 80);
  const ground = madeGround(height);
  let [floor, rim] = [0, 0];
  for (let x = -100; x <= 400; x++) if (height(x, 0) < height(floor, 0)) floor = x;
  for (let x = floor; x <= 400; x++) if (height(x, 0) > height(rim, 0) || rim === 0) rim = x;

  it("is one depression with its floor and depth as made", () => {
    const forms = landformsIn(ground, box(600)).filter((f) => f.kind !== "valley" && f.kind !== "draw");
    expect(forms.map((f) => f.kind)).toEqual(["depression"]);
    const [x, y] = metresOf(forms[0]!.lonLat);
    expect(Math.hypot(x - floor, y)).toBeLessThan(STEP_M);
    expect(Math.abs(forms[0]!.reliefM - (height(rim, 0) - height(floor, 0)))).toBeLessThan(1);
    expect(forms[0]!.atLeast).toBe(false);
    expect(Math.abs(metresOf([forms[0]!.extent[2], 47])[0] - rim)).toBeLessThan(2 * STEP_M);
  });

  it("is gone through", () => {
    expect(along(ground, [0, -500], [0, 500]).map((f) => f.kind)).toEqual(["depression"]);
    expect(nameLandformAt(ground, placeAt(0, 0))).toMatchObject({ kind: "depression" });
  });
});

describe("a cliff", () => {
  // 60 m down within 30 m, along x = 0.
  const ground = madeGround((x) => 100 - Math.max(0, Math.min(60, 2 * (x + 15))));

  it("is a strip where it was put, with its drop", () => {
    const [cliff] = landformsIn(ground, box(400)).filter((f) => f.kind === "cliff");
    expect(Math.abs(metresOf(cliff!.lonLat)[0])).toBeLessThan(2 * STEP_M);
    expect(cliff!.reliefM).toBeCloseTo(60, 3);
    const met = along(ground, [-400, 0], [400, 0]).filter((f) => f.kind === "cliff");
    expect(met).toHaveLength(1);
    expect(Math.abs((met[0]!.fromM + met[0]!.toM) / 2 - 400)).toBeLessThan(STEP_M);
  });
});

describe("ground with nothing on it", () => {
  it("has no landforms: a plane, a level, a void", () => {
    for (const ground of [
      madeGround((x, y) => x / 7 + y / 9),
      madeGround(() => 12),
      madeGround(() => Number.NaN),
    ]) {
      expect(landformsIn(ground, box(800))).toEqual([]);
      expect(along(ground, [-500, 0], [500, 100])).toEqual([]);
    }
    expect(
      nameLandformAt(
        madeGround(() => 12),
        placeAt(0, 0),
      ).why,
    ).toContain("Nearly level");
    expect(
      nameLandformAt(
        madeGround(() => Number.NaN),
        placeAt(0, 0),
      ).why,
    ).toContain("not known");
  });

  it("has none beyond its edge, and does not take an edge for a summit or a pit", () => {
    const ground = madeGround((x, y) => 100 + (x * x + y * y) / 5000, { reachM: 500 });
    const forms = landformsIn(ground, box(2000));
    expect(forms.filter((f) => f.kind === "hill")).toEqual([]);
    expect(forms.filter((f) => f.kind === "depression")).toHaveLength(1);
  });

  it("of no length has none", () => {
    expect(
      along(
        madeGround((x) => x),
        [0, 0],
        [0, 0],
      ),
    ).toEqual([]);
  });

  it("is told to be without terrain tiles", () => {
    const { map } = madeGround(() => 0);
    expect(landformsReason({ map, elevation: null })).toContain("contours alone");
    expect(landformsReason(madeGround(() => 0))).toBeNull();
    expect(along({ map, elevation: null }, [0, 0], [100, 0])).toEqual([]);
  });
});

describe("a long leg", () => {
  // A ridge or trough every 500 m: crests where the sine is 1.
  const ground = madeGround((x) => 500 + 20 * Math.sin((2 * Math.PI * x) / 1000));

  it("meets each crest and trough once, however it is cut into parts", () => {
    const met = along(ground, [-10_000, 0], [10_000, 0]);
    expect(met).toHaveLength(40);
    met.forEach(({ kind, atM }, i) => {
      expect(kind).toBe(i % 2 === 0 ? "ridge" : "valley");
      // The frame's metres stray from the formula's by a tenth of a percent this far from the middle.
      expect(Math.abs(atM - (250 + 500 * i))).toBeLessThan(STEP_M);
    });
  });

  it("goes along a ridge in one stretch", () => {
    const met = along(ground, [250, -4000], [250, 4000]);
    expect(met).toHaveLength(1);
    expect(met[0]).toMatchObject({ kind: "ridge", way: "along", words: "Go along a ridge." });
    expect(met[0]!.toM - met[0]!.fromM).toBeGreaterThan(7900);
  });

  it("over the 180° meridian or at a pole has none, and does not fail", () => {
    expect(landformsAlong(ground, legFrame([179.99, 10], [-179.99, 10]))).toEqual([]);
    expect(landformsAlong(ground, legFrame([0, 89.9], [10, 89.9])).length).toBeGreaterThanOrEqual(0);
  });
});

describe("a named peak", () => {
  it("gives its name to the hill it stands on", () => {
    const peak = {
      kind: "peak" as const,
      name: "Cold Knoll",
      elevationM: 300,
      lonLat: placeAt(30, 0),
      attributes: {},
    };
    const ground = madeGround((x, y) => 300 - Math.hypot(x, y) / 4, { peaks: [peak] });
    expect(landformsIn(ground, box(300))[0]!.name).toBe("Cold Knoll");
    expect(along(ground, [-400, 0], [400, 0])[0]!.words).toBe("Go over the top of Cold Knoll.");
    expect(nameLandformAt(ground, placeAt(0, 0)).name).toBe("Cold Knoll");
  });
});
