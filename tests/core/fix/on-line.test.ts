/** A place on a known line: from one bearing, a height, the slope of the ground. */
import { describe, expect, it } from "vitest";
import { evenNorths } from "../../../core/fix/clues.ts";
import { fixOnLine } from "../../../core/fix/on-line.ts";
import { type FixSettings, northsOf, type Sighting, usualFixSettings } from "../../../core/fix/sighting.ts";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { fromUtm, toUtm } from "../../../core/geodesy/utm.ts";
import { normalise180, normalise360, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { drawn, hills, lineOf, metres, place } from "../legs/support/line-map.ts";
import { evenFrom, normalFrom } from "./support/chance.ts";

const SETTINGS = usualFixSettings("2026-06-01");
const DEG = Math.PI / 180;

/** A bearing from a place in metres to a known point in metres, as the geodesic has it. */
const sight = (
  from: readonly [number, number],
  known: readonly [number, number],
  errorDeg = 2,
): Sighting => ({
  known: place(...known),
  name: "Knott",
  deg: inverse(place(...from), place(...known)).bearing,
  north: "true",
  errorDeg,
});

/**
 * Source: the shared collection of check values, north-conversion.json, "modified_resection": a road on northing 4200000, a
 * magnetic bearing of 332.565051° to a known point, grid–magnetic angle 9°. As in handbook.test.ts the grid plane is laid into
 * UTM zone 16.
 */
it("the handbook's modified resection: a road and one bearing", () => {
  const utm = (eastingM: number, northingM: number): LonLat =>
    fromUtm({ zone: 16, hemisphere: "N", eastingM, northingM });
  const settings: FixSettings = {
    ...SETTINGS,
    declination: {
      use: "printed",
      printed: { valueDeg: 9, of: "gridMagnetic", year: 2026, annualChangeDeg: 0 },
      beyondModel: false,
    },
    commonErrorDeg: 0,
  };
  const road = lineOf(
    "road",
    Array.from({ length: 41 }, (_, i) => utm(601_000 + 100 * i, 4_200_000)),
    "Moor Road",
  );
  const sighting: Sighting = {
    known: utm(602_000, 4_203_000),
    name: "A",
    deg: 332.565051,
    north: "magnetic",
  };
  const { places, warnings } = fixOnLine([road], [{ what: "sight", sighting }], null, settings);
  expect(places).toHaveLength(1);
  const { eastingM, northingM } = toUtm(places[0]!.at, 16);
  expect(Math.hypot(eastingM - 603_000, northingM - 4_200_000)).toBeLessThan(0.05);
  // The road runs 90° of the grid, the line of sight 161.565051°.
  expect(places[0]!.sight!.crossingDeg).toBeCloseTo(71.565, 2);
  // Closed form: 2° · 3162.278 m / sin 71.565° = 116.4 m (plane, small angles).
  expect(places[0]!.alongSdM).toBeGreaterThan(114);
  expect(places[0]!.alongSdM).toBeLessThan(119);
  expect(places[0]!.why).toMatch(/^The bearing to A crosses the Moor Road here at 72°/);
  expect(warnings).toEqual([]);
});

describe("one bearing and lines", () => {
  it("all crossings are found, and no others: by a walk along random lines in steps of a metre", () => {
    const even = evenFrom(4);
    let checked = 0;
    for (let round = 0; round < 30; round++) {
      const points = Array.from({ length: 9 }, (_, i) => [250 * i - 1000, 900 * even()] as const);
      const known = [200 * even(), 1500 + 1500 * even()] as const;
      const sighting = { ...sight([0, 0], known, 0.5), deg: normalise360(360 - 25 + 50 * even()) };
      const { places } = fixOnLine([drawn("stream", points)], [{ what: "sight", sighting }], null, SETTINGS);
      const crossings: (readonly [number, number])[] = [];
      points.slice(1).forEach(([e1, n1], i) => {
        const [e0, n0] = points[i]!;
        const steps = Math.ceil(Math.hypot(e1 - e0, n1 - n0));
        let before = Number.NaN;
        for (let k = 0; k <= steps; k++) {
          const at = [e0 + ((e1 - e0) * k) / steps, n0 + ((n1 - n0) * k) / steps] as const;
          const off = normalise180(inverse(place(...at), sighting.known).bearing - sighting.deg);
          if (before * off < 0 && Math.abs(off) < 90) crossings.push(at);
          before = off;
        }
      });
      // Crossings of a zigzag nearer to each other than the error cannot be told apart.
      const apart = crossings.filter((a, i) =>
        crossings.every((b, j) => i === j || Math.hypot(a[0] - b[0], a[1] - b[1]) > 150),
      );
      for (const at of apart)
        expect(
          Math.min(...places.map((p) => inverse(p.at, place(...at)).distanceM)),
          `round ${round}`,
        ).toBeLessThan(1.5);
      // And what is said to be a crossing is one; other places come near to the bearing without meeting it.
      for (const { at, sight: seen } of places)
        if (Math.abs(seen!.residualDeg) < 0.01)
          expect(
            Math.min(...crossings.map((c) => inverse(at, place(...c)).distanceM)),
            `round ${round}`,
          ).toBeLessThan(1.5);
      checked += apart.length;
    }
    expect(checked).toBeGreaterThan(20);
  });

  it("two crossings share the chance as their errors along the line: distance over the sine of the angle", () => {
    // Due south of the known point, lines cross at 1000 m square on and at 2000 m at 45°.
    const lines = [
      drawn("path", [
        [-900, 1000],
        [900, 1000],
      ]),
      drawn("path", [
        [-900, -900],
        [900, 900],
      ]),
    ];
    const sighting = sight([0, 0], [0, 2000], 1);
    const { places, warnings } = fixOnLine(lines, [{ what: "sight", sighting }], null, SETTINGS);
    expect(places).toHaveLength(2);
    const [far, near] = places;
    // Straight in degrees and straight in metres part by a decimetre on segments as long as these.
    expect(metres(far!.at)[1]).toBeCloseTo(0, 0);
    expect(metres(near!.at)[1]).toBeCloseTo(1000, 0);
    const [sdFar, sdNear] = [(2000 * DEG) / Math.sin(45 * DEG), 1000 * DEG];
    expect(far!.alongSdM / sdFar).toBeCloseTo(1, 1);
    expect(near!.alongSdM / sdNear).toBeCloseTo(1, 1);
    expect(far!.probability).toBeCloseTo(sdFar / (sdFar + sdNear), 2);
    expect(far!.probability + near!.probability).toBeCloseTo(1, 9);
    expect(warnings).toEqual([]);
  });

  it("the true place lies on the stretch of 95 % about as often", { timeout: 60_000 }, () => {
    const [even, normal] = [evenFrom(5), normalFrom(6)];
    const road = drawn("road", [
      [-1500, 0],
      [1500, 0],
    ]);
    let held = 0;
    const trials = 400;
    for (let i = 0; i < trials; i++) {
      const truth = [600 * (even() - 0.5), 0] as const;
      const known = [800 * (even() - 0.5), 1000 + 1000 * even()] as const;
      const exact = sight(truth, known);
      const sighting = { ...exact, deg: normalise360(exact.deg + 2 * normal()) };
      const [best] = fixOnLine([road], [{ what: "sight", sighting }], null, SETTINGS).places;
      const [from, to] = [metres(best!.from)[0], metres(best!.to)[0]];
      if (truth[0] >= from && truth[0] <= to) held++;
    }
    // 95 % of 400 with a standard deviation of 1.1 points.
    expect(held / trials).toBeGreaterThan(0.92);
    expect(held / trials).toBeLessThan(0.98);
  });

  it("a bearing that grazes the line, and one that never meets it, are told", () => {
    const grazing = fixOnLine(
      [
        drawn("wall", [
          [-100, -2000],
          [200, 1000],
        ]),
      ],
      [{ what: "sight", sighting: sight([0, -1000], [0, 2000]) }],
      null,
      SETTINGS,
    );
    expect(grazing.warnings.join()).toMatch(/at only 6°/);
    const never = fixOnLine(
      [
        drawn("wall", [
          [1000, -500],
          [1000, 500],
        ]),
      ],
      [{ what: "sight", sighting: sight([0, 0], [0, 2000]) }],
      null,
      SETTINGS,
    );
    expect(never.warnings.join()).toMatch(/does not go with the bearing: \d/);
    expect(never.places).toEqual([]);
    // Ends 60 m short of the line of sight, 2000 m from the known point: 1.7° off.
    const short = fixOnLine(
      [
        drawn("wall", [
          [60, 0],
          [900, 0],
        ]),
      ],
      [{ what: "sight", sighting: sight([0, 0], [0, 2000]) }],
      null,
      SETTINGS,
    );
    expect(metres(short.places[0]!.at)[0]).toBeCloseTo(60, 0);
    expect(short.places[0]!.why).toMatch(/^The wall comes nearest to the bearing to Knott here, 1\.7° off/);
  });
});

describe("height and slope narrow it down", () => {
  const sighting = sight([0, 0], [0, 3000], 1);
  /** A stream that winds over the line of sight three times. */
  const stream = drawn("stream", [
    [-600, -300],
    [600, 0],
    [-600, 700],
    [600, 1400],
  ]);
  const three = (clues: Parameters<typeof fixOnLine>[1], height: (e: number, n: number) => number) =>
    fixOnLine([stream], [{ what: "sight", sighting }, ...clues], hills(height), SETTINGS).places;
  const slope = (_: number, n: number): number => 200 + n / 10;

  it("without them three places are likely", () => {
    expect(three([], slope)).toHaveLength(3);
  });

  it("an altimeter picks the one at its height", () => {
    // Crossings lie at −150 m, 350 m and 1050 m north: heights 185, 235 and 305 m.
    const [best, second] = three([{ what: "height", elevationM: 240 }], slope);
    expect(metres(best!.at)[1]).toBeGreaterThan(300);
    expect(metres(best!.at)[1]).toBeLessThan(420);
    expect(best!.probability).toBeGreaterThan(0.99);
    expect(second).toBeUndefined();
  });

  it("so does the way the ground faces, and how steep it is", () => {
    // A ridge along northing 700: south of it the ground faces south, north of it north, steeper.
    const ridge = (_: number, n: number): number => (n < 700 ? 500 + (n - 700) / 10 : 500 - (n - 700) / 2);
    const facing = three([{ what: "facing", deg: 350, north: "true" }], ridge);
    expect(metres(facing[0]!.at)[1]).toBeGreaterThan(900);
    expect(facing[0]!.probability).toBeGreaterThan(0.99);
    const steep = three([{ what: "slope", deg: 25 }], ridge);
    expect(metres(steep[0]!.at)[1]).toBeGreaterThan(900);
    expect(steep[0]!.probability).toBeGreaterThan(0.95);
  });

  it("a height alone gives a place on a line that climbs: error over slope", () => {
    const path = drawn("path", [
      [0, 0],
      [0, 2000],
    ]);
    const [best] = fixOnLine(
      [path],
      [{ what: "height", elevationM: 300, errorM: 5 }],
      hills(slope),
      SETTINGS,
    ).places;
    expect(metres(best!.at)[1]).toBeCloseTo(1000, 0);
    expect(best!.alongSdM).toBeCloseTo(50, 0);
  });

  it("a clue that goes with no place is told; one that needs terrain is refused without", () => {
    const far = fixOnLine([stream], [{ what: "height", elevationM: 900 }], hills(slope), SETTINGS);
    expect(far.warnings.join()).toMatch(/does not go with the height/);
    expect(() => fixOnLine([stream], [{ what: "height", elevationM: 900 }], null, SETTINGS)).toThrow(
      /no terrain/,
    );
    expect(() => fixOnLine([stream], [], null, SETTINGS)).toThrow(/line alone/);
    expect(() => fixOnLine([], [{ what: "sight", sighting }], null, SETTINGS)).toThrow(/no line/);
  });
});

it("norths between places are those worked out there, to 0.002° within 7 km", () => {
  const middle: LonLat = [-119.5, 37.7];
  const norths = northsOf(SETTINGS, ["magnetic", "grid"], middle);
  const even = evenNorths(norths, middle);
  for (let azimuth = 0; azimuth < 360; azimuth += 30) {
    const at = direct(middle, trueBearing(azimuth), 7000);
    expect(Math.abs(even(at).declinationDeg - norths(at).declinationDeg)).toBeLessThan(0.002);
    expect(Math.abs(even(at).convergenceDeg - norths(at).convergenceDeg)).toBeLessThan(0.002);
  }
});
