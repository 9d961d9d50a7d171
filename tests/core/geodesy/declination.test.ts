import { describe, expect, test } from "vitest";
import { decimalYear } from "../../../core/geodesy/decimal-year.ts";
import { declinationAt, declinationInYear } from "../../../core/geodesy/declination.ts";
import { Fault } from "../../../core/fault.ts";
import { normalise180 } from "../../../core/units/angle.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

// Source: NOAA/NCEI WMM2025 test values (see the fixture's README); declination is printed to 0.01°.
const rows = readRows("wmm2025.tsv");

describe("declination against NOAA's WMM2025 table", () => {
  test("the table is whole", () => expect(rows).toHaveLength(100));

  test.each(
    rows.map((row, i) => ({
      row,
      name: `row ${i + 1}: ${row["year"]}, ${row["lat_deg"]} ${row["lon_deg"]}, ${row["altitude_km"]} km`,
    })),
  )("$name", ({ row }) => {
    const d = declinationInYear(
      [num(row, "lon_deg"), num(row, "lat_deg")],
      num(row, "altitude_km") * 1000,
      num(row, "year"),
    );
    expect(Math.abs(normalise180(d.deg - num(row, "declination_deg")))).toBeLessThanOrEqual(0.01);
    expect(Math.abs(d.horizontalNT - num(row, "H_nT"))).toBeLessThanOrEqual(0.01);
    expect(Math.abs(d.annualChangeDeg - num(row, "dD_dt_deg_per_year"))).toBeLessThanOrEqual(1e-5);
    expect(d.model).toBe("WMM2025");
    // Zones: WMM reports (from WMM2020 on): H < 2000 nT blackout, H < 6000 nT caution. No row lies on a limit.
    const h = num(row, "H_nT");
    expect(d.zone).toBe(h < 2000 ? "blackout" : h < 6000 ? "caution" : "ok");
  });
});

// Source: error model of WMM2025 as in CIRES-Geomagnetism/wmm (constants) and boxpet/pygeomag: sqrt(0.26² + (5417/H)²);
// 0.3052° at H = 33875.366 nT is worked by hand from it.
test("uncertainty follows the horizontal intensity", () => {
  for (const row of rows) {
    const d = declinationInYear(
      [num(row, "lon_deg"), num(row, "lat_deg")],
      num(row, "altitude_km") * 1000,
      num(row, "year"),
    );
    const expected = Math.sqrt(0.26 ** 2 + (5417 / num(row, "H_nT")) ** 2);
    expect(Math.abs(d.uncertaintyDeg - expected), JSON.stringify(row)).toBeLessThan(1e-4 * expected);
  }
});

// Source: US Army TC 3-25.26 (2013), chapter 6: Fort Richardson, Alaska 18° E and Fort Benning, Georgia 4° W in 2013.
// 2015 is the first year of the models here; both had moved by the yearly 15′ and 6′ west the manual's figures imply.
test("the model of 2015 agrees with places a manual names, to its whole degrees", () => {
  expect(declinationAt([-149.7, 61.26], 100, "2015-01-01").deg).toBeCloseTo(18 - 0.5, 0);
  expect(declinationAt([-84.96, 32.35], 100, "2015-01-01").deg).toBeCloseTo(-4 - 0.2, 0);
});

// Source: NOAA/NCEI test values of the earlier models (see the fixture's README).
const earlier = readRows("wmm-earlier.tsv");

describe("declination by the models of 2015 and 2020 against NOAA's tables", () => {
  test("the table is whole", () => expect(earlier).toHaveLength(27));

  test.each(
    earlier.map((row, i) => ({
      row,
      name: `row ${i + 1}: ${row["model"]} ${row["year"]}, ${row["lat_deg"]} ${row["lon_deg"]}, ${row["altitude_km"]} km`,
    })),
  )("$name", ({ row }) => {
    const d = declinationInYear(
      [num(row, "lon_deg"), num(row, "lat_deg")],
      num(row, "altitude_km") * 1000,
      num(row, "year"),
    );
    expect(d.model).toBe(row["model"]);
    expect(Math.abs(normalise180(d.deg - num(row, "declination_deg")))).toBeLessThanOrEqual(0.01);
    expect(Math.abs(d.horizontalNT - num(row, "H_nT"))).toBeLessThanOrEqual(0.1);
    if (row["dD_dt_deg_per_year"] !== "none")
      expect(Math.abs(d.annualChangeDeg - num(row, "dD_dt_deg_per_year"))).toBeLessThanOrEqual(0.01);
  });
});

