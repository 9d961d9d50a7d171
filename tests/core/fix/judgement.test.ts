/** Bad geometry is always warned of; wrong bearings are found; the best place is the best there is. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import type { Fix, FixWarningCode } from "../../../core/fix/fix.ts";
import { intersect, resect } from "../../../core/fix/from-bearings.ts";
import { type Sighting, usualFixSettings } from "../../../core/fix/sighting.ts";
import { declinationAt } from "../../../core/geodesy/declination.ts";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { normalise180, normalise360, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { normalFrom } from "./support/chance.ts";

const SETTINGS = usualFixSettings("2026-06-01");
const HERE: LonLat = [-3.21, 54.46];

/** Bearings from HERE to points on azimuths at distances, off by errors, degrees. */
const sightings = (
  points: readonly (readonly [azimuth: number, metres: number, error?: number])[],
): Sighting[] =>
  points.map(([azimuth, metres, error = 0]) => {
    const known = direct(HERE, trueBearing(azimuth), metres);
    return {
      known,
      name: null,
      deg: normalise360(inverse(HERE, known).bearing + error),
      north: "true",
    };
  });
const codes = (fix: Fix): FixWarningCode[] => fix.warnings.map(({ code }) => code);

const outcome = (run: () => Fix): Fix | Fault => {
  try {
    return run();
  } catch (thrown) {
    if (thrown instanceof Fault) return thrown;
    throw thrown;
  }
};

const distance = fc.double({ min: 100, max: 20_000, noNaN: true });
const azimuth = fc.double({ min: 0, max: 359.99, noNaN: true });
/** Degrees off the first line, either way along it. */
const narrowTurn = fc
  .tuple(fc.double({ min: -14.5, max: 14.5, noNaN: true }), fc.boolean())
  .map(([turn, back]) => (back ? turn + 180 : turn));

describe("bad geometry", () => {
  it("is always warned of, or gives no fix at all: no two bearings cross at more than 29°", () => {
    let fixes = 0;
    fc.assert(
      fc.property(
        azimuth,
        distance,
        fc.array(fc.tuple(narrowTurn, distance), { minLength: 1, maxLength: 4 }),
        fc.integer(),
        (first, metres, others, seed) => {
          const normal = normalFrom(seed);
          const points = [
            [first, metres] as const,
            ...others.map(([turn, far]) => [first + turn, far] as const),
          ];
          const noisy = points.map(([a, far]) => [a, far, 0.2 * normal()] as const);
          // The plain angles themselves, whatever the fix makes of them.
          const read = sightings(noisy).map(({ deg }) => deg);
          const widest = Math.max(
            ...read.flatMap((a) =>
              read.map((b) => Math.min(Math.abs(normalise180(a - b)), 180 - Math.abs(normalise180(a - b)))),
            ),
          );
          fc.pre(widest < 29.9);
          const fix = outcome(() => resect(sightings(noisy), SETTINGS));
          if (fix instanceof Fault) return fix.remedy !== null;
          fixes++;
          return codes(fix).includes("narrow");
        },
      ),
      { numRuns: 300, seed: 11 },
    );
    expect(fixes).toBeGreaterThan(50);
  });

  it("is not cried where two bearings cross at 50 to 130° and distances are alike", () => {
    fc.assert(
      fc.property(
        azimuth,
        fc.double({ min: 50, max: 130, noNaN: true }),
        fc.double({ min: 1000, max: 2000, noNaN: true }),
        fc.double({ min: 1000, max: 2000, noNaN: true }),
        (first, turn, one, two) => {
          const fix = resect(
            sightings([
              [first, one],
              [first + turn, two],
            ]),
            SETTINGS,
          );
          return codes(fix).join() === "two-only";
        },
      ),
      { numRuns: 100, seed: 12 },
    );
  });

  it("of an intersection is told as well", () => {
    const far = direct(HERE, trueBearing(40), 5000);
    const from = [HERE, direct(HERE, trueBearing(130), 800)];
    const fix = intersect(
      from.map((known) => ({ known, name: null, deg: inverse(known, far).bearing, north: "true" as const })),
      SETTINGS,
    );
    expect(codes(fix)).toEqual(expect.arrayContaining(["narrow", "elongated", "two-only"]));
  });
});

