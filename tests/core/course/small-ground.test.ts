/** Courses for small ground and scores, by plane trigonometry of the test's own; no source needed beyond it. */
import geodesic from "geographiclib-geodesic";
import { expect, test } from "vitest";
import { scoreOf } from "../../../core/course/scoring.ts";
import { fieldCourse, type FieldCourse, type FieldWish } from "../../../core/course/small-ground.ts";
import { stakePlaces } from "../../../core/course/stake-places.ts";
import { FIELD_SHAPES, legsOf, stakesOf } from "../../../core/course/field-shapes.ts";
import { Fault } from "../../../core/fault.ts";

const RAD = Math.PI / 180;
const SEEDS = 1000;

const wishOf = (seed: number): FieldWish => ({
  lengthM: 80 + (seed % 5) * 20,
  widthM: 50 + (seed % 3) * 15,
  alongDeg: (seed * 37) % 360,
  legs: 3 + (seed % 5),
  legM: [20, 45],
  bearingStepDeg: [1, 5, 10][seed % 3] as number,
  shape: seed % 2 === 0 ? "closed" : "open",
  seed,
});

/** East and north of every end of a leg, walked as written from the first stake. */
function walked({ legs }: FieldCourse): [number, number][] {
  const places: [number, number][] = [[0, 0]];
  for (const { bearingDeg, lengthM } of legs) {
    const [east, north] = places.at(-1) as [number, number];
    // Clockwise from north: as an angle from east that is a quarter less the bearing.
    const angle = (90 - bearingDeg) * RAD;
    places.push([east + lengthM * Math.cos(angle), north + lengthM * Math.sin(angle)]);
  }
  return places;
}

test(`${SEEDS} courses: stakes on the ground and where the legs lead, closing by the error that is told`, () => {
  let set = 0;
  for (let seed = 1; seed <= SEEDS; seed++) {
    const wish = wishOf(seed);
    let course: FieldCourse;
    try {
      course = fieldCourse(wish);
    } catch (thrown) {
      expect(Fault.from(thrown).code).toBe("no-course");
      continue;
    }
    set++;
    const places = walked(course);
    expect(course.legs).toHaveLength(wish.legs);
    for (const { bearingDeg, lengthM } of course.legs) {
      expect(bearingDeg % wish.bearingStepDeg).toBe(0);
      expect(Number.isInteger(lengthM) && lengthM >= 20 && lengthM <= 45).toBe(true);
    }
    course.stakes.forEach(({ eastM, northM, fromFirst, ringM }, i) => {
      expect(Math.hypot(eastM - (places[i]?.[0] ?? NaN), northM - (places[i]?.[1] ?? NaN))).toBeLessThan(
        1e-6,
      );
      if (i === 0) return expect(fromFirst).toBeNull();
      const { bearingDeg, distanceM } = fromFirst ?? { bearingDeg: NaN, distanceM: NaN };
      expect(distanceM * Math.sin(bearingDeg * RAD)).toBeCloseTo(eastM, 6);
      expect(distanceM * Math.cos(bearingDeg * RAD)).toBeCloseTo(northM, 6);
      // 2 m, and 3° aside and 5 % along of the leg that leads there, square to each other.
      const leg = course.legs[i - 1]?.lengthM ?? NaN;
      expect(ringM).toBeCloseTo(2 + Math.sqrt((0.0524078 * leg) ** 2 + (0.05 * leg) ** 2), 4);
      for (const other of course.stakes.slice(0, i))
        expect(Math.hypot(other.eastM - eastM, other.northM - northM)).toBeGreaterThan(7.99);
    });
    for (const { alongM, acrossM, fromCorner } of stakePlaces(course)) {
      expect(Math.min(alongM, acrossM, wish.lengthM - alongM, wish.widthM - acrossM)).toBeGreaterThan(2.99);
      const off = (fromCorner.bearingDeg - wish.alongDeg) * RAD;
      expect(fromCorner.distanceM * Math.cos(off)).toBeCloseTo(alongM, 6);
      expect(fromCorner.distanceM * Math.sin(off)).toBeCloseTo(acrossM, 6);
    }
    // Distances between stakes do not depend on how the ground lies.
    const onGround = stakePlaces(course);
    const [a, b] = [onGround[0], onGround.at(-1)];
    const last = course.stakes.at(-1);
    if (a && b && last)
      expect(Math.hypot(b.alongM - a.alongM, b.acrossM - a.acrossM)).toBeCloseTo(
        Math.hypot(last.eastM, last.northM),
        6,
      );
    if (wish.shape === "open") expect(course.closing).toBeNull();
    else {
      const [east, north] = places.at(-1) as [number, number];
      expect(Math.abs((course.closing?.distanceM ?? NaN) - Math.hypot(east, north))).toBeLessThan(0.001);
      expect(course.closing?.eastM).toBeCloseTo(east, 6);
      expect(course.closing?.northM).toBeCloseTo(north, 6);
    }
  }
  expect(set).toBeGreaterThan(0.9 * SEEDS);
}, 120_000);

