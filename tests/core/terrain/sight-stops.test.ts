import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { sightAlong } from "../../../core/terrain/line-of-sight.ts";
import { sightStops } from "../../../core/terrain/sight-stops.ts";

const profile = (stepM: number, heights: readonly number[]) => ({
  distanceM: Float64Array.from(heights, (_, i) => i * stepM),
  elevationM: Float64Array.from(heights),
  errorM: null as number | null,
});

describe("places to sight on from", () => {
  it("are none on a plane, level or tilted, and on a hollow", () => {
    for (const slope of [0, 0.2, -0.4])
      expect(
        sightStops(
          profile(
            10,
            Array.from({ length: 200 }, (_, i) => 10 * slope * i),
          ),
        ).stopsM,
      ).toEqual([]);
    expect(
      sightStops(
        profile(
          10,
          Array.from({ length: 101 }, (_, i) => (i - 50) ** 2 / 20),
        ),
      ).stopsM,
    ).toEqual([]);
  });

  it("over a roof is its ridge, to the sample", () => {
    // 20 % up for 500 m, 20 % down for 500 m. Seen from the start with eye and mark at 1.6 m: the line over the ridge
    // rises at (100 − 1.6) / 500 = 0.1968, so that the mark is seen as far past the ridge as 1.6 / (0.1968 + 0.2) = 4.03 m.
    const roof = profile(
      1,
      Array.from({ length: 1001 }, (_, i) => 100 - Math.abs(i - 500) / 5),
    );
    expect(sightStops(roof).stopsM).toEqual([504]);
    expect(sightStops(roof, { targetM: 0 }).stopsM).toEqual([500]);
  });

  it("over three roofs are on every ridge, and not in the dips between", () => {
    // 50 m, 60 m and 50 m high: from the first ridge the second hides the third.
    const saw = profile(
      1,
      Array.from(
        { length: 1201 },
        (_, i) => ((200 - Math.abs((i % 400) - 200)) / 4) * (i >= 400 && i < 800 ? 1.2 : 1),
      ),
    );
    const { stopsM } = sightStops(saw, { targetM: 0 });
    expect(stopsM).toEqual([200, 600, 1000]);
  });

  it("each see the next, and nothing farther, by sight along what is left of the profile", () => {
    let seed = 29;
    for (let k = 0; k < 30; k++) {
      let h = 0;
      const p = profile(
        10,
        Array.from({ length: 120 }, () => (h += ((seed = (seed * 48271) % 2147483647) % 100) / 10 - 4.95)),
      );
      const stops = [0, ...sightStops(p).stopsM!, 1190];
      stops.slice(1).forEach((to, i) => {
        const first = stops[i]! / 10;
        const rest = (last?: number) => ({
          distanceM: p.distanceM.slice(first, last).map((d) => d - stops[i]!),
          elevationM: p.elevationM.slice(first, last),
          errorM: null,
        });
        expect(sightAlong(rest()).farthestM).toBe(to - stops[i]!);
        expect(sightAlong(rest(to / 10 + 1)).targetVisible).toBe(true);
      });
    }
  });

  it("are not known where heights are missing or from contours alone", () => {
    expect(sightStops(profile(10, [0, Number.NaN, 0])).reason).toContain("missing");
    const unsure = sightStops({ ...profile(10, [0, 1, 0]), errorM: 5 });
    expect(unsure).toMatchObject({ stopsM: null });
    expect(unsure.reason).toContain("contours");
    expect(sightStops(profile(10, [])).stopsM).toBeNull();
    expect(sightStops(profile(10, [5])).stopsM).toEqual([]);
    expect(() => sightStops(profile(10, [0, 0]), { eyeM: -1 })).toThrow(Fault);
  });
});
