import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  ABSENT,
  csvNumber,
  formatAngle,
  formatBearing,
  formatClock,
  formatDuration,
  formatEastWest,
  formatHeight,
  formatLength,
  formatLengthIn,
  formatNumber,
  formatQuantity,
  formatShare,
} from "../../../core/units/format.ts";

/** Expected texts are written with plain spaces; no-break ones are asked for separately. */
const plain = (text: string): string => text.replaceAll("\u00a0", " ").replaceAll("\u202f", " ");

test.each([
  [formatNumber(1234.5), "1235"],
  [formatNumber(12345), "12 345"],
  [formatNumber(1234567.891, 2), "1 234 567.89"],
  [formatNumber(-0.4), "0"],
  [formatNumber(-3.44, 1), "−3.4"],
  [formatNumber(0.00001, 3), "0.000"],
  [formatLength(0), "0 m"],
  [formatLength(999.4), "999 m"],
  [formatLength(999.6), "1.00 km"],
  [formatLength(9994), "9.99 km"],
  [formatLength(9996), "10.0 km"],
  [formatLength(123456), "123.5 km"],
  [formatLength(304.6, "imperial"), "999 ft"],
  [formatLength(304.8, "imperial"), "0.19 mi"],
  [formatLength(1609.344, "imperial"), "1.00 mi"],
  [formatLengthIn(250, "ch", 1), "12.4 ch"],
  [formatLengthIn(914.4, "yd"), "1000 yd"],
  // One unit for all distances; heights stay in the system's own. 80 chains are a mile, by the agreement of 1959.
  [formatLength(1609.344, "metric:ch"), "80.0 ch"],
  [formatLength(1609.344, "imperial:yd"), "1760 yd"],
  [formatLength(1609.344, "metric:km"), "1.61 km"],
  [formatHeight(304.8, "metric:ch"), "305 m"],
  [formatHeight(304.8, "imperial:ch"), "1000 ft"],
  [formatHeight(1849.6), "1850 m"],
  [formatHeight(4000, "imperial"), "13 123 ft"],
  [formatBearing(51.4), "51°"],
  [formatBearing(51.4, { threeFigures: true }), "051°"],
  [formatBearing(359.6), "0°"],
  [formatBearing(359.6, { threeFigures: true }), "000°"],
  [formatBearing(359.2, { graduationDeg: 2 }), "0°"],
  [formatBearing(47.4, { graduationDeg: 5 }), "45°"],
  [formatBearing(51.26, { graduationDeg: 0.5 }), "51.5°"],
  [formatBearing(5.26, { graduationDeg: 0.5, threeFigures: true }), "005.5°"],
  [formatBearing(-1), "359°"],
  [formatAngle(-3.44, 1), "−3.4°"],
  [formatEastWest(3.44), "3.4° E"],
  [formatEastWest(-2.06), "2.1° W"],
  [formatEastWest(-0.04), "0.0°"],
  [formatDuration(0), "0 min"],
  [formatDuration(29.9), "0 min"],
  [formatDuration(3570), "1 h 00 min"],
  [formatDuration(3899), "1 h 05 min"],
  [formatDuration(12240), "3 h 24 min"],
  [formatDuration(-600), "−10 min"],
  [formatClock(7 * 3600 + 359), "07:05"],
  [formatClock(25.5 * 3600), "01:30 +1"],
  [formatShare(0.874), "87 %"],
])("%s", (got, expected) => expect(plain(got)).toBe(expected));

test("a figure and its unit stay on one line", () => {
  for (const text of [
    formatLength(12345678),
    formatHeight(4000, "imperial"),
    formatDuration(4000),
    formatEastWest(3),
    formatQuantity(3, "%"),
    formatClock(90_000),
  ])
    expect(text).not.toContain(" ");
});

test("an absent figure is a dash, in a spreadsheet nothing", () => {
  for (const absent of [null, undefined, Number.NaN, Infinity]) {
    for (const format of [
      formatNumber,
      formatLength,
      formatHeight,
      formatBearing,
      formatAngle,
      formatEastWest,
      formatDuration,
      formatClock,
      formatShare,
    ])
      expect(format(absent)).toBe(ABSENT);
    expect(formatQuantity(absent, "m")).toBe(ABSENT);
    expect(csvNumber(absent)).toBe("");
  }
});

test("spreadsheet figures read back as the number", () => {
  expect(csvNumber(-12345.678, 2)).toBe("-12345.68");
  expect(csvNumber(-0.001, 1)).toBe("0.0");
});

describe("no bearing is ever shown as 360 or more, or with a sign", () => {
  test.each([0.001, 0.1, 1 / 3, 0.5, 0.7, 1, 2, 5, 7])("graduation %d°", (graduationDeg) => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.double({ min: -720, max: 720, noNaN: true }),
          fc.double({ min: 359, max: 360, noNaN: true }),
        ),
        (deg) => {
          const text = formatBearing(deg, { graduationDeg });
          expect(text).toMatch(/^\d{1,3}(\.\d+)?°$/);
          expect(Number.parseFloat(text)).toBeLessThan(360);
        },
      ),
      { numRuns: 2000 },
    );
  });
});
