import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { britishGrid, fromGrid, type Grid, gridOf, nad27Utm, toGrid } from "../../../core/geodesy/grid.ts";
import { toUtm } from "../../../core/geodesy/utm.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

const grids: Record<string, Grid> = {
  british: britishGrid(),
  "nad27-13": nad27Utm(13),
  "nad27-5-alaska": nad27Utm(5, "alaska"),
  "nad27-11-canada": nad27Utm(11, "canada"),
  "california-3-feet": gridOf(
    "California zone 3",
    "+proj=lcc +lat_1=38.43333333333333 +lat_2=37.06666666666667 +lat_0=36.5 +lon_0=-120.5 +x_0=2000000.0001016 +y_0=500000.0001016 +ellps=GRS80 +towgs84=0,0,0 +units=us-ft",
  ),
  swiss: gridOf(
    "Swiss grid",
    "+proj=somerc +lat_0=46.95240555555556 +lon_0=7.439583333333333 +k_0=1 +x_0=2600000 +y_0=1200000 +ellps=bessel +towgs84=674.374,15.056,405.346 +units=m",
  ),
};

// Source: PROJ 9.1 through gdaltransform (see the fixture's README).
describe("grids by definition against PROJ", () => {
  test.each(
    readRows("grids.tsv").map((row) => ({ row, name: `${row["grid"]} ${row["lon_deg"]} ${row["lat_deg"]}` })),
  )("$name", ({ row }) => {
    const grid = grids[row["grid"] as string] as Grid;
    const lonLat: LonLat = [num(row, "lon_deg"), num(row, "lat_deg")];
    const at = toGrid(grid, lonLat);
    expect(Math.abs(at.eastingM - num(row, "easting_m") * grid.projection.unitM)).toBeLessThanOrEqual(0.001);
    expect(Math.abs(at.northingM - num(row, "northing_m") * grid.projection.unitM)).toBeLessThanOrEqual(
      0.001,
    );
    // There and back through a datum drops the 50 m or so between the ellipsoids, which costs a millimetre.
    expect(inverse(fromGrid(grid, [at.eastingM, at.northingM]), lonLat).distanceM).toBeLessThanOrEqual(0.002);
  });
});

// Source: Snyder, USGS Professional Paper 1395: convergence of a conic is n (λ − λ0), with n = sin φ of the cone; for
// this one n = 0.6122320383 (computed from eq. 15-8 on GRS 80), so 0.5° west of the middle gives −0.3061°.
test("convergence of another kind of grid", () => {
  expect(toGrid(grids["california-3-feet"] as Grid, [-121, 37]).convergenceDeg).toBeCloseTo(-0.3061, 4);
});

test("a UTM grid by definition is the UTM grid", () => {
  const grid = gridOf("UTM 32", "+proj=utm +zone=32 +datum=WGS84");
  const at = toGrid(grid, [8.5417, 47.3769]);
  const utm = toUtm([8.5417, 47.3769]);
  expect(at.eastingM).toBe(utm.eastingM);
  expect(at.convergenceDeg).toBe(utm.convergenceDeg);
  expect(grid.accuracyM).toBeNull();
});

// Source: EPSG dataset: mean shift 1173 good to 10 m. In Colorado the same UTM figures on NAD27 and on WGS 84 name
// places some 200 m apart (PROJ's rows above), which is why a map's datum must not be passed over.
test("the old datum is shifted, and its accuracy is said", () => {
  const grid = nad27Utm(13);
  const old = toGrid(grid, [-104.9903, 39.7392]);
  const now = toUtm([-104.9903, 39.7392]);
  expect(Math.hypot(old.eastingM - now.eastingM, old.northingM - now.northingM)).toBeGreaterThan(150);
  expect(grid.accuracyM).toBe(10);
  expect(britishGrid().accuracyM).toBe(3.5);
});

describe("refused, with the reason", () => {
  test.each([
    ["", "cannot be read"],
    ["hello", "cannot be read"],
    ["+proj=foo", "cannot be read"],
    ["EPSG:2056", "cannot be read"],
    ["+proj=longlat +datum=WGS84", "latitude and longitude"],
    // A datum by name whose shift grids are missing: the library alone would pass WGS 84 figures off as NAD27.
    ["+proj=utm +zone=13 +datum=NAD27", "how its datum lies"],
    ["+proj=utm +zone=13 +ellps=clrk66", "how its datum lies"],
    ["+proj=utm +zone=13 +ellps=clrk66 +nadgrids=missing.gsb", "how its datum lies"],
  ])("%j", (definition, reason) => {
    expect(() => gridOf("mine", definition)).toThrow(Fault);
    expect(() => gridOf("mine", definition)).toThrow(reason);
  });
  test("a zone or a place that is none", () => {
    expect(() => nad27Utm(61)).toThrow("zone 61 does not exist");
    expect(() => toGrid(britishGrid(), [0, 91])).toThrow(Fault);
    expect(() => fromGrid(britishGrid(), [Number.NaN, 0])).toThrow(Fault);
  });
});
