import { describe, expect, test } from "vitest";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { DEG, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

// The frame is checked with geodesics, which geodesic.test.ts checks with GeodSolve: the foot of the perpendicular
// at s is reached along the leg, the point t to its right along the geodesic square to the leg there.
const legs = readRows("geodesic.tsv").filter((row) => row["band"] !== "global");

const ends = (row: Record<string, string>): [LonLat, LonLat] => [
  [num(row, "lon1_deg"), num(row, "lat1_deg")],
  [num(row, "lon2_deg"), num(row, "lat2_deg")],
];

/** The point s along and t to the right, by geodesics alone. */
function walked(from: LonLat, to: LonLat, s: number, t: number): LonLat {
  const line = inverse(from, to);
  const foot = direct(from, line.bearing, s);
  // Away from the foot itself: the bearing there is that of arriving.
  const there = s > 1 ? inverse(from, foot).arrivalBearing : line.bearing;
  return direct(foot, trueBearing(there + 90), t);
}

/** Stated bounds: 0.03 mm for 5 km and 3 cm for 50 km; beside the leg the same again. */
const bound = (lengthM: number, t: number): number => (Math.max(lengthM, Math.abs(t)) <= 5000 ? 3e-5 : 0.03);

describe("along the leg and beside it", () => {
  // Within 3 km of a pole the frame's series, which divides by the cosine of the latitude, is out of its range.
  const usual = legs.filter((row) => Math.abs(num(row, "lat1_deg")) < 89.5);

  test("nearly every leg is usual", () => expect(usual.length).toBeGreaterThanOrEqual(36));

  test.each(
    usual.map((row) => ({
      row,
      name: `${row["id"]}: ${row["lat1_deg"]} ${row["lon1_deg"]}, ${row["s12_m"]} m`,
    })),
  )("$name", ({ row }) => {
    const [from, to] = ends(row);
    const frame = legFrame(from, to);
    expect(Math.abs(frame.lengthM - num(row, "s12_m"))).toBeLessThan(0.001);
    for (const share of [0, 0.25, 0.5, 0.75, 1])
      for (const t of [-500, 0, 60]) {
        const s = share * frame.lengthM;
        const [sM, tM] = frame.toFrame(walked(from, to, s, t));
        const off = Math.hypot(sM - s, tM - t);
        // Beside the leg the square geodesic bends against the frame's straight lines by a few micrometres more.
        expect(off, `s ${s}, t ${t}`).toBeLessThan(bound(frame.lengthM, t) + (t === 0 ? 0 : 5e-6));
      }
  });
});

test.each([0, 40, 70, 85, 88, -88])("the bounds hold in every direction at latitude %d°", (lat) => {
  const from: LonLat = [179.99, lat];
  for (const lengthM of [5000, 50_000])
    for (let bearing = 0; bearing < 360; bearing += 15) {
      const frame = legFrame(from, direct(from, trueBearing(bearing), lengthM));
      for (const share of [0.1, 0.25, 0.5, 0.75]) {
        const [s, t] = frame.toFrame(direct(from, trueBearing(bearing), share * lengthM));
        expect(Math.hypot(s - share * lengthM, t), `${lengthM} m on ${bearing}°`).toBeLessThan(
          bound(lengthM, 0),
        );
      }
    }
});

test("there and back: toLonLat undoes toFrame within a micrometre", () => {
  for (const row of legs.filter((r) => Math.abs(num(r, "lat1_deg")) < 89.5)) {
    const frame = legFrame(...ends(row));
    for (const s of [-500, 0, frame.lengthM / 3, frame.lengthM])
      for (const t of [-2000, 0, 700]) {
        const [sM, tM] = frame.toFrame(frame.toLonLat(s, t));
        expect(Math.hypot(sM - s, tM - t), `${row["id"]} at ${s}, ${t}`).toBeLessThan(1e-6);
      }
  }
});

test("the reversed leg mirrors the frame", () => {
  for (const row of legs.filter((r) => Math.abs(num(r, "lat1_deg")) < 89.5)) {
    const [from, to] = ends(row);
    const there = legFrame(from, to);
    const back = legFrame(to, from);
    const point = there.toLonLat(there.lengthM * 0.3, 250);
    const [s, t] = back.toFrame(point);
    expect(Math.abs(s - there.lengthM * 0.7), `${row["id"]}`).toBeLessThan(bound(there.lengthM, 250));
    expect(Math.abs(t + 250), `${row["id"]}`).toBeLessThan(bound(there.lengthM, 250));
  }
});

test("project gives what toFrame gives, from any start, across the antimeridian too", () => {
  const from: LonLat = [179.995, -16.8];
  const to: LonLat = [-179.99, -16.79];
  const frame = legFrame(from, to);
  expect(frame.lengthM).toBeCloseTo(inverse(from, to).distanceM, 6);
  const points: LonLat[] = [from, [180, -16.797], [-180, -16.797], [-179.995, -16.793], to];
  const flat = [7, 7, ...points.flat()];
  const out = new Float64Array(2 * points.length);
  frame.project(flat, 2, points.length, out);
  points.forEach((point, i) => expect([out[2 * i], out[2 * i + 1]]).toEqual([...frame.toFrame(point)]));
  expect(out[2]).toBeCloseTo(out[4] as number, 6);
  const [lon] = frame.toLonLat(frame.lengthM / 2, 0);
  expect(Math.abs(lon)).toBeLessThanOrEqual(180);
});

test("start and end the same: along north, no bearing", () => {
  const at: LonLat = [8.5, 47.4];
  const frame = legFrame(at, at);
  expect(frame.lengthM).toBe(0);
  expect(frame.bearing).toBeNull();
  const [s, t] = frame.toFrame(direct(at, trueBearing(0), 100));
  expect(Math.hypot(s - 100, t)).toBeLessThan(0.001);
  const [sEast, tEast] = frame.toFrame(direct(at, trueBearing(90), 100));
  expect(Math.hypot(sEast, tEast - 100)).toBeLessThan(0.001);
});

// Half of these have a length of 0 though their coordinates differ; from 1e-160° on the squares of the differences vanish.
test.each([5e-324, 1e-320, 1e-310, 1e-200, 1e-160, 1e-20, 1e-16, 1e-13, 1e-10])(
  "points %d° apart still make a frame of true lengths",
  (apart) => {
    for (const from of [
      [0, 0],
      [8.5, 47.4],
      [-180, -60],
    ] as LonLat[])
      for (const [east, north] of [
        [1, 0],
        [0, 1],
        [1, 1],
        [-1, 1],
      ] as const) {
        const lon = from[0] + east * apart;
        const to: LonLat = [lon < -180 ? lon + 360 : lon, from[1] + north * apart];
        const frame = legFrame(from, to);
        const [s, t] = frame.toFrame(frame.toLonLat(100, 50));
        expect(Math.hypot(s - 100, t - 50)).toBeLessThan(1e-6);
        // A place 100 m away by geodesics lies 100 m away in the frame, whichever way the frame points.
        for (const bearing of [0, 90, 225])
          expect(Math.hypot(...frame.toFrame(direct(from, trueBearing(bearing), 100)))).toBeCloseTo(100, 3);
      }
  },
);

test("t is to the right: a point clockwise of the bearing has positive t", () => {
  for (let bearing = 0; bearing < 360; bearing += 30) {
    const from: LonLat = [-120, 38];
    const frame = legFrame(from, direct(from, trueBearing(bearing), 1000));
    const [s, t] = frame.toFrame(direct(from, trueBearing(bearing + 30), 100));
    expect(s, String(bearing)).toBeCloseTo(100 * Math.cos(30 * DEG), 2);
    expect(t, String(bearing)).toBeCloseTo(100 * Math.sin(30 * DEG), 2);
  }
});
