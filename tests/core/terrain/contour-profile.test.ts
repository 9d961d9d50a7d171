import { describe, expect, it } from "vitest";
import { type LegFrame, legFrame } from "../../../core/geodesy/leg-frame.ts";
import type { Blind, LineFeature, MapFeatures, PointFeature } from "../../../core/map/features.ts";
import type { MapInfo } from "../../../core/map/metadata.ts";
import { contourProfile, directions } from "../../../core/terrain/contour-profile.ts";
import { monotoneCurve } from "../../../core/terrain/monotone-curve.ts";
import type { Profile } from "../../../core/terrain/profile.ts";
import { bboxesMeet, bboxOf, type LonLat } from "../../../core/units/position.ts";

const frame = legFrame([20.4, -34], [20.408, -33.997]);
const L = frame.lengthM;

const info = {
  id: "t",
  title: "t",
  bounds: [20, -35, 21, -33],
  minZoom: 14,
  maxZoom: 14,
  roles: {},
  rolesFrom: "metadata",
  interval: { value: 10, unit: "m" },
  source: null,
  date: null,
  attribution: null,
  datum: null,
  invented: true,
  elevationCellM: null,
} as const satisfies MapInfo;

/** A map of nothing but what it is given. */
function mapOf(
  lines: readonly LineFeature[],
  {
    points = [],
    blind = [],
    interval = info.interval,
  }: { points?: readonly PointFeature[]; blind?: readonly Blind[]; interval?: MapInfo["interval"] } = {},
): MapFeatures {
  const positions = (l: LineFeature): LonLat[] =>
    Array.from({ length: l.coords.length / 2 }, (_, i) => [l.coords[2 * i]!, l.coords[2 * i + 1]!] as const);
  return {
    info: { ...info, interval },
    prepare: () => Promise.resolve(),
    isPrepared: () => true,
    lines: (box) => lines.filter((l) => bboxesMeet(bboxOf(positions(l))!, box)),
    points: () => points,
    areas: () => [],
    blind: () => blind,
  };
}

const contour = (levelM: number, ...st: readonly (readonly [s: number, t: number])[]): LineFeature => ({
  kind: "contour",
  name: null,
  elevationM: levelM,
  index: false,
  attributes: {},
  coords: Float64Array.from(st.flatMap(([s, t]) => frame.toLonLat(s, t))),
});
const across = (levelM: number, s: number): LineFeature => contour(levelM, [s, -2000], [s, 2000]);
const ring = (levelM: number, s: number, radius: number, t = 0): LineFeature =>
  contour(
    levelM,
    ...Array.from(
      { length: 65 },
      (_, i) =>
        [s + radius * Math.cos((i * Math.PI) / 32), t + radius * Math.sin((i * Math.PI) / 32)] as const,
    ),
  );
const spot = (levelM: number, s: number, t: number): PointFeature => ({
  kind: "spotHeight",
  name: null,
  elevationM: levelM,
  lonLat: frame.toLonLat(s, t),
  attributes: {},
});

const heightAt = (p: Profile, d: number): number =>
  p.elevationM[p.distanceM.findIndex((x) => Math.abs(x - d) <= 5.01)]!;
const profile = (map: MapFeatures, f: LegFrame = frame): Profile => contourProfile(map, f);

