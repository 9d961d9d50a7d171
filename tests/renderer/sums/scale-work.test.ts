import { describe, expect, test } from "vitest";
import {
  groundOf,
  rulerOf,
  scaleMeaning,
  trueOfReading,
  unknownScale,
} from "../../../renderer/sums/scale-work.ts";
import type { Worked } from "../../../renderer/sums/worked.ts";

const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");

function answer<T>(of: Worked<T>): T {
  if (of.kind !== "answer") throw new Error(`no answer: ${JSON.stringify(of)}`);
  return of.value;
}

// 1:24 000 as one inch to 2000 feet and 1:63 360 as an inch to the mile are those of USGS Survey Manual 800.2; the
// millimetres by hand.
test.each([
  ["1 inch = 2000 feet", "1:24 000", "41.67", "2000", "2.64"],
  ["1 inch = 1 mile", "1:63 360", "15.78", "5280", "1"],
  ["1:25 000", "1:25 000", "40", "2083", "2.534"],
] as const)("%s", (text, written, mm, feet, inches) => {
  const value = answer(scaleMeaning(text));
  expect(plain(value.written)).toBe(written);
  expect([value.mmPerKm, value.feetPerInch, value.inchesPerMile].map(plain)).toEqual([mm, feet, inches]);
});

describe("ruler and ground", () => {
  // By hand: 3.2 in × 24 000 = 76 800 in = 6400 ft = 1950.72 m; 37 mm × 25 000 = 925 m.
  test("to the ground, with its working", () => {
    expect(plain(answer(groundOf("3.2 in", "1:24000")).metric)).toBe("1.951 km");
    expect(answer(groundOf("3.2 in", "1:24000")).metres).toBeCloseTo(1950.72, 6);
    const sum = groundOf("37", "1:25000");
    expect(answer(sum).metres).toBeCloseTo(925, 9);
    expect(sum.kind === "answer" && plain(sum.how[0] ?? "")).toBe("37 mm × 25 000 = 925 m.");
  });
  test("to the ruler", () => {
    const value = answer(rulerOf("1950.72", "1:24 000"));
    expect([value.metric, value.imperial].map(plain)).toEqual(["81.3 mm", "3.20 in"]);
  });
  // By hand: an edge of 1:50 000 laid on 1:25 000 reads twice what is there; one of 1:25 000 on 1:24 000 reads 1/24 too much.
  test.each([
    ["800 m", "1:50000", "1:25000", 400],
    ["1000 m", "1:25000", "1:24000", 960],
    ["500 m", "1:25000", "1:50000", 1000],
  ] as const)("%s on an edge of %s on a map of %s", (reading, compass, scale, metres) =>
    expect(answer(trueOfReading(reading, compass, scale)).metres).toBeCloseTo(metres, 9),
  );
});

describe("a map without a scale", () => {
  // By hand: 3.425 km ÷ 137 mm = 25 000; half a millimetre makes 25 000 × 0.5 / 137 = 91 of it.
  test("from a known distance", () =>
    expect(plain(answer(unknownScale("3.425 km", "137 mm")).written)).toBe("1:25 000"));
  // 1 km ÷ 41.7 mm = 23 981 ± 288: no more than hundreds can be told.
  test("as well as a ruler is read", () => {
    expect(plain(answer(unknownScale("1 km", "41.7")).written)).toBe("1:24 000");
    expect(plain(answer(unknownScale("300 m", "5 mm")).written)).toBe("1:60 000");
  });
});

describe("what cannot be is said in a sentence, an empty blank is not", () => {
  test.each([
    ["1:0", /is no map scale/],
    ["1 inch = 2000", /no unit/],
    ["1:5", /is no map scale/],
  ] as const)("%j", (text, reason) => {
    const sum = scaleMeaning(text);
    expect(sum.kind === "fault" && sum.fault.what).toMatch(reason);
  });
  test("blank", () => {
    expect(scaleMeaning(" ").kind).toBe("waiting");
    expect(groundOf("", "1:25000").kind).toBe("waiting");
    expect(unknownScale("1 km", "0 mm").kind).toBe("fault");
  });
});
