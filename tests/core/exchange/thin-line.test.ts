/** Thinning held to geodesics: every dropped position is compared with points laid densely along its leg. */
import { describe, expect, it } from "vitest";
import { thinLine } from "../../../core/exchange/thin-line.ts";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { readExchange } from "../../../core/exchange/read-exchange.ts";
import { fixture } from "./support.ts";

/** Metres from the nearest place on the geodesic leg, by closing in on it: shares no formula with the program. */
function beside(from: LonLat, to: LonLat, p: LonLat): number {
  const leg = inverse(from, to);
  let [low, high] = [0, leg.distanceM];
  const far = (at: number): number => inverse(direct(from, leg.bearing, at), p).distanceM;
  for (let k = 0; k < 60; k++) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (far(a) < far(b)) high = b;
    else low = a;
  }
  return far((low + high) / 2);
}

async function track(): Promise<readonly LonLat[]> {
  return (await readExchange(fixture("route.gpx"), "route.gpx")).candidates[0]!.positions;
}

describe("a thinned line", () => {
  it.each([0, 1, 10, 50, 200])("keeps every position within %d m", async (toleranceM) => {
    const positions = await track();
    const { kept, largestM } = thinLine(positions, toleranceM);
    expect(kept[0]).toBe(0);
    expect(kept.at(-1)).toBe(positions.length - 1);
    let largest = 0;
    for (let k = 1; k < kept.length; k++)
      for (let i = kept[k - 1]! + 1; i < kept[k]!; i++)
        largest = Math.max(largest, beside(positions[kept[k - 1]!]!, positions[kept[k]!]!, positions[i]!));
    expect(largest).toBeLessThanOrEqual(toleranceM + 0.001);
    expect(largestM).toBeCloseTo(largest, 2);
  });

  it("has fewer positions the coarser it is", async () => {
    const positions = await track();
    const counts = [0, 1, 10, 50, 200].map((m) => thinLine(positions, m).kept.length);
    expect([...counts].sort((a, b) => b - a)).toEqual(counts);
    expect(counts[3]).toBeLessThan(positions.length / 2);
  });

  it("takes a long leg for the geodesic it is, not for a chord through the ground", () => {
    const from: LonLat = [10, 60];
    const { bearing, distanceM } = inverse(from, [11, 60.3]);
    const line = [0, 0.25, 0.5, 0.75, 1].map((share) => direct(from, bearing, share * distanceM));
    expect(thinLine(line, 0.05)).toMatchObject({ kept: [0, 4] });
  });

  it("refuses what is no tolerance", () => {
    expect(() =>
      thinLine(
        [
          [0, 0],
          [1, 1],
        ],
        Number.NaN,
      ),
    ).toThrow(/tolerance/);
  });
});
