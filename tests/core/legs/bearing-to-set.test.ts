import { describe, expect, test } from "vitest";
import {
  adjustmentDeg,
  bearingToSet,
  type Compass,
  dialledNorth,
  formatOn,
  USUAL_COMPASS,
} from "../../../core/legs/norths/bearing-to-set.ts";
import { trueBearing, trueToGrid, trueToMagnetic } from "../../../core/units/angle.ts";

const compass = (over: Partial<Compass>): Compass => ({ ...USUAL_COMPASS, ...over });
const norths = (trueDeg: number, declinationDeg: number, gridConvergenceDeg: number) => {
  const bearing = trueBearing(trueDeg);
  return {
    bearingTrueDeg: bearing,
    bearingGridDeg: trueToGrid(bearing, gridConvergenceDeg),
    bearingMagneticDeg: trueToMagnetic(bearing, declinationDeg),
    declinationDeg,
    gridConvergenceDeg,
  };
};
const spaced = (text: string): string => text.replaceAll("\u00a0", " ");

// Three norths worked by hand from the rules of US Army TC 3-25.26 (2013), para 6-13 and table 6-1:
// grid–magnetic angle = declination − convergence, magnetic = grid − grid–magnetic angle. True, then the rest.
describe.each([
  { declination: 10, convergence: -1.5, gm: 11.5, magnetic: 100, grid: 111.5, trueDeg: 110 },
  { declination: -4, convergence: 0.75, gm: -4.75, magnetic: 350, grid: 345.25, trueDeg: 346 },
  { declination: 18, convergence: 2, gm: 16, magnetic: 355, grid: 11, trueDeg: 13 },
  { declination: -15.5, convergence: -2, gm: -13.5, magnetic: 3, grid: 349.5, trueDeg: 347.5 },
  { declination: 0, convergence: 1.2, gm: -1.2, magnetic: 0, grid: 358.8, trueDeg: 0 },
])("declination $declination, convergence $convergence", (row) => {
  const leg = norths(row.trueDeg, row.declination, row.convergence);
  test("a plain compass takes the magnetic bearing whatever the map's north", () => {
    for (const north of ["magnetic", "grid", "true"] as const) {
      const set = bearingToSet(leg, USUAL_COMPASS, north);
      expect(set).toMatchObject({ deg: row.magnetic, north: "magnetic", adjustmentDeg: null });
      expect(set.words).toBe(`set ${row.magnetic}° magnetic`);
    }
  });
  test("an adjustable one takes the true bearing with the declination on it", () => {
    const set = bearingToSet(leg, compass({ adjustable: true }), "true");
    expect(set.north).toBe("true");
    expect(set.deg).toBe(Math.round(row.trueDeg));
    expect(set.adjustmentDeg).toBe(row.declination);
    // Held on the needle: dialled bearing less the angle set is the magnetic bearing.
    expect(((set.deg as number) - row.declination + 360) % 360).toBeCloseTo(
      row.magnetic + (Math.round(row.trueDeg) - row.trueDeg),
      9,
    );
  });
  test("and the grid bearing with the grid–magnetic angle on it for who works from the grid", () => {
    const set = bearingToSet(leg, compass({ adjustable: true }), "grid");
    expect(set.north).toBe("grid");
    expect(set.adjustmentDeg).toBeCloseTo(row.gm, 9);
    expect(set.deg).toBe(Math.round(row.grid) % 360);
  });
});

test("in words", () => {
  const leg = norths(65.2, 14.2, 0.5);
  expect(spaced(bearingToSet(leg, compass({ adjustable: true }), "magnetic").words)).toBe(
    "set 65° true with 14.2° E set on the compass",
  );
  expect(spaced(bearingToSet(leg, USUAL_COMPASS, "magnetic").words)).toBe("set 51° magnetic");
  expect(spaced(bearingToSet(leg, USUAL_COMPASS, "magnetic").backWords)).toBe("back 231° magnetic");
  expect(spaced(bearingToSet(leg, compass({ unit: "quadrant" }), "magnetic").backWords)).toBe(
    "back S 51° W magnetic",
  );
});

// Back azimuths: US Army TC 3-25.26, para 6-5: add 180 to one of 180 or less, else subtract; 3200 in mils.
test.each([
  [0, 180],
  [27, 207],
  [90, 270],
  [163, 343],
  [180, 0],
  [200, 20],
  [213, 33],
  [359, 179],
])("the way back from %d° is %d°", (deg, back) => {
  const set = bearingToSet(norths(deg, 0, 0), USUAL_COMPASS, "magnetic");
  expect([set.deg, set.backDeg]).toEqual([deg, back]);
});
test.each([
  [0, 3200],
  [800, 4000],
  [3200, 0],
  [5600, 2400],
])("the way back from %d mils is %d mils", (mils, back) => {
  const set = bearingToSet(
    norths((mils * 360) / 6400, 0, 0),
    compass({ unit: "mils", graduationDeg: (10 * 360) / 6400 }),
    "magnetic",
  );
  expect([set.text, set.backText].map(spaced)).toEqual([`${mils} mils`, `${back} mils`]);
});

test("rounded to the compass's own marks, and never 360 or 6400", () => {
  expect(formatOn(compass({ graduationDeg: 2 }), 51.3)).toBe("52°");
  expect(formatOn(compass({ graduationDeg: 5 }), 51.3)).toBe("50°");
  // 51.3 × 6400 / 360 = 912 mils.
  for (const [marks, text] of [
    [10, "910 mils"],
    [20, "920 mils"],
    [25, "900 mils"],
    [50, "900 mils"],
    [100, "900 mils"],
  ] as const)
    expect(spaced(formatOn(compass({ unit: "mils", graduationDeg: (marks * 360) / 6400 }), 51.3))).toBe(text);
  for (const unit of ["degrees", "quadrant", "mils"] as const)
    for (const graduationDeg of [1, 2, 5, (10 * 360) / 6400, (100 * 360) / 6400])
      for (const deg of [359.4, 359.5, 359.99999, 357.6, 360, 0]) {
        const set = bearingToSet(norths(deg, 0, 0), compass({ unit, graduationDeg }), "magnetic");
        expect(`${set.text} ${set.backText} ${set.words}`).not.toMatch(/\b360|6400/);
        expect(set.deg).toBeLessThan(360);
        expect(set.deg).toBeGreaterThanOrEqual(0);
      }
});

test("without a declination there is nothing to set, on either compass, and no figure in its place", () => {
  const leg = { ...norths(40, 0, 0), declinationDeg: null, bearingMagneticDeg: null };
  for (const adjustable of [false, true])
    for (const north of ["magnetic", "grid", "true"] as const) {
      const set = bearingToSet(leg, compass({ adjustable }), north);
      expect(set).toMatchObject({ deg: null, backDeg: null, text: "–", words: "no bearing to set" });
    }
  expect(adjustmentDeg(compass({ adjustable: true }), "grid", null, 1)).toBeNull();
  expect(dialledNorth(USUAL_COMPASS, "true")).toBe("magnetic");
});
