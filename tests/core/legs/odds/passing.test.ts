import { describe, expect, test } from "vitest";
import { simulate } from "../../../../core/legs/odds/simulate.ts";
import { USUAL_SPREAD } from "../../../../core/legs/odds/spread.ts";
import { FOUND } from "../../../../core/legs/odds/walkers.ts";

describe("where walkers end", () => {
  // By the meaning of finding: who sees the target is at it or within sight of it, whether on the count or in going on.
  test("who finds the target ends within sight of it, also in passing it on the way to a line beyond", () => {
    const stop = [{ st: Float64Array.of(1000, -900, 1000, 900), key: 1, surely: 0.5 }];
    const run = simulate({ lengthM: 700 }, { stop }, USUAL_SPREAD, { walkers: 4000, seed: 3 });
    let found = 0;
    run.outcome.forEach((outcome, i) => {
      if (outcome !== FOUND) return;
      found++;
      const away = Math.hypot((run.ends[2 * i] as number) - 700, run.ends[2 * i + 1] as number);
      expect(away).toBeLessThanOrEqual(USUAL_SPREAD.sightM + 0.001);
    });
    expect(found).toBeGreaterThan(1000);
  });
});
