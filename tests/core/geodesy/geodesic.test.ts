import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { normalise180, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

// Source: GeodSolve of GeographicLib 2.1.2 (see the fixture's README).
const rows = readRows("geodesic.tsv");

test("the table is whole", () => expect(rows).toHaveLength(60));

describe("geodesics against GeodSolve", () => {
  test.each(rows.map((row) => ({ row, name: `${row["id"]} (${row["band"]})` })))("$name", ({ row }) => {
    const from: LonLat = [num(row, "lon1_deg"), num(row, "lat1_deg")];
    const to: LonLat = [num(row, "lon2_deg"), num(row, "lat2_deg")];
    const line = inverse(from, to);
    expect(Math.abs(line.distanceM - num(row, "s12_m"))).toBeLessThanOrEqual(0.001);
    expect(Math.abs(normalise180(line.bearing - num(row, "azi1_deg")))).toBeLessThanOrEqual(0.0001);
    expect(Math.abs(normalise180(line.arrivalBearing - num(row, "azi2_deg")))).toBeLessThanOrEqual(0.0001);

    const reached = direct(from, trueBearing(num(row, "azi1_deg")), num(row, "s12_m"));
    expect(inverse(reached, to).distanceM).toBeLessThanOrEqual(0.001);
    expect(Math.abs(reached[0])).toBeLessThanOrEqual(180);
  });
});

// Source: C. F. F. Karney's test set for geodesics, rows as carried in geographiclib/geographiclib-js
// (commit 2a6853d98f1d5822c3a2a97c896a7385120c3ba2, MIT).
test.each([
  [35.60777, -139.44815, 111.09874842956033, -11.17491, -69.95921, 129.28927088970877, 8935244.56048183],
  [-21.97856, 142.59065, -32.44456876433189, 41.84138, 98.56635, -41.84359951440466, 8394328.894657671],
  [-17.42761, 173.34268, -159.03355766119293, -15.84784, 5.93557, -20.78748465153699, 16076603.163118068],
  [-87.85331, 85.66836, -65.12031304024275, 66.48646, 16.09921, -4.888658719272296, 17286615.314714465],
])("Karney's row %d, %d", (lat1, lon1, azi1, lat2, lon2, azi2, s12) => {
  const line = inverse([lon1, lat1], [lon2, lat2]);
  expect(Math.abs(line.distanceM - s12)).toBeLessThan(0.001);
  expect(Math.abs(normalise180(line.bearing - azi1))).toBeLessThan(0.0001);
  expect(Math.abs(normalise180(line.arrivalBearing - azi2))).toBeLessThan(0.0001);
});

// Source: GDA technical manual (ICSM), Flinders Peak to Buninyong; values from memory, reproduced with GeodSolve.
// The manual's ellipsoid is GRS 80; on WGS 84 the line is the same to 0.01 mm and 0.00001 arc second.
test("Flinders Peak to Buninyong", () => {
  const dms = (d: number, m: number, s: number): number => d + m / 60 + s / 3600;
  const line = inverse(
    [dms(144, 25, 29.5244), -dms(37, 57, 3.7203)],
    [dms(143, 55, 35.3839), -dms(37, 39, 10.1561)],
  );
  expect(line.distanceM).toBeCloseTo(54972.271, 3);
  expect(line.bearing).toBeCloseTo(dms(306, 52, 5.37), 5);
  expect(normalise180(line.arrivalBearing - 180)).toBeCloseTo(dms(127, 10, 25.07), 5);
});

test("refused: latitude 91, longitude 181, NaN", () => {
  for (const bad of [
    [0, 91],
    [181, 0],
    [Number.NaN, 0],
  ] as const) {
    expect(() => inverse(bad, [0, 0])).toThrow(Fault);
    expect(() => inverse([0, 0], bad)).toThrow(Fault);
    expect(() => direct(bad, trueBearing(0), 1)).toThrow(Fault);
  }
  expect(() => direct([0, 0], trueBearing(Number.NaN), 1)).toThrow(Fault);
  expect(() => direct([0, 0], trueBearing(0), Infinity)).toThrow(Fault);
});
