import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { formatMgrs, type MgrsPrecision, spaceMgrs } from "../../../core/geodesy/mgrs.ts";
import { fromUtm, toUtm } from "../../../core/geodesy/utm.ts";
import { normalise180 } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

// Source: GeoConvert of GeographicLib 2.1.2 (see the fixture's README): 60 UTM rows and 4 UPS rows.
const rows = readRows("utm.tsv");

test("the table is whole", () => expect(rows).toHaveLength(64));

describe("UTM, UPS and MGRS against GeoConvert", () => {
  test.each(rows.map((row) => ({ row, name: `${row["id"]}: ${row["note"]}` })))("$name", ({ row }) => {
    const lonLat: LonLat = [num(row, "lon_deg"), num(row, "lat_deg")];
    const utm = toUtm(lonLat);
    expect(utm.zone).toBe(num(row, "zone"));
    expect(utm.hemisphere).toBe(row["hemisphere"]);
    // The table is rounded to the millimetre.
    expect(Math.abs(utm.eastingM - num(row, "easting_m"))).toBeLessThanOrEqual(0.001);
    expect(Math.abs(utm.northingM - num(row, "northing_m"))).toBeLessThanOrEqual(0.001);
    expect(Math.abs(normalise180(utm.convergenceDeg - num(row, "convergence_deg")))).toBeLessThanOrEqual(
      1e-6,
    );
    expect(Math.abs(utm.scale - num(row, "point_scale"))).toBeLessThanOrEqual(1e-9);
    expect(formatMgrs(lonLat)).toBe(row["mgrs_1m"]);
    expect(inverse(lonLat, fromUtm(utm)).distanceM).toBeLessThanOrEqual(0.001);
  });
});

// Source: GDA technical manual (ICSM), MGA zone 55; from memory, reproduced with GeoConvert 2.1.2 on WGS 84.
test.each([
  [
    "Flinders Peak",
    [144 + 25 / 60 + 29.5244 / 3600, -(37 + 57 / 60 + 3.7203 / 3600)],
    273741.2966,
    5796489.7768,
  ],
  [
    "Buninyong, carried on from the zone beside",
    [143 + 55 / 60 + 35.3839 / 3600, -(37 + 39 / 60 + 10.1561 / 3600)],
    228854.0513,
    5828259.0383,
  ],
] as const)("%s in zone 55", (_, lonLat, e, n) => {
  const utm = toUtm(lonLat, 55);
  expect(Math.abs(utm.eastingM - e)).toBeLessThan(0.001);
  expect(Math.abs(utm.northingM - n)).toBeLessThan(0.001);
});

describe("MGRS by other makers", () => {
  // Source: GeographicLib's own tests (tests/CMakeLists.txt): 33.3 44.4 at 1 km is 38SMB4484.
  test("38SMB4484", () => expect(formatMgrs([44.4, 33.3], 1000)).toBe("38SMB4484"));

  // Source: FGDC-STD-011-2001, Washington Monument; digits from memory, position read back with GeoConvert.
  const monument: LonLat = fromUtm({ zone: 18, hemisphere: "N", eastingM: 323483.5, northingM: 4306479.5 });
  test.each([
    [1, "18SUJ2348306479"],
    [10, "18SUJ23480647"],
    [100, "18SUJ234064"],
    [1000, "18SUJ2306"],
    [10_000, "18SUJ20"],
    [100_000, "18SUJ"],
  ] as [MgrsPrecision, string][])("%d m cuts, never rounds", (precision, reference) =>
    expect(formatMgrs(monument, precision)).toBe(reference),
  );

  // Source: GeoConvert -m -p 0 of GeographicLib 2.1.2. West of the north pole the columns begin at R, not at J.
  test.each([
    [[-131.87933363, 86.315956498], "YUK9536573135"],
    [[-1.885589501, 89.062904734], "YZF9657696014"],
    [[-120.5, -80.5], "ALG8921363505"],
    [[100, -85], "BHM4701803545"],
  ] as [LonLat, string][])("polar %j", (at, reference) => expect(formatMgrs(at)).toBe(reference));

  // By definition: a place on a metre's line belongs to the square north-east of it, whatever the last bit says.
  test("whole metres stay whole", () => {
    for (let i = 0; i < 2000; i++) {
      const [eastingM, northingM] = [300_000 + 173 * i, 4_000_000 + 1009 * i];
      const reference = formatMgrs(fromUtm({ zone: 32, hemisphere: "N", eastingM, northingM }));
      expect(reference.slice(5)).toBe(String(eastingM).slice(1) + String(northingM).slice(2));
    }
  });

  test("spaced for reading", () => {
    expect(spaceMgrs("18SUJ2348306479")).toBe("18S UJ 23483 06479");
    expect(spaceMgrs("ZAG0046998993")).toBe("Z AG 00469 98993");
    expect(spaceMgrs("18SUJ")).toBe("18S UJ");
  });
});

// Source: NGA.SIG.0012: the scale of UPS at the poles is 0.994.
test.each([
  [0, 90],
  [33, 89.999999999999],
  [-90, -90],
  [12, -89.999999999],
] as LonLat[])("at the pole %d %d the scale is 0.994", (lon, lat) =>
  expect(toUtm([lon, lat]).scale).toBeCloseTo(0.994, 9),
);

describe("refused, with the reason", () => {
  test("a position, zone, coordinate or precision that is none", () => {
    expect(() => toUtm([0, 91])).toThrow(Fault);
    expect(() => toUtm([Number.NaN, 0])).toThrow(Fault);
    expect(() => toUtm([0, 0], 61)).toThrow("UTM zone 61 does not exist");
    expect(() => fromUtm({ zone: 32, hemisphere: "N", eastingM: 5, northingM: 5_000_000 })).toThrow(
      "Easting 5 m",
    );
    expect(() => fromUtm({ zone: 32, hemisphere: "N", eastingM: 500_000, northingM: Number.NaN })).toThrow(
      Fault,
    );
    expect(() => formatMgrs([0, 0], 5 as MgrsPrecision)).toThrow("no precision of 5 m");
  });
});