describe("wrong bearings", () => {
  const FIVE = [
    [10, 2000],
    [80, 3000],
    [150, 1500],
    [220, 2500],
    [300, 4000],
  ] as const;

  it.each([0, 1, 2, 3, 4])("one of five 15° off is named: number %i", (wrong) => {
    const fix = resect(
      sightings(FIVE.map(([a, m], i) => [a, m, i === wrong ? 15 : [0.5, -1, 0.8, -0.6, 0.3][i]!] as const)),
      SETTINGS,
    );
    expect(codes(fix)).toEqual(expect.arrayContaining(["inconsistent", "suspect"]));
    expect(fix.suspect).toBe(wrong);
    // Without it the others give the place they were made from, and say how far it is off.
    const { without } = fix.bearings[wrong]!;
    expect(inverse(without!.at, HERE).distanceM).toBeLessThan(60);
    expect(without!.offDeg).toBeGreaterThan(12);
    expect(without!.chance).toBeGreaterThan(0.05);
  });

  it("a wrong one of three is seen, and that it cannot be told which", () => {
    const fix = resect(
      sightings([
        [10, 2000],
        [130, 2000, 15],
        [250, 2000],
      ]),
      SETTINGS,
    );
    expect(codes(fix)).toContain("inconsistent");
    expect(fix.suspect).toBeNull();
    expect(fix.warnings.find(({ code }) => code === "inconsistent")?.words).toMatch(/a fourth would show it/);
    // One degree of freedom: all three are equally many of their own deviations off (closed form).
    const sizes = fix.bearings.map(({ normalised }) => Math.abs(normalised!));
    for (const size of sizes) expect(size).toBeCloseTo(Math.sqrt(fix.chiSquare), 2);
  });

  it.each([3, 5])("one of %i taken at the wrong end of the needle is told", (count) => {
    const points = FIVE.slice(0, count).map(([a, m], i) => [a, m, [0.5, -1, 0.8, -0.6, 0.3][i]!] as const);
    const fix = resect(
      sightings(points.map(([a, m, e], i) => [a, m, i === 1 ? e + 180 : e] as const)),
      SETTINGS,
    );
    expect(codes(fix)).toEqual(expect.arrayContaining(["inconsistent", "reversed"]));
    expect(fix.warnings.find(({ code }) => code === "reversed")?.words).toMatch(
      /^Turned round by 180°, bearing 2 /,
    );
    if (count === 5) expect(fix.suspect).toBe(1);
  });

  it.each([3, 5])("a declination left out of all %i is told", (count) => {
    // To points evenly all round; else a place aside of the right one takes up much of a common turn.
    const points = count === 5 ? FIVE : ([10, 130, 250] as const).map((a) => [a, 2000] as const);
    const read = points.map(([a, m], i) => [a, m, [0.5, -1, 0.8, -0.6, 0.3][i]! - 12] as const);
    const fix = resect(sightings(read), SETTINGS);
    expect(codes(fix)).toEqual(expect.arrayContaining(["inconsistent", "turned"]));
    const [, turn = ""] =
      /Turned together by (\d+)° to the right/.exec(
        fix.warnings.find(({ code }) => code === "turned")!.words,
      ) ?? [];
    expect(Math.abs(Number(turn) - 12)).toBeLessThan(2.5);
  });

  it("a place on the wrong side of a point is told", () => {
    // Ten honest bearings hold the place fast against one that points away.
    const points = Array.from({ length: 10 }, (_, i) => [36 * i, 1500] as const);
    const fix = resect(sightings([...points, [18, 4000, 180]]), SETTINGS);
    expect(codes(fix)).toEqual(expect.arrayContaining(["beyond", "inconsistent", "suspect", "reversed"]));
    expect(fix.warnings.find(({ code }) => code === "beyond")?.words).toMatch(/wrong side of bearing 11:/);
  });

  it("honest ones are called inconsistent once in a hundred times", () => {
    const normal = normalFrom(5);
    let cried = 0;
    for (let i = 0; i < 1000; i++) {
      const fix = resect(
        sightings(FIVE.slice(0, 4).map(([a, m]) => [a, m, 2 * normal()] as const)),
        SETTINGS,
      );
      if (codes(fix).includes("inconsistent")) cried++;
    }
    // Closed form: 1 % of 1,000, standard deviation 3.1.
    expect(cried).toBeGreaterThanOrEqual(2);
    expect(cried).toBeLessThanOrEqual(20);
  }, 180_000);
});

