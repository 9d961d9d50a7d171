import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { indexEvery } from "../../../core/mapmaking/contour-levels.ts";
import { checkIntervalFor, parseInterval, suitableInterval } from "../../../core/mapmaking/interval.ts";

const faultOf = (run: () => unknown): Fault => {
  try {
    run();
  } catch (thrown) {
    return Fault.from(thrown);
  }
  throw new Error("no fault");
};

describe("a contour interval", () => {
  it("is read as people write it", () => {
    for (const [text, value, unit] of [
      ["10m", 10, "m"],
      ["40ft", 40, "ft"],
      [" 2.5 m ", 2.5, "m"],
      ["2,5 metres", 2.5, "m"],
      ["20 feet", 20, "ft"],
      ["20'", 20, "ft"],
      ["10", 10, "m"],
      ["40 FT", 40, "ft"],
    ] as const)
      expect(parseInterval(text), text).toEqual({ value, unit });
  });

  it("has to be a length above zero", () => {
    for (const text of ["0m", "-10m", "ten", "", "10 km", "10mm", "1e3m", "m", "10 m 20", "NaN"])
      expect(faultOf(() => parseInterval(text)).code, text).toBe("bad-argument");
  });

  it("has to suit the relief, and says which one would", () => {
    expect(() => checkIntervalFor({ value: 10, unit: "m" }, 8849)).not.toThrow();
    const fault = faultOf(() => checkIntervalFor({ value: 0.1, unit: "ft" }, 2000));
    expect(fault.code).toBe("bad-argument");
    expect(fault.remedy).toBe("Take 2 ft or more.");
    expect(() => checkIntervalFor({ value: 2, unit: "ft" }, 2000)).not.toThrow();
  });
});

describe("an interval that suits the ground", () => {
  it("follows n · log n · tan α at 1:25 000", () => {
    // By hand: n = √250 + 1 = 16.81, log₁₀ n = 1.2256, n · log n = 20.6: 20.6 m at 45°, 9.6 m at 25°, 3.6 m at 10°.
    const at = (deg: number, unit: "m" | "ft" = "m", cellM = 10): string => {
      const { value, unit: said } = suitableInterval(Math.tan((deg * Math.PI) / 180), cellM, unit);
      return `${value} ${said}`;
    };
    expect([at(45), at(25), at(10)]).toEqual(["20 m", "10 m", "5 m"]);
    // 67.6 ft, 31.5 ft and 11.9 ft.
    expect([at(45, "ft"), at(25, "ft"), at(10, "ft")]).toEqual(["50 ft", "40 ft", "10 ft"]);
    // No finer than the model bears: a tenth of a cell of 90 m.
    expect(at(2, "m", 90)).toBe("10 m");
  });
});

describe("index contours", () => {
  it("are every fifth, and every fourth where four make a round number", () => {
    expect([10, 20, 5, 40, 50, 2].map((value) => indexEvery({ value, unit: "m" }))).toEqual([
      5, 5, 5, 5, 5, 5,
    ]);
    expect([25, 2.5, 250].map((value) => indexEvery({ value, unit: "ft" }))).toEqual([4, 4, 4]);
  });
});