// Source: manual of MathWorks' wrldmagm, examples for Natick, Massachusetts, 1000 m above the ellipsoid.
test.each([
  ["2028-07-04", -13.6891],
  ["2020-07-04", -14.2536],
])("on the day %s it is %d°", (date, deg) =>
  expect(declinationAt([-71.35, 42.283], 1000, date).deg).toBeCloseTo(deg, 3),
);

test("at the change of models the field hardly jumps", () => {
  for (const [before, after] of [
    ["2019-12-31", "2020-01-01"],
    ["2024-12-31", "2025-01-01"],
  ] as const) {
    const a = declinationAt([8.5, 47.4], 500, before);
    const b = declinationAt([8.5, 47.4], 500, after);
    expect(a.model).not.toBe(b.model);
    expect(Math.abs(a.deg - b.deg)).toBeLessThan(0.15);
  }
});

describe("decimal years", () => {
  test.each([
    ["2025-01-01", 2025],
    ["2025-12-31", 2025 + 364 / 365],
    ["2028-12-31", 2028 + 365 / 366],
    ["2028-02-29", 2028 + 59 / 366],
  ])("%s", (date, year) => expect(decimalYear(date)).toBeCloseTo(year, 10));

  test.each(["2025-02-29", "2025-13-01", "1.5.2026", "", "2026-5-1", "today"])("“%s” is refused", (date) =>
    expect(() => decimalYear(date)).toThrow(Fault),
  );
});

describe("refused, with the reason", () => {
  const fault = (run: () => unknown): Fault => {
    try {
      run();
    } catch (thrown) {
      if (thrown instanceof Fault) return thrown;
      throw thrown;
    }
    throw new Error("nothing was thrown");
  };

  test.each(["1850-06-01", "2014-12-31", "2030-01-01", "2150-01-01"])("%s is outside the models", (date) => {
    const f = fault(() => declinationAt([8.5, 47.4], 500, date));
    expect(f.code).toBe("out-of-range");
    expect(f.what).toContain(date.slice(0, 4));
    expect(f.what).toContain("2015 to 2029");
    expect(f.remedy).not.toBeNull();
  });

  test("who insists gets the nearest model, marked", () => {
    const late = declinationAt([8.5, 47.4], 500, "2031-06-01", true);
    expect(late).toMatchObject({ model: "WMM2025", beyondModel: true });
    expect(Math.abs(late.deg - declinationAt([8.5, 47.4], 500, "2029-12-31").deg)).toBeLessThan(0.5);
    expect(declinationAt([8.5, 47.4], 500, "2010-06-01", true)).toMatchObject({
      model: "WMM2015v2",
      beyondModel: true,
    });
    expect(declinationAt([8.5, 47.4], 500, "2026-06-01", true).beyondModel).toBe(false);
    expect(fault(() => declinationAt([8.5, 47.4], 500, "1850-06-01", true)).code).toBe("out-of-range");
    expect(fault(() => declinationAt([8.5, 47.4], 500, "2051-06-01", true)).code).toBe("out-of-range");
  });

  test("the last day of the model still works", () =>
    expect(declinationAt([8.5, 47.4], 500, "2029-12-31").model).toBe("WMM2025"));

  test("a height, a position or a day that is none", () => {
    expect(fault(() => declinationAt([8.5, 47.4], 900_000, "2026-05-01")).code).toBe("out-of-range");
    expect(fault(() => declinationAt([8.5, 47.4], Number.NaN, "2026-05-01")).code).toBe("out-of-range");
    expect(fault(() => declinationAt([8.5, 91], 0, "2026-05-01")).code).toBe("bad-argument");
    expect(fault(() => declinationAt([8.5, 47.4], 0, "2026-02-30")).code).toBe("bad-argument");
  });
});

test("100 m of height turn the needle by less than 0.005° outside the caution zones", () => {
  for (const row of rows) {
    const at = [num(row, "lon_deg"), num(row, "lat_deg")] as const;
    const low = declinationInYear(at, 0, num(row, "year"));
    if (low.zone !== "ok") continue;
    const high = declinationInYear(at, 100, num(row, "year"));
    expect(Math.abs(normalise180(high.deg - low.deg)), JSON.stringify(at)).toBeLessThan(0.005);
  }
});
