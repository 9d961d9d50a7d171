/** The odds' own arithmetic and chance. */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { evenDeviate, normalQuantile, walkerBase } from "../../../../core/legs/odds/deviates.ts";
import { cosine, lnOfShare, sine } from "../../../../core/legs/odds/exact-math.ts";
import { simulate } from "../../../../core/legs/odds/simulate.ts";
import { USUAL_SPREAD } from "../../../../core/legs/odds/spread.ts";
import { below } from "./support/normal.ts";

describe("arithmetic", () => {
  test("sine, cosine and logarithm agree with the engine's", () => {
    for (let x = -Math.PI; x <= Math.PI; x += 0.001) {
      expect(Math.abs(sine(x) - Math.sin(x))).toBeLessThan(1e-10);
      expect(Math.abs(cosine(x) - Math.cos(x))).toBeLessThan(1e-10);
    }
    for (let x = 1; x > 1e-10; x *= 0.97)
      expect(Math.abs(lnOfShare(x) - Math.log(x))).toBeLessThan(1e-12 * Math.max(1, -Math.log(x)));
  });

  // Percentage points of the normal distribution: Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.5, from memory.
  test.for([
    [0.75, 0.6744898],
    [0.9, 1.2815516],
    [0.95, 1.6448536],
    [0.975, 1.959964],
    [0.99, 2.3263479],
    [0.995, 2.5758293],
    [0.999, 3.0902323],
    [0.9999, 3.7190165],
    [0.99999, 4.2648908],
  ] as const)("a share of %s lies below %s", ([share, z]) => {
    expect(normalQuantile(share)).toBeCloseTo(z, 6);
    expect(normalQuantile(1 - share)).toBeCloseTo(-z, 6);
  });

  test("the quantile turns the integral of the density round", () => {
    for (let p = 0.001; p < 1; p += 0.001) expect(below(normalQuantile(p))).toBeCloseTo(p, 6);
  });

  test("nothing that the language leaves to the engine is used for walkers", () => {
    const folder = new URL("../../../../core/legs/odds/", import.meta.url);
    const loose = /Math\.(?!sqrt|abs|min|max|floor|ceil|round|imul|PI|LN2|SQRT1_2)\w+|\*\*(?![/*])\s*[\d-]/;
    const files = readdirSync(folder);
    expect(files.length).toBeGreaterThan(8);
    for (const name of files) {
      const code = readFileSync(new URL(name, folder), "utf8").replace(/\/\*\*[\s\S]*?\*\/|\/\/.*/g, "");
      expect(code.match(loose)?.[0], name).toBeUndefined();
    }
  });
});

describe("even deviates", () => {
  const COUNT = 20_000;
  /** Pearson's χ² of counts in 100 bins; 99 degrees of freedom, of which 99.99 % lie under 160 (Wilson and Hilferty's approximation). */
  const chiSquare = (draw: (i: number) => number): number => {
    const bins = new Float64Array(100);
    for (let i = 0; i < COUNT; i++) {
      const bin = Math.floor(draw(i) * 100);
      bins[bin] = (bins[bin] as number) + 1;
    }
    return bins.reduce((sum, n) => sum + (n - COUNT / 100) ** 2 / (COUNT / 100), 0);
  };

  test("are even over walkers, over purposes and over seeds", () => {
    for (const seed of [0, 1, 2, 1000]) {
      for (const purpose of [0, 1, 2, 30, 64, 128])
        expect(chiSquare((i) => evenDeviate(walkerBase(seed, i), purpose))).toBeLessThan(160);
      expect(chiSquare((i) => evenDeviate(walkerBase(seed, 5), i))).toBeLessThan(160);
    }
    expect(chiSquare((i) => evenDeviate(walkerBase(i, 5), 3))).toBeLessThan(160);
  });

  test("of different purposes have nothing to do with each other", () => {
    for (const [a, b] of [
      [0, 1],
      [1, 2],
      [3, 64],
      [0, 128],
    ] as const) {
      let sum = 0;
      for (let i = 0; i < COUNT; i++) {
        const base = walkerBase(9, i);
        sum += (evenDeviate(base, a) - 0.5) * (evenDeviate(base, b) - 0.5) * 12;
      }
      // A correlation of 20,000 independent pairs has a standard deviation of 0.007.
      expect(Math.abs(sum / COUNT)).toBeLessThan(0.03);
    }
  });
});

describe("seeds", () => {
  const run = (seed: number, walkers = 2000) =>
    simulate({ lengthM: 800 }, {}, USUAL_SPREAD, { seed, walkers });

  test("the same seed gives the same walkers, another seed others", () => {
    expect(run(5)).toEqual(run(5));
    expect(run(5).ends).not.toEqual(run(6).ends);
  });

  test("the first walkers of many are those of few", () => {
    expect(run(5, 2000).ends.slice(0, 1000)).toEqual(run(5, 500).ends);
  });

  test("shares of different seeds differ by under half a percentage point", () => {
    const found = Array.from({ length: 12 }, (_, seed) => run(seed, 10_000).find);
    expect(Math.max(...found) - Math.min(...found)).toBeLessThan(0.005);
  });

  // Written down once from this code: what it guards is that every machine and engine comes to the same.
  test("the walkers of seed 1 are the same everywhere", () => {
    const { ends } = run(1);
    const bits = new Uint32Array(ends.buffer);
    expect(bits.reduce((hash, word) => (Math.imul(hash, 31) + word) >>> 0, 7)).toBe(2_442_081_878);
  });
});
describe("what cannot be is refused", () => {
  test.for([
    ["a length", () => simulate({ lengthM: NaN })],
    ["a negative length", () => simulate({ lengthM: -1 })],
    ["half a walker", () => simulate({ lengthM: 1 }, {}, USUAL_SPREAD, { walkers: 1.5 })],
    ["no walkers", () => simulate({ lengthM: 1 }, {}, USUAL_SPREAD, { walkers: 0 })],
    ["a seed", () => simulate({ lengthM: 1 }, {}, USUAL_SPREAD, { seed: 0.5 })],
    ["a sight distance", () => simulate({ lengthM: 1 }, {}, { ...USUAL_SPREAD, sightM: -3 })],
    ["a pace error", () => simulate({ lengthM: 1 }, {}, { ...USUAL_SPREAD, paceError: 2 })],
    ["a line of one place", () => simulate({ lengthM: 1 }, { stop: [{ st: [1, 2], surely: 1, key: 1 }] })],
    [
      "a line without places",
      () => simulate({ lengthM: 1 }, { stop: [{ st: [1, 2, NaN, 3], surely: 1, key: 1 }] }),
    ],
  ] as const)("%s", ([, attempt]) => {
    expect(attempt).toThrow(expect.objectContaining({ name: "Fault", code: "bad-argument" }));
  });

  test("a leg without length is found by all", () => {
    expect(simulate({ lengthM: 0 })).toMatchObject({ find: 1, stopped: 0, missed: 0 });
  });
});
