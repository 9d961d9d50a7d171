import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { oddsWords } from "../../../core/legs/aid-words.ts";
import { of100 } from "../../../renderer/advice/of-100.ts";

const shares = fc
  .tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }))
  .map(([a, b]) => {
    const [low, high] = [Math.min(a, b), Math.max(a, b)];
    return { find: low, stopped: high - low, missed: 1 - high };
  });

describe("walkers of a hundred", () => {
  test("always add up, are whole, and each is within one of its share", () => {
    fc.assert(
      fc.property(shares, (odds) => {
        const { find, stopped, missed } = of100(odds);
        expect(find + stopped + missed).toBe(100);
        for (const [whole, share] of [
          [find, odds.find],
          [stopped, odds.stopped],
          [missed, odds.missed],
        ] as const) {
          expect(Number.isInteger(whole)).toBe(true);
          expect(whole).toBeGreaterThanOrEqual(0);
          expect(Math.abs(whole - share * 100)).toBeLessThanOrEqual(1.0001);
        }
      }),
    );
  });

  test("are those of the printed table", () => {
    fc.assert(
      fc.property(shares, (odds) => {
        const printed = oddsWords({ odds: { ...odds, walkers: 10_000, seed: 1 } });
        const { find, stopped, missed } = of100(odds);
        expect(printed.match(/\d+/g)?.map(Number)).toEqual([find, 100, stopped, missed]);
      }),
    );
  });
});
