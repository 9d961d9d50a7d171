import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { checkIntervalFor, parseInterval } from "../../../core/mapmaking/interval.ts";

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