describe("heights from contours alone", () => {
  it("of an even slope are even", () => {
    const p = profile(mapOf([0, 1, 2, 3, 4, 5, 6, 7].map((i) => across(100 + 10 * i, 50 + 100 * i))));
    expect(p).toMatchObject({ from: "contours", errorM: 5, blind: [] });
    for (const d of [160, 333, 512, 640]) {
      const i = p.distanceM.findIndex((x) => x >= d);
      expect(p.elevationM[i]).toBeCloseTo(100 + (p.distanceM[i]! - 50) / 10, 6);
    }
  });

  it("on a contour are its height", () => {
    const p = profile(mapOf([across(100, 200), across(110, 300), across(120, 420)]));
    for (const [d, h] of [
      [200, 100],
      [300, 110],
      [420, 120],
    ] as const) {
      const i = p.distanceM.findIndex((x) => Math.abs(x - d) < 1e-3);
      expect(p.elevationM[i]).toBe(h);
    }
  });

  it("between two crossings of one level bulge up on a ridge, by less than an interval", () => {
    const p = profile(mapOf([across(100, 100), across(110, 200), across(110, 400), across(100, 500)]));
    const top = heightAt(p, 300);
    expect(top).toBeGreaterThan(110);
    expect(top).toBeLessThan(120);
    expect(Math.max(...p.elevationM)).toBeLessThan(120);
  });

  it("and down in a valley", () => {
    const p = profile(mapOf([across(120, 100), across(110, 200), across(110, 400), across(120, 500)]));
    expect(heightAt(p, 300)).toBeLessThan(110);
    expect(heightAt(p, 300)).toBeGreaterThan(100);
  });

  it("over two humps of one level go up, down and up by parity", () => {
    const p = profile(
      mapOf([across(100, 50), ...[100, 200, 300, 400].map((s) => across(110, s)), across(100, 450)]),
    );
    expect(heightAt(p, 150)).toBeGreaterThan(110);
    expect(heightAt(p, 250)).toBeLessThan(110);
    expect(heightAt(p, 350)).toBeGreaterThan(110);
  });

  it("of a cone are the cone's to a fifth of the interval, its top to half", () => {
    // Height 200 − distance / 5 from a place 60 m beside the leg's middle.
    const [s, t] = [L / 2, 60];
    const p = profile(
      mapOf([190, 180, 170, 160, 150, 140, 130, 120, 110].map((h) => ring(h, s, 5 * (200 - h), t))),
    );
    p.distanceM.forEach((d, i) => {
      const truth = 200 - Math.hypot(d - s, t) / 5;
      if (truth < 112) return; // below the last contour
      expect(Math.abs(p.elevationM[i]! - truth)).toBeLessThan(Math.abs(d - s) < 60 ? 5 : 2);
    });
  });

  it("of a top keep to its spot height", () => {
    const contours = [across(100, 100), across(110, 200), across(110, 400), across(100, 500)];
    const p = profile(mapOf(contours, { points: [spot(112.5, 300, 0.3)] }));
    expect(heightAt(p, 300)).toBeCloseTo(112.5, 1);
    const beside = profile(mapOf(contours, { points: [spot(118, 300, 20)] }));
    expect(heightAt(beside, 300)).toBeGreaterThan(115);
    expect(heightAt(beside, 300)).toBeLessThan(118);
  });

  it("of a leg that crosses nothing lie between the contours on both sides", () => {
    const p = profile(
      mapOf([contour(100, [-500, -100], [1500, -100]), contour(110, [-500, 300], [1500, 300])]),
    );
    expect(p.from).toBe("contours");
    for (const h of p.elevationM) expect(h).toBeCloseTo(102.5, 1);
  });

  it("inside a ring follow the side its neighbour tells", () => {
    // One ring of 110 about the leg and one of 100 about that: a hill. With 120 about it: a hollow.
    const [short] = [legFrame(frame.toLonLat(300, 0), frame.toLonLat(400, 0))];
    const hill = profile(mapOf([ring(110, 350, 200), ring(100, 350, 300)]), short);
    expect(Math.min(...hill.elevationM)).toBeGreaterThan(110);
    expect(Math.max(...hill.elevationM)).toBeLessThan(120);
    const hollow = profile(mapOf([ring(110, 350, 200), ring(120, 350, 300)]), short);
    expect(Math.max(...hollow.elevationM)).toBeLessThan(110);
    expect(Math.min(...hollow.elevationM)).toBeGreaterThan(100);
  });

  it("without an interval in the map's words use the smallest step between levels", () => {
    expect(
      profile(mapOf([across(100, 100), across(140, 300), across(120, 500)], { interval: null })).errorM,
    ).toBe(10);
  });

  it("in feet are metres", () =>
    expect(
      profile(mapOf([across(100, 100), across(112.192, 300)], { interval: { value: 40, unit: "ft" } }))
        .errorM,
    ).toBeCloseTo(6.096, 6));
});

