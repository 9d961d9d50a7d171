import { describe, expect, test } from "vitest";
import { legAt } from "../../../renderer/map/leg-hit.ts";
import { flagToLeft } from "../../../renderer/map/flag-side.ts";
import type { WalkPoint } from "../../../core/walk/walk.ts";

describe("the leg under the pointer", () => {
  const points = [
    { x: 0, y: 0 },
    { x: 100, y: 0 },
    { x: 100, y: 100 },
  ];

  test("is the nearest within reach, with its share of the way", () => {
    expect(legAt(points, { x: 30, y: 5 })).toEqual({ leg: 0, along: 0.3, offsetPx: 5 });
    expect(legAt(points, { x: 104, y: 60 })).toEqual({ leg: 1, along: 0.6, offsetPx: 4 });
  });

  test("is none out of reach, and none at the ends, where the points are", () => {
    expect(legAt(points, { x: 50, y: 20 })).toBeNull();
    expect(legAt(points, { x: 98, y: 2 })).toBeNull();
    expect(legAt(points, { x: 3, y: 0 })).toBeNull();
  });

  test("a leg of no length is never hit", () => {
    expect(legAt([points[0]!, points[0]!], { x: 0, y: 0 })).toBeNull();
  });
});

describe("the side to which a flag flies", () => {
  const point = (lon: number, lat: number): WalkPoint => ({ lonLat: [lon, lat] }) as unknown as WalkPoint;
  const middle = point(10, 50);

  test.each([
    ["no leg above", [point(9, 49), middle, point(11, 49)], false],
    ["a leg up to the right", [point(9, 49), middle, point(11, 51)], true],
    ["a leg up to the left", [point(9, 51), middle, point(11, 49)], false],
    ["legs up on both sides", [point(9, 51), middle, point(11, 51)], false],
    ["a level leg to the right", [point(10, 49), middle, point(11, 50)], true],
  ])("%s", (_, points, left) => {
    expect(flagToLeft(points, 1)).toBe(left);
  });
});
