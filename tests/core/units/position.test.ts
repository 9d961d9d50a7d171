import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { bboxesMeet, bboxOf, checkLonLat, growBbox, type LonLat } from "../../../core/units/position.ts";

describe("a position is checked", () => {
  test.each([
    [0, 0],
    [180, 90],
    [-180, -90],
  ] as LonLat[])("%d %d is one", (lon, lat) => expect(checkLonLat([lon, lat])).toEqual([lon, lat]));
  test.each([
    [[8, 91], "Latitude 91° does not exist"],
    [[8, -90.001], "Latitude"],
    [[180.001, 0], "Longitude"],
    [[Number.NaN, 0], "two numbers"],
    [[0, Infinity], "two numbers"],
  ] as [LonLat, string][])("%j is none", (at, reason) => {
    expect(() => checkLonLat(at, "point C")).toThrow(Fault);
    expect(() => checkLonLat(at, "point C")).toThrow(reason);
    expect(() => checkLonLat(at, "point C")).toThrow("point C");
  });
});

test("the box of positions", () => {
  expect(bboxOf([])).toBeNull();
  expect(bboxOf([[8, 47]])).toEqual([8, 47, 8, 47]);
  expect(
    bboxOf([
      [8, 47],
      [7, 48],
      [9, 46],
    ]),
  ).toEqual([7, 46, 9, 48]);
});

test("boxes meet when they share at least a point", () => {
  expect(bboxesMeet([0, 0, 1, 1], [1, 1, 2, 2])).toBe(true);
  expect(bboxesMeet([0, 0, 1, 1], [1.1, 0, 2, 2])).toBe(false);
  expect(bboxesMeet([0, 0, 9, 9], [4, 4, 5, 5])).toBe(true);
});

// Checked with geodesics, which geodesic.test.ts holds to GeodSolve.
test("a grown box reaches at least as far as asked, and hardly farther", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -170, max: 170, noNaN: true }),
      fc.double({ min: -80, max: 80, noNaN: true }),
      fc.double({ min: 100, max: 20_000, noNaN: true }),
      (lon, lat, metres) => {
        const [west, south, east, north] = growBbox([lon, lat, lon, lat], metres);
        for (const edge of [
          [west, lat],
          [east, lat],
          [lon, south],
          [lon, north],
        ] as LonLat[]) {
          const reach = inverse([lon, lat], edge).distanceM;
          expect(reach).toBeGreaterThanOrEqual(metres * 0.99);
          expect(reach).toBeLessThanOrEqual(metres * 1.03);
        }
      },
    ),
  );
});
