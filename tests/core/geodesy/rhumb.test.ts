import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { rhumbDirect, rhumbInverse, rhumbOffsetM } from "../../../core/geodesy/rhumb.ts";
import { normalise180, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

// Source: RhumbSolve and GeodSolve of GeographicLib 2.1.2 (see the fixture's README).
const rows = readRows("rhumb.tsv");

test("the table is whole", () => expect(rows).toHaveLength(20));

describe("rhumb lines against RhumbSolve", () => {
  test.each(rows.map((row) => ({ row, name: `${row["id"]} (${row["kind"]})` })))("$name", ({ row }) => {
    const from: LonLat = [num(row, "lon1_deg"), num(row, "lat1_deg")];
    const to: LonLat = [num(row, "lon2_deg"), num(row, "lat2_deg")];
    const line = rhumbInverse(from, to);
    expect(Math.abs(line.distanceM - num(row, "s12_m"))).toBeLessThanOrEqual(0.001);
    expect(Math.abs(normalise180(line.bearing - num(row, "azi12_deg")))).toBeLessThanOrEqual(0.0001);
    const reached = rhumbDirect(from, trueBearing(num(row, "azi12_deg")), num(row, "s12_m"));
    expect(inverse(reached, to).distanceM).toBeLessThanOrEqual(0.001);
    expect(Math.abs(inverse(from, to).distanceM - num(row, "geodesic_s12_m"))).toBeLessThanOrEqual(0.001);
    expect(
      Math.abs(normalise180(inverse(from, to).bearing - num(row, "geodesic_azi1_deg"))),
    ).toBeLessThanOrEqual(0.0001);
  });
});

// Source: RhumbSolve's manual page, JFK to Singapore: 103:34:58.2, 18523563 m.
test("JFK to Singapore", () => {
  const dms = (d: number, m: number, s: number): number => d + m / 60 + s / 3600;
  const line = rhumbInverse([-dms(73, 46, 44), dms(40, 38, 23)], [dms(103, 59, 22), dms(1, 21, 33)]);
  expect(line.bearing).toBeCloseTo(dms(103, 34, 58.2), 4);
  expect(Math.abs(line.distanceM - 18523563)).toBeLessThan(0.5);
});

// Source: GeographicLib tests/CMakeLists.txt (commit d7c33bb46f9be183244ad1bddb8842022185b2c8): a quarter meridian.
test("to the pole along a meridian", () => {
  const line = rhumbInverse([0, 0], [0, 90]);
  expect(line.bearing).toBe(0);
  expect(line.distanceM).toBeCloseTo(10001965.729, 3);
});

describe("limits", () => {
  test("no way at all", () => expect(rhumbInverse([8, 47], [8, 47]).distanceM).toBe(0));
  test("across the antimeridian the short way", () => {
    expect(rhumbInverse([179.99, 10], [-179.99, 10]).distanceM).toBeLessThan(2200);
    expect(rhumbDirect([179.99, 10], trueBearing(90), 5000)[0]).toBeLessThan(-179.9);
  });
  test("past the pole is refused", () =>
    expect(() => rhumbDirect([0, 89], trueBearing(10), 500_000)).toThrow(Fault));
  test("no numbers, no line", () => {
    expect(() => rhumbInverse([0, 91], [0, 0])).toThrow(Fault);
    expect(() => rhumbDirect([0, 0], trueBearing(Number.NaN), 1)).toThrow(Fault);
  });
});

// Worked by hand: a parallel bends against its geodesic by L² tan φ / (8 R), R = 6389 km in the prime vertical at 50°:
// 5000² × 1.19175 / (8 × 6 390 700) = 0.5828 m; walking east the parallel lies to the right (south) of the leg.
test("walking east along the 50th parallel strays half a metre in 5 km", () => {
  const from: LonLat = [8, 50];
  const to = rhumbDirect(from, trueBearing(90), 5000);
  expect(rhumbOffsetM(from, to)).toBeCloseTo(0.583, 3);
  expect(rhumbOffsetM(to, from)).toBeCloseTo(-0.583, 3);
  expect(Math.abs(rhumbOffsetM([8, 50], [8, 50.05]))).toBeLessThan(1e-6);
});
