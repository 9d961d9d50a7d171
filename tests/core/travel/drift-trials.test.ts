/**
 * Figures of drift trials against Python: statistics.mean and statistics.stdev of degrees(atan2(aside, distance)), scipy.stats
 * t.ppf(0.975, n − 1) and chi2.ppf([0.025, 0.975], n − 1), computed once and written down here.
 */
import { describe, expect, it } from "vitest";
import { sideSpreadM } from "../../../core/legs/odds/spread.ts";
import { driftFigures, driftForOdds, type DriftTrial } from "../../../core/travel/drift-trials.ts";

const trials = (...pairs: readonly (readonly [distanceM: number, asideM: number])[]): DriftTrial[] =>
  pairs.map(([distanceM, asideM]) => ({ steering: "marks", distanceM, asideM }));

const SIX = trials([100, 4], [100, -6], [200, 9], [150, 2], [100, -3], [200, 14]);

describe("drift trials", () => {
  it("give mean, spread and their uncertainty as Python's statistics and scipy do", () => {
    const found = driftFigures(SIX);
    expect(found.biasDeg).toBeCloseTo(0.7472108184067938, 10);
    expect(found.spreadDeg).toBeCloseTo(2.824718966786692, 10);
    expect(found.offDeg).toBeCloseTo(2.6846827947167013, 10);
    // 2.5705818356363146 s/√6, and s √(5/χ²) with χ² of 12.83250199 and 0.83121161.
    expect(found.biasWithinDeg).toBeCloseTo((2.5705818356363146 * 2.824718966786692) / Math.sqrt(6), 8);
    expect(found.spreadFromToDeg?.[0]).toBeCloseTo(2.824718966786692 * Math.sqrt(5 / 12.83250199), 6);
    expect(found.spreadFromToDeg?.[1]).toBeCloseTo(2.824718966786692 * Math.sqrt(5 / 0.83121161), 6);
    expect(found.leans).toBe(false);
    expect(found.meanDistanceM).toBeCloseTo(850 / 6, 9);
  });

  // t and chi-square of NIST/SEMATECH e-Handbook, tables 1.3.6.7.2 and 1.3.6.7.4, to the figures printed there.
  it.each([
    [1, 12.706, 0.001, 5.024],
    [2, 4.303, 0.051, 7.378],
    [4, 2.776, 0.484, 11.143],
    [9, 2.262, 2.7, 19.023],
    [19, 2.093, 8.907, 32.852],
    [30, 2.042, 16.791, 46.979],
  ])("use the tabled quantiles for %d degrees of freedom", (df, t, low, high) => {
    const found = driftFigures(
      trials(...Array.from({ length: df + 1 }, (_, i) => [100, i % 2 ? 3 : -3] as const)),
    );
    const s = found.spreadDeg as number;
    expect(((found.biasWithinDeg as number) * Math.sqrt(df + 1)) / s).toBeCloseTo(t, 3);
    const [from, to] = found.spreadFromToDeg as readonly [number, number];
    expect(df / (from / s) ** 2).toBeCloseTo(high, 2);
    expect(df / (to / s) ** 2).toBeCloseTo(low, 2);
  });

  it("tell a leaning from chance", () => {
    expect(driftFigures(trials([100, 5], [100, 6], [100, 5.5], [100, 6.5])).leans).toBe(true);
    expect(driftFigures(trials([100, -9], [100, 6], [100, 5.5], [100, 6.5])).leans).toBe(false);
  });

  // navigation-error tables: 1° is 1.746 m per 100 m, 5.711° is 10.001 m, by the tangent.
  it.each([
    [1.746, 1],
    [3.492, 2],
    [8.749, 5],
    [10.001, 5.711],
    [17.633, 10],
  ])("%d m aside in 100 m is %d°", (asideM, deg) => {
    expect(driftFigures(trials([100, asideM])).biasDeg).toBeCloseTo(deg, 2);
  });

  it("make the walkers of the odds stray as far as the person did", () => {
    const usual = { settingDeg: 2, hopDeg: 3, hopM: 50 };
    for (const meanDistanceM of [50, 100, 400]) {
      const mine = driftForOdds({ offDeg: 6, meanDistanceM }, usual);
      const side = sideSpreadM({ ...usual, ...mine }, meanDistanceM);
      // Small angles; the settings are kept to tenths of a degree.
      expect(Math.abs(side - (meanDistanceM * 6 * Math.PI) / 180)).toBeLessThan(meanDistanceM * 0.003);
      expect(mine.coneDeg).toBe(12);
    }
  });

  it("refuse what cannot be, and one trial has no spread", () => {
    expect(() => driftFigures([])).toThrow(/at least one trial/);
    expect(() => driftFigures(trials([0, 1]))).toThrow(/more than 0/);
    expect(() => driftFigures(trials([100, 120]))).toThrow(/another bearing/);
    expect(() => driftFigures(trials([100, Number.NaN]))).toThrow(/another bearing/);
    expect(driftFigures(trials([100, 3]))).toMatchObject({
      spreadDeg: null,
      biasWithinDeg: null,
      leans: false,
    });
  });
});
