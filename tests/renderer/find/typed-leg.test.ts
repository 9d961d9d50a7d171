import { describe, expect, test } from "vitest";
import { parseTypedLeg } from "../../../renderer/find/typed-leg.ts";

const POINTS = [
  { label: "A", letter: "A" },
  { label: "Lowder fork", letter: "B" },
  { label: "Lowder", letter: "C" },
];

// Worked by hand: 1 yd is 0.9144 m, 1 mi 1609.344 m, 1 ch 20.1168 m; 910 mils are 51.1875°; N 40° W is 320°.
test.each([
  ["from B 247° 640 m", 1, 247, null, 640],
  ["B 247 640 m", 1, 247, null, 640],
  ["b: 247 mag, 640m", 1, 247, "magnetic", 640],
  ["from Lowder fork 051° grid north for 1.5 km", 1, 51, "grid", 1500],
  ["lowder 90 true 100 yd", 2, 90, "true", 91.44],
  ["247° 640 m", null, 247, null, 640],
  ["N 40 W 300 yd", null, 320, null, 274.32],
  ["from A N 40° W grid, 10 chains", 0, 320, "grid", 201.168],
  ["910 mils 2 miles", null, 51.1875, null, 3218.688],
  ["51.5 1250 m", null, 51.5, null, 1250],
] as const)("%j", (text, from, bearingDeg, north, distanceM) => {
  const leg = parseTypedLeg(text, POINTS);
  expect(leg).toMatchObject({ from, north });
  expect(leg?.bearingDeg).toBeCloseTo(bearingDeg, 9);
  expect(leg?.distanceM).toBeCloseTo(distanceM, 9);
});

describe("what is no leg is left to others", () => {
  test.each([
    "47.3769 N 8.5417 E",
    "32T MT 65403 47150",
    "654 471",
    "47d 22m 8d 32m",
    "47° 22′ 8° 32′",
    "465403 m 5247151 m",
    "Lowder fork",
    "B",
    "247°",
    "640 m",
    "90 120 mm",
  ])("%j", (text) => expect(parseTypedLeg(text, POINTS)).toBeNull());
});

test.each([
  ["from Z 90 100 m", /no point called that/],
  ["Z 90° 100 m", /no point called that/],
  ["400° 100 m", /does not exist/],
  ["A 400° 100 m", /does not exist/],
] as const)("%j is refused with the reason", (text, reason) =>
  expect(() => parseTypedLeg(text, POINTS)).toThrow(reason),
);
