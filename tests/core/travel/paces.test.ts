import { expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { pacesFor } from "../../../core/travel/paces.ts";

// Source: US Army Soldier's Manual of Common Tasks, task 071-329-1006: 116 steps to 100 m on a road, 148 across
// country; half of each as double paces.
test.each([
  [100, 58, 58],
  [600, 74, 444],
  [250, 116, 290],
  [250, 148, 370],
  // A 30-inch step (TC 3-25.26, para 5-20): 100 / 0.762 = 131.23 steps to 100 m, so a kilometre takes 1312.
  [1000, 100 / 0.762, 1312],
  // Common practice, no source: 65 double paces.
  [1250, 65, 813],
  [0, 65, 0],
])("%d m at %d to 100 m: %d", (distance, per100m, paces) => expect(pacesFor(distance, per100m)).toBe(paces));

test.each([0, -65, Number.NaN, Infinity, 1000])("a count of %d per 100 m is refused", (per100m) =>
  expect(() => pacesFor(100, per100m)).toThrow(Fault),
);
test.each([-1, Number.NaN, Infinity])("a distance of %d is refused", (distance) =>
  expect(() => pacesFor(distance, 65)).toThrow(Fault),
);
