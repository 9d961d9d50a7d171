import { expect, test } from "vitest";
import { scaleLength } from "../../../renderer/map/scale-length.ts";

test.each([
  [730, 500],
  [200, 200],
  [199.9, 100],
  [2600, 2000],
  [0.7, 0.5],
])("of %d m the bar shows %d m", (widest, shown) => {
  expect(scaleLength(widest, "metric")).toBeCloseTo(shown, 9);
});

// 1 mi = 1609.344 m and 1 ft = 0.3048 m: international yard and pound agreement, 1959.
test.each([
  [1700, 1609.344],
  [1600, 5000 * 0.3048],
  [100, 200 * 0.3048],
])("of %d m the bar shows %d m in feet or miles", (widest, shown) => {
  expect(scaleLength(widest, "imperial")).toBeCloseTo(shown, 9);
});
