import { expect, test } from "vitest";
import { faceFigures, faceMarks } from "../../../renderer/slip/face-marks.ts";

const MIL = 360 / 6400;
const texts = (unit: "degrees" | "quadrant" | "mils"): string[] =>
  faceFigures({ unit, graduationDeg: 1, adjustable: false }).map(({ text }) => text);

test("marks stand at the compass's own spacing, or at every few where they would run together", () => {
  const spacing = (unit: "degrees" | "mils", graduationDeg: number): number => {
    const [first, second] = faceMarks({ unit, graduationDeg, adjustable: false });
    return (second?.deg ?? 0) - (first?.deg ?? 0);
  };
  expect(spacing("degrees", 5)).toBe(5);
  expect(spacing("degrees", 2)).toBe(2);
  expect(spacing("degrees", 1)).toBe(2);
  expect(spacing("mils", 100 * MIL)).toBeCloseTo(100 * MIL, 9);
  expect(spacing("mils", 10 * MIL)).toBeCloseTo(50 * MIL, 9);
});

test("every spacing closes the circle", () => {
  for (const [unit, graduationDeg] of [
    ["degrees", 5],
    ["quadrant", 2],
    ["mils", 25 * MIL],
  ] as const) {
    const marks = faceMarks({ unit, graduationDeg, adjustable: false });
    const step = marks[1]?.deg ?? 0;
    expect((marks.at(-1)?.deg ?? 0) + step).toBeCloseTo(360, 9);
    expect(marks.filter(({ length }) => length === "long").length).toBe(unit === "mils" ? 16 : 12);
  }
});

test("figures are those of the unit: a quadrant counts to 90 from north and from south", () => {
  expect(texts("degrees")).toEqual("N 30 60 90 120 150 180 210 240 270 300 330".split(" "));
  expect(texts("quadrant")).toEqual("N 30 60 E 60 30 S 30 60 W 60 30".split(" "));
  // Hundreds of mils: 1600 to the right angle (FM 21-26, para 6-1b).
  const mils = faceFigures({ unit: "mils", graduationDeg: MIL, adjustable: false });
  expect(mils.find(({ deg }) => deg === 90)?.text).toBe("16");
  expect(mils.find(({ deg }) => deg === 270)?.text).toBe("48");
});