test("the same seed sets the same course; ground that is too small is said to be", () => {
  expect(fieldCourse(wishOf(7))).toEqual(fieldCourse(wishOf(7)));
  expect(fieldCourse(wishOf(7)).legs).not.toEqual(fieldCourse({ ...wishOf(7), seed: 8 }).legs);
  expect(() => fieldCourse({ ...wishOf(8), lengthM: 20, widthM: 20, legM: [40, 45] })).toThrow(
    /were not fitted on 20 m by 20 m/,
  );
});

/** Sides that 360° can be cut into on bearings of whole degrees. */
const EVEN = [3, 4, 5, 6, 8, 9, 10, 12];
const evenWish = (seed: number): FieldWish => {
  const legs = EVEN[seed % EVEN.length] as number;
  return {
    ...wishOf(seed),
    legs,
    legM: [10, 30],
    bearingStepDeg: 1,
    lengthM: 140,
    widthM: 120,
    shape: "even",
  };
};

/**
 * Where the written legs lead on WGS 84 from somewhere, by Karney's geodesics: bearings are counted from the north of the first
 * stake, and a geodesic from there says how much the meridian has turned at any other.
 * @returns metres from the first stake to where the last leg ends
 */
function geodesicClosing({ legs }: FieldCourse, lat: number): number {
  const { WGS84 } = geodesic.Geodesic;
  const known = (value: number | undefined): number => value ?? NaN;
  let at = { lat, lon: 12 };
  for (const { bearingDeg, lengthM } of legs) {
    const { s12, azi1, azi2 } = WGS84.Inverse(lat, 12, at.lat, at.lon);
    const turned = known(s12) > 0 ? known(azi2) - known(azi1) : 0;
    const { lat2, lon2 } = WGS84.Direct(at.lat, at.lon, bearingDeg + turned, lengthM);
    at = { lat: known(lat2), lon: known(lon2) };
  }
  return known(WGS84.Inverse(lat, 12, at.lat, at.lon).s12);
}

test.each(["even", "return"] as const)(
  "courses of the shape “%s” close within 1 mm, on paper and by geodesics",
  (shape) => {
    let set = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const wish = shape === "even" ? evenWish(seed) : { ...wishOf(seed), legs: 2 * (1 + (seed % 4)), shape };
      let course: FieldCourse;
      try {
        course = fieldCourse(wish);
      } catch (thrown) {
        expect(Fault.from(thrown).code).toBe("no-course");
        continue;
      }
      set++;
      const [east, north] = walked(course).at(-1) as [number, number];
      expect(Math.hypot(east, north)).toBeLessThan(0.001);
      expect(geodesicClosing(course, (seed % 13) * 5)).toBeLessThan(0.001);
      expect(course.closing?.distanceM).toBeLessThan(0.001);
      expect(course.stakes).toHaveLength(stakesOf(shape, wish.legs));
      expect(legsOf(shape, course.stakes.length)).toBe(wish.legs);
      // Each leg ends at the stake it names, and sets out from where the one before ended.
      walked(course)
        .slice(1)
        .forEach(([legEast, legNorth], i) => {
          const { to } = course.legs[i] as FieldCourse["legs"][number];
          const stake = course.stakes.find(({ label }) => label === to);
          expect(Math.hypot(legEast - (stake?.eastM ?? NaN), legNorth - (stake?.northM ?? NaN))).toBeLessThan(
            0.001,
          );
          if (i > 0) expect(course.legs[i]?.from).toBe(course.legs[i - 1]?.to);
        });
    }
    expect(set).toBeGreaterThan(250);
  },
  60_000,
);

