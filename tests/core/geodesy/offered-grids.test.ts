import { expect, test } from "vitest";
import { toGrid } from "../../../core/geodesy/grid.ts";
import { inOfferedArea, isOfferedGrid, offeredGrid } from "../../../core/geodesy/offered-grids.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

// Source: gdaltransform with PROJ 9.1 (make-grids.sh beside the fixture).
test.each([
  ["nad27-13", "nad27", null],
  ["nad27-5-alaska", "nad27-alaska", 5],
  ["nad27-11-canada", "nad27-canada", null],
  ["british", "british", null],
] as const)("%s is the grid called %s", (fixture, name, zone) => {
  const rows = readRows("grids.tsv").filter((row) => row["grid"] === fixture);
  expect(rows.length).toBeGreaterThan(0);
  for (const row of rows) {
    const at: LonLat = [num(row, "lon_deg"), num(row, "lat_deg")];
    const { eastingM, northingM } = toGrid(offeredGrid(name, zone, at), at);
    expect(Math.abs(eastingM - num(row, "easting_m"))).toBeLessThan(0.001);
    expect(Math.abs(northingM - num(row, "northing_m"))).toBeLessThan(0.001);
    expect(inOfferedArea(name, at)).toBe(true);
  }
});

test("a place elsewhere is not in its area", () => {
  expect(inOfferedArea("nad27", [8.5, 47.4])).toBe(false);
  expect(inOfferedArea("british", [2.35, 48.86])).toBe(false);
});

test("what cannot be is refused with the reason", () => {
  expect(isOfferedGrid("nad83")).toBe(false);
  expect(() => offeredGrid("nad27", null, null)).toThrow("zone is missing");
  expect(() => offeredGrid("nad27", 0, null)).toThrow("zone 0 does not exist");
  expect(() => offeredGrid("nad27", null, [0, 89])).toThrow("at the poles");
  expect(() => offeredGrid("british", 30, null)).toThrow("no zones");
});
