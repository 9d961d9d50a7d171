import { expect, test } from "vitest";
import { trueBearing } from "../../../core/units/angle.ts";
import { landmarkGroups, offAhead } from "../../../renderer/place/landmark-rows.ts";
import type { Landmark } from "../../../renderer/worker/ground-questions.ts";

// Leg of 841.645 m on 187.88719328° true by GeodSolve of GeographicLib 2.1.2: see tests/e2e/draw-walk.test.ts.
const LEG = {
  n: 3,
  fromLonLat: [-133.1925, 46.3418],
  toLonLat: [-133.194, 46.3343],
  bearingTrueDeg: 187.88719328,
} as const;
const MIDDLE = [-133.19325, 46.33805] as const;
const at = (deg: number) => ({ bearing: trueBearing(deg) });

test("a landmark within five degrees of the way is nearly ahead, right of it or left", () => {
  expect(offAhead(LEG.fromLonLat, LEG, at(190))).toBeCloseTo(2.113, 2);
  expect(offAhead(MIDDLE, LEG, at(184))).toBeCloseTo(-3.887, 2);
  expect(offAhead(LEG.fromLonLat, LEG, at(194))).toBeNull();
  expect(offAhead(LEG.fromLonLat, LEG, at(7.9))).toBeNull();
});

test("… also where the bearing passes north", () => {
  const north = { ...LEG, fromLonLat: LEG.toLonLat, toLonLat: LEG.fromLonLat, bearingTrueDeg: 359 };
  expect(offAhead(LEG.toLonLat, north, at(2))).toBeCloseTo(3, 9);
  expect(offAhead(LEG.toLonLat, { ...north, bearingTrueDeg: 2 }, at(358))).toBeCloseTo(-4, 9);
});

test("from the leg's end or beside it nothing is ahead on it, nor without a leg or a bearing", () => {
  expect(offAhead(LEG.toLonLat, LEG, at(188))).toBeNull();
  // A second of longitude is 21 m here: three of them beside the line.
  expect(offAhead([MIDDLE[0] + 3 / 3600, MIDDLE[1]], LEG, at(188))).toBeNull();
  expect(offAhead(LEG.fromLonLat, null, at(188))).toBeNull();
  expect(offAhead(LEG.fromLonLat, { ...LEG, bearingTrueDeg: null }, at(188))).toBeNull();
});

test("lists are of a readable length, and say how many they leave out", () => {
  const one = (targetVisible: boolean | null, i: number): Landmark =>
    ({ place: { name: `Hill ${i}` }, sight: { targetVisible } }) as unknown as Landmark;
  const found = [
    ...Array.from({ length: 12 }, (_, i) => one(true, i)),
    ...Array.from({ length: 8 }, (_, i) => one(false, i)),
    one(null, 0),
  ];
  const { inView, notKnown, hidden, more } = landmarkGroups({ found, named: 40 });
  expect(inView.map(({ place }) => place.name)).toEqual(Array.from({ length: 9 }, (_, i) => `Hill ${i}`));
  expect(hidden).toHaveLength(5);
  expect(notKnown).toHaveLength(1);
  expect(inView.length + hidden.length + notKnown.length + more).toBe(40);
});
