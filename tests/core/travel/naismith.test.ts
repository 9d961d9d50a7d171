import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { naismithTimeS } from "../../../core/travel/naismith.ts";

// Source: W. W. Naismith, Scottish Mountaineering Club Journal 2 (1892) 136 (example from memory): ten miles and
// 6300 feet of ascent, "six and a half hours".
test("Naismith's own ten miles with 6300 feet", () => {
  const hours = naismithTimeS(10 * 1609.344, 6300 * 0.3048, "1892") / 3600;
  expect(hours).toBeCloseTo(6.48333, 5);
  expect(Math.round(hours * 2) / 2).toBe(6.5);
});

// Worked by hand from the rule: 12/5 + 600/600 h; 12/4.828032 + 600/609.6 h; 5/5 h.
test.each([
  [12_000, 600, "metric", 3.4],
  [12_000, 600, "1892", 3.46974],
  [5000, 0, "metric", 1],
  [0, 0, "metric", 0],
] as const)("%d m with %d m of climb, %s: %d h", (distance, climb, form, hours) =>
  expect(naismithTimeS(distance, climb, form) / 3600).toBeCloseTo(hours, 5),
);

describe("refused", () => {
  test.each([
    [-1, 0],
    [0, -1],
    [Number.NaN, 0],
    [0, Number.NaN],
    [Infinity, 0],
  ])("%d m, %d m", (distance, climb) => expect(() => naismithTimeS(distance, climb)).toThrow(Fault));
});
