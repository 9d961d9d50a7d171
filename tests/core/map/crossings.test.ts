import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { crossingsOf } from "../../../core/map/crossings.ts";
import type { LineFeature } from "../../../core/map/features.ts";
import type { LonLat } from "../../../core/units/position.ts";

const fixture = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../fixtures/map-lines/${name}`, import.meta.url), "utf8"));

const line = (coords: readonly (readonly [number, number])[], id = 0): LineFeature => ({
  kind: "road",
  name: null,
  elevationM: Number.NaN,
  index: false,
  attributes: { id },
  coords: Float64Array.from(coords.flat()),
});

// Values: GEOS 3.11.1 by python3-shapely, made by tests/fixtures/map-lines/make.py.
const roads = (
  fixture("roads.geojson") as { features: { geometry: { coordinates: [number, number][] } }[] }
).features.map((f, i) => line(f.geometry.coordinates, i));
const { legs } = fixture("crossings.json") as {
  legs: { from: LonLat; to: LonLat; lengthM: number; crossings: [number, number][] }[];
};

describe("crossings of 120 legs with 424 roads", () => {
  it("are those GEOS finds, within half a metre", () => {
    let worst = 0;
    let count = 0;
    for (const leg of legs) {
      const got = crossingsOf(legFrame(leg.from, leg.to), roads);
      // The same pairs of road and place, whatever the order of two that fall together.
      const key = ([id, atM]: readonly [number, number]): string =>
        `${String(id).padStart(4)} ${atM.toFixed(3).padStart(10)}`;
      const theirs = [...leg.crossings].sort((a, b) => key(a).localeCompare(key(b)));
      const ours = got
        .map((c) => [Number(c.line.attributes["id"]), c.atM] as const)
        .sort((a, b) => key(a).localeCompare(key(b)));
      expect(ours.map(([id]) => id)).toEqual(theirs.map(([id]) => id));
      ours.forEach(([, atM], i) => (worst = Math.max(worst, Math.abs(atM - theirs[i]![1]))));
      count += ours.length;
    }
    expect(count).toBe(483);
    expect(worst).toBeLessThan(0.5);
    // What it really is: both are exact up to their projections and the millimetres the fixture is rounded to.
    expect(worst).toBeLessThan(0.01);
  });

  it("are the same walked the other way, counted from the other end", () => {
    for (const leg of legs.slice(0, 40)) {
      const there = crossingsOf(legFrame(leg.from, leg.to), roads);
      const frame = legFrame(leg.to, leg.from);
      const back = crossingsOf(frame, roads).toReversed();
      expect(back.length).toBe(there.length);
      back.forEach((c, i) => expect(frame.lengthM - c.atM).toBeCloseTo(there[i]!.atM, 4));
    }
  });

  it("come in order of distance", () => {
    for (const leg of legs) {
      const at = crossingsOf(legFrame(leg.from, leg.to), roads).map((c) => c.atM);
      expect(at).toEqual([...at].sort((a, b) => a - b));
    }
  });
});

// Cases worked by hand in the leg's own frame: s along it, t to the right of it.
const frame = legFrame([20.4, -34], [20.411, -33.996]);
const inFrame = (...st: readonly (readonly [s: number, t: number])[]): LineFeature =>
  line(st.map(([s, t]) => frame.toLonLat(s, t)));
const crossed = (feature: LineFeature): number[] =>
  crossingsOf(frame, [feature]).map((c) => Math.round(c.atM * 1e4) / 1e4);

describe("a line", () => {
  it("is crossed at its intersection, at its angle", () => {
    const [c] = crossingsOf(frame, [inFrame([100, -50], [200, 50])]);
    expect(c!.atM).toBeCloseTo(150, 5);
    expect(c!.crossingDeg).toBeCloseTo(45, 4);
    expect(crossingsOf(frame, [inFrame([100, -50], [100, 50])])[0]!.crossingDeg).toBeCloseTo(90, 4);
    expect(crossingsOf(frame, [inFrame([400, 50], [100, -50])])[0]!.crossingDeg).toBeCloseTo(18.4349, 3); // atan(100/300)
  });

  it("with a vertex exactly on the leg is crossed once", () =>
    expect(crossed(inFrame([100, -50], [120, 0], [160, 80]))).toEqual([120]));
  it("that touches the leg and turns back is not crossed", () =>
    expect(crossed(inFrame([100, -50], [120, 0], [160, -80]))).toEqual([]));
  it("that begins or ends on the leg is not crossed", () => {
    expect(crossed(inFrame([120, 0], [160, -80]))).toEqual([]);
    expect(crossed(inFrame([100, 50], [120, 0]))).toEqual([]);
  });
  it("that runs along the leg is crossed once if it leaves on the other side, where it first lies on the leg", () => {
    expect(crossed(inFrame([100, -50], [120, 0], [150, 0], [200, 0], [220, 30]))).toEqual([120]);
    expect(crossed(inFrame([100, -50], [120, 0], [150, 0], [220, -30]))).toEqual([]);
    expect(crossed(inFrame([10, 0], [500, 0]))).toEqual([]);
  });
  it("that winds over the leg is crossed each time", () =>
    expect(crossed(inFrame([0, -5], [10, 5], [20, -5], [30, 5]))).toEqual([5, 15, 25]));
  it("that crosses itself on the leg is crossed on each passage", () =>
    expect(crossed(inFrame([90, -10], [110, 10], [110, -10], [90, 10]))).toEqual([100, 100, 110]));
  it("beyond either end is not crossed", () => {
    expect(crossed(inFrame([-0.01, -5], [-0.01, 5]))).toEqual([]);
    expect(crossed(inFrame([frame.lengthM + 0.01, -5], [frame.lengthM + 0.01, 5]))).toEqual([]);
  });
  it("through either end of the leg is crossed there", () => {
    expect(crossed(inFrame([0, -5], [0, 5]))).toEqual([0]);
    expect(crossingsOf(frame, [inFrame([frame.lengthM, -5], [frame.lengthM, 5])])[0]!.atM).toBeCloseTo(
      frame.lengthM,
      6,
    );
  });
  it("that repeats a vertex is crossed once", () =>
    expect(crossed(inFrame([100, -50], [120, 0], [120, 0], [160, 80]))).toEqual([120]));
});

describe("a closed line", () => {
  const ring = [
    [100, -40],
    [200, -40],
    [200, 40],
    [100, 40],
  ] as const;
  it("is crossed alike wherever it begins", () => {
    for (let k = 0; k < 4; k++) {
      const turned = [...ring.slice(k), ...ring.slice(0, k)];
      expect(crossed(inFrame(...turned, turned[0]!))).toEqual([100, 200]);
    }
  });
  it("that begins on the leg is crossed there too", () => {
    const onLeg = [
      [100, 0],
      [100, -40],
      [200, -40],
      [200, 40],
      [100, 40],
      [100, 0],
    ] as const;
    expect(crossed(inFrame(...onLeg))).toEqual([100, 200]);
  });
  it("that begins on the leg and only touches it there is not", () =>
    expect(crossed(inFrame([100, 0], [120, 30], [80, 30], [100, 0]))).toEqual([]));
});

describe("long lines", () => {
  it("passed over in runs lose no crossing: a zigzag of 1000 vertices", () => {
    const zigzag = Array.from({ length: 1000 }, (_, i) => [i + 0.5, i % 2 ? 3 : -3] as const);
    const at = crossed(inFrame(...zigzag));
    expect(at.length).toBe(999);
    at.forEach((d, i) => expect(d).toBeCloseTo(i + 1, 3));
  });
  it("with vertices on the leg at every place of a run are crossed once each", () => {
    for (let k = 1; k < 40; k++) {
      const path = Array.from({ length: 41 }, (_, i) => [i * 10 + 5, (i - k) * 7] as const);
      expect(crossed(inFrame(...path))).toEqual([k * 10 + 5]);
    }
  });
  it("crossed by a slanting leg of 40 km at 60° north are found, though the leg bows", () => {
    const far = legFrame([10, 60], [10.6, 60.2]);
    for (let s = 100; s < far.lengthM; s += 1000) {
      const short = line([far.toLonLat(s, -2), far.toLonLat(s, 2)]);
      expect(crossingsOf(far, [short])[0]?.atM).toBeCloseTo(s, 3);
    }
  });
});

describe("a leg without length", () => {
  it("crosses nothing", () => expect(crossingsOf(legFrame([20.4, -34], [20.4, -34]), roads)).toEqual([]));
});