test("a closed one of all lengths ends where it says, by geodesics too", () => {
  for (let seed = 2; seed <= 200; seed += 2) {
    const course = fieldCourse({ ...wishOf(seed), lengthM: 160, widthM: 120 });
    expect(Math.abs(geodesicClosing(course, 47) - (course.closing?.distanceM ?? NaN))).toBeLessThan(0.001);
  }
});

test("sides that bearings cannot make, and half a way back, are refused with what can be", () => {
  const wish = evenWish(1);
  expect(() => fieldCourse({ ...wish, legs: 7 })).toThrow(/7 equal sides cannot be walked/);
  expect(Fault.from(caught(() => fieldCourse({ ...wish, legs: 7, bearingStepDeg: 10 }))).remedy).toBe(
    "Ask for 3, 4, 6, 9, 12 or 18 sides, bearings by other steps, or sides of all lengths.",
  );
  expect(() => fieldCourse({ ...wish, shape: "return", legs: 5 })).toThrow(/as many legs back as out/);
});

function caught(run: () => unknown): unknown {
  try {
    return run();
  } catch (thrown) {
    return thrown;
  }
}

test("paces are those of whoever they are asked for, and nobody's when not", () => {
  for (const shape of FIELD_SHAPES) {
    const wish: FieldWish = { ...evenWish(1), legs: 4, shape };
    expect(fieldCourse(wish).legs.map(({ paces }) => paces)).toEqual([null, null, null, null]);
    const counted = fieldCourse({ ...wish, paces: { per100m: 65, steps: 2 } });
    // By hand: 65 to 100 m is 13 to 20 m.
    for (const { lengthM, paces } of counted.legs)
      expect(Math.abs((paces ?? NaN) - (lengthM * 13) / 20)).toBeLessThanOrEqual(0.5);
  }
  expect(() => fieldCourse({ ...evenWish(1), paces: { per100m: 5, steps: 2 } })).toThrow(/not 5/);
});

// Worked by hand: a leg of 100 m on 090° is a walk east.
test.each([
  // 5 m beyond: 105 m on the bearing.
  [{ beyondM: 5, asideM: 0 }, 0, 5, 5],
  // 10 m short and to the left: atan(10 / 90) = 6.3402°, √(90² + 10²) = 90.5539.
  [{ beyondM: -10, asideM: -10 }, -6.3402, -9.4461, 14.1421],
  // 10 m due south of the point: right of a walk east; atan(10 / 100) = 5.7106°, √(100² + 10²) = 100.4988.
  [{ bearingDeg: 180, distanceM: 10 }, 5.7106, 0.4988, 10],
  // 10 m due west: short.
  [{ bearingDeg: 270, distanceM: 10 }, 0, -10, 10],
] as const)("a miss of %o", (miss, bearingErrorDeg, distanceErrorPercent, missM) => {
  const score = scoreOf({ bearingDeg: 90, lengthM: 100 }, miss);
  expect(score.bearingErrorDeg).toBeCloseTo(bearingErrorDeg, 3);
  expect(score.distanceErrorPercent).toBeCloseTo(distanceErrorPercent, 3);
  expect(score.missM).toBeCloseTo(missM, 3);
  expect(score.missPercent).toBeCloseTo(missM, 3);
});

test("a leg without length has no score", () => {
  expect(() => scoreOf({ bearingDeg: 0, lengthM: 0 }, { beyondM: 1, asideM: 0 })).toThrow(/needs a leg/);
});