describe("no height is made up", () => {
  it("where there are no contours", () => {
    const p = profile(mapOf([]));
    expect(p).toMatchObject({ from: null, errorM: null, blind: [{ fromM: 0, toM: L }] });
    expect(p.elevationM.every(Number.isNaN)).toBe(true);
  });
  it("where one contour alone leaves the side open", () => {
    const p = profile(mapOf([contour(100, [-500, -100], [1500, -100])]));
    expect(p.from).toBeNull();
    expect(p.elevationM.every(Number.isNaN)).toBe(true);
  });
  it("beside the one crossing of a single contour, though its own height is known", () => {
    const p = profile(mapOf([across(100, 200)]));
    expect(p.elevationM.filter((h) => !Number.isNaN(h))).toEqual(Float64Array.of(100));
  });
  it("from contours without an elevation", () => {
    const p = profile(mapOf([across(Number.NaN, 200), across(Number.NaN, 300)]));
    expect(p.from).toBeNull();
  });
  it("where the map is blind, and what lies before and after is not joined across", () => {
    const [[west], [east]] = [frame.toFrame([20.402, -34]), frame.toFrame([20.404, -34])];
    expect(west).toBeLessThan(east);
    const lines = [
      across(100, 50),
      across(110, 100),
      across(120, 150),
      across(180, 550),
      across(190, 600),
      across(200, 700),
    ];
    const p = profile(mapOf(lines, { blind: [{ bbox: [20.402, -35, 20.404, -33], reason: "missing" }] }));
    expect(p.blind.length).toBe(1);
    // The leg's longitudes from 20.400 to 20.408 make it blind over its second quarter.
    expect(p.blind[0]!.fromM).toBeCloseTo(L / 4, -1.3);
    expect(p.blind[0]!.toM).toBeCloseTo(L / 2, -1.3);
    expect(heightAt(p, (3 * L) / 8)).toBeNaN();
    expect(heightAt(p, L / 4 - 20)).toBeLessThan(130);
    expect(heightAt(p, L / 2 + 20)).toBeGreaterThan(170);
  });
});

describe("the way a leg goes through contours", () => {
  it("follows the levels, and turns between two of one level", () => {
    expect(directions([100, 110, 120])).toEqual([1, 1, 1]);
    expect(directions([100, 110, 110, 100])).toEqual([1, 1, -1, -1]);
    expect(directions([110, 110, 110, 120])).toEqual([1, -1, 1, 1]);
    expect(directions([110, 110])).toEqual([0, 0]);
    expect(directions([110])).toEqual([0]);
  });
});

describe("a leg without length", () => {
  it("has one height", () => {
    const point = legFrame(frame.from, frame.from);
    const p = profile(
      mapOf([contour(100, [-500, -100], [1500, -100]), contour(110, [-500, 300], [1500, 300])]),
      point,
    );
    expect(p.distanceM).toEqual(Float64Array.of(0));
    expect(p.elevationM[0]).toBeCloseTo(102.5, 1);
  });
});

describe("the curve through heights", () => {
  it("meets them, stays between them, and is straight on a straight", () => {
    const knots = [
      [0, 5],
      [10, 6],
      [11, 30],
      [40, 30],
      [60, 12],
    ].map(([atM, heightM]) => ({ atM: atM!, heightM: heightM! }));
    const at = Array.from({ length: 601 }, (_, i) => i / 10);
    const heights = monotoneCurve(knots, at);
    at.forEach((d, i) => {
      const k = Math.max(
        1,
        knots.findIndex((q) => q.atM >= d),
      );
      const [a, b] = [knots[k - 1]!.heightM, knots[k]!.heightM];
      expect(heights[i]).toBeGreaterThanOrEqual(Math.min(a, b) - 1e-9);
      expect(heights[i]).toBeLessThanOrEqual(Math.max(a, b) + 1e-9);
    });
    for (const { atM, heightM } of knots) expect(heights[Math.round(atM * 10)]).toBeCloseTo(heightM, 9);
    monotoneCurve(
      [0, 1, 2, 3].map((i) => ({ atM: i * 7, heightM: 4 - i })),
      [0, 3.5, 10, 21],
    ).forEach((h, i) => expect(h).toBeCloseTo([4, 3.5, 4 - 10 / 7, 1][i]!, 9));
  });
});