describe("a known point close by", () => {
  it("is told", () => {
    const fix = resect(
      sightings([
        [20, 15],
        [100, 3000],
        [200, 4000],
      ]),
      SETTINGS,
    );
    expect(codes(fix)).toContain("near-known");
    expect(inverse(fix.at, HERE).distanceM).toBeLessThan(0.01);
  });
});

/** Source: a search of the sum of squares itself over a net, each time ten times as fine, by bearings of the geodesic. */
describe("the brute-force minimum", () => {
  it.each([1, 2, 3, 4, 5, 6])("is where least squares has it: set %i", (seed) => {
    const normal = normalFrom(seed);
    const read = sightings(
      [
        [20 * seed, 900],
        [20 * seed + 75, 2500],
        [20 * seed + 140, 1400],
        [20 * seed + 260, 3100],
      ].map(([a, m], i) => [a!, m!, 3 * normal() + (seed === 6 && i === 3 ? 10 : 0)] as const),
    ).map((sighting, i) => ({ ...sighting, errorDeg: [1, 2, 3, 1.5][i] as number }));
    const cost = (at: LonLat): number =>
      read.reduce(
        (sum, { known, deg, errorDeg }) =>
          sum + (normalise180(deg - inverse(at, known).bearing) / errorDeg) ** 2,
        0,
      );
    let best = HERE;
    for (const stepM of [100, 10, 1, 0.1, 0.01]) {
      const [dLon, dLat] = [stepM / 64_700, stepM / 111_300];
      const centre = best;
      for (let i = -12; i <= 12; i++)
        for (let j = -12; j <= 12; j++) {
          const at: LonLat = [centre[0] + i * dLon, centre[1] + j * dLat];
          if (cost(at) < cost(best)) best = at;
        }
    }
    const fix = resect(read, SETTINGS);
    expect(inverse(fix.at, best).distanceM).toBeLessThan(0.05);
    expect(fix.chiSquare).toBeLessThanOrEqual(cost(best) + 1e-9);
    expect(fix.chiSquare).toBeCloseTo(cost(fix.at), 6);
  });
});

describe("what gives no fix says why", () => {
  const at = (deg: number, known: LonLat): Sighting => ({ known, name: "Knott", deg, north: "true" });
  const east = direct(HERE, trueBearing(90), 1000);
  it.each([
    ["one bearing", [at(10, HERE)], /needs 2 to 50 bearings, not 1/],
    ["parallel bearings", [at(10, HERE), at(10.1, east)], /side by side/],
    ["bearings that draw apart", [at(160, HERE), at(200, east)], /meet nowhere/],
    ["no bearing at all", [at(10, HERE), at(Number.NaN, east)], /NaN° does not exist/],
    ["an error of nothing", [at(10, HERE), { ...at(40, east), errorDeg: 0 }], /error must be more than 0°/],
    ["no place", [at(10, HERE), at(40, [0, 91])], /Latitude 91° does not exist/],
  ] as const)("%s", (_, read, words) => {
    expect(() => resect(read, SETTINGS)).toThrow(words);
    expect(() => resect(read, SETTINGS)).toThrow(Fault);
  });

  it("a day that no model covers, for magnetic bearings", () => {
    const read = sightings([
      [0, 1000],
      [90, 1000],
    ]).map((sighting) => ({ ...sighting, north: "magnetic" as const }));
    expect(() => resect(read, usualFixSettings("2035-01-01"))).toThrow(/no magnetic model for 2035/);
    expect(codes(resect(read, SETTINGS))).toEqual(["two-only"]);
  });

  it("a compass that fails near the pole is told", () => {
    const there: LonLat = [-85, 86];
    const read = [0, 90].map((turn) => ({
      known: direct(there, trueBearing(turn), 1000),
      name: null,
      deg: normalise360(turn - declinationAt(there, 0, SETTINGS.date).deg),
      north: "magnetic" as const,
    }));
    expect(codes(resect(read, SETTINGS))).toContain("declination");
  });
});
