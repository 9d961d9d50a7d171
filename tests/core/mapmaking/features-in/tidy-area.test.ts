import { booleanPointInPolygon, kinks, lineIntersect, lineString, polygon as turfPolygon } from "@turf/turf";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { insideOf, isTied, tidyArea } from "../../../../core/mapmaking/features-in/tidy-area.ts";
import { twiceArea } from "../../../../core/mapmaking/tile-clip.ts";

const ring = (...xy: number[]): Int32Array => Int32Array.from([...xy, xy[0]!, xy[1]!]);
/** Area of polygons wound as tiles want them: outer rings count, holes count against. */
const area = (polygons: readonly (readonly Int32Array[])[]): number =>
  polygons.flat().reduce((sum, one) => sum + twiceArea(one), 0) / 2;

describe("areas made fit for tiles", () => {
  it("leaves a good one alone, wound as MVT 2.1 §4.3.4.4 says: outer ring positive, holes negative", () => {
    const square = ring(0, 0, 0, 10, 10, 10, 10, 0);
    const hole = ring(2, 2, 2, 4, 4, 4, 4, 2);
    const { polygons, how } = tidyArea([square, hole]);
    expect(how).toBe("fine");
    expect(polygons[0]!.map(twiceArea)).toEqual([200, -8]);
  });

  it("unties a bow tie into its two halves", () => {
    // Corners (0,0) (10,10) (10,0) (0,10): two triangles of 25 each.
    const { polygons, how } = tidyArea([ring(0, 0, 10, 10, 10, 0, 0, 10)]);
    expect(how).toBe("untied");
    expect(polygons.map((rings) => twiceArea(rings[0]!) / 2)).toEqual([25, 25]);
  });

  it("unties a ring that touches itself, a spike, and a hole that reaches out", () => {
    const eight = tidyArea([ring(0, 0, 10, 0, 10, 10, 5, 5, 0, 10, 5, 5)]);
    expect(eight.how).not.toBe("lost");
    const spike = tidyArea([ring(0, 0, 10, 0, 10, 10, 20, 10, 10, 10, 0, 10)]);
    expect([spike.how, area(spike.polygons)]).toEqual(["untied", 100]);
    const out = tidyArea([ring(0, 0, 10, 0, 10, 10, 0, 10), ring(5, 5, 15, 5, 15, 8, 5, 8)]);
    // The hole takes 5 × 3 of the square.
    expect([out.how, area(out.polygons)]).toEqual(["untied", 85]);
  });

  it("gives up soon on what is made to take for ever", () => {
    const begun = performance.now();
    // Every side of a star of 2001 corners crosses nearly all others: two million crossings.
    const star = Array.from({ length: 2001 }, (_, i) => (i * 1000 * 2 * Math.PI) / 2001);
    expect(
      tidyArea([ring(...star.flatMap((t) => [Math.round(1e6 * Math.cos(t)), Math.round(1e6 * Math.sin(t))]))])
        .how,
    ).toBe("lost");
    // Long slanting teeth side by side: no side crosses another, every box meets every other.
    const comb = Array.from({ length: 60_000 }, (_, i) =>
      i % 2 === 0 ? [2 * i, 0] : [2 * i + 900_000, 1_000_000],
    );
    tidyArea([ring(...comb.flat(), -1, -5)]);
    expect(performance.now() - begun).toBeLessThan(20_000);
  });

  it("drops what is too small for the grid", () => {
    expect(tidyArea([ring(1, 1, 1, 2, 1, 1)])).toEqual({ polygons: [], how: "fine" });
  });

  it("lets a hole touch its outer ring in one point, not in two", () => {
    const square = ring(0, 0, 10, 0, 10, 10, 0, 10);
    expect(isTied([square, ring(0, 5, 3, 4, 3, 6)])).toBe(false);
    expect(isTied([square, ring(0, 5, 5, 4, 10, 5, 5, 6)])).toBe(true);
  });

  it("gives polygons free of crossings whatever goes in, with the area that goes in wound around", () => {
    const corner = fc.integer({ min: 0, max: 60 });
    const corners = fc.array(fc.tuple(corner, corner), { minLength: 3, maxLength: 9 });
    fc.assert(
      fc.property(corners, (all) => {
        const tied = ring(...all.flat());
        const { polygons, how } = tidyArea([tied]);
        if (how === "lost") return;
        for (const rings of polygons) {
          const plain = rings.map((one) =>
            Array.from({ length: one.length / 2 }, (_, i) => [one[2 * i]!, one[2 * i + 1]!]),
          );
          // @turf/turf, written apart from ours. Two rings may touch in a point.
          for (const one of plain) expect(kinks(turfPolygon([one])).features).toHaveLength(0);
          plain.forEach((one, k) =>
            plain.slice(k + 1).forEach((other) => {
              const touching = lineIntersect(lineString(one), lineString(other)).features;
              expect(new Set(touching.map(({ geometry }) => geometry.coordinates.join())).size).toBeLessThan(
                2,
              );
            }),
          );
          expect(twiceArea(rings[0]!)).toBeGreaterThan(0);
          for (const hole of rings.slice(1)) expect(twiceArea(hole)).toBeLessThan(0);
        }
        // All that the ring winds around, by counting the squares of a fine net.
        const step = 0.5;
        let inside = 0;
        for (let y = step / 2; y < 60; y += step)
          for (let x = step / 3; x < 60; x += step) {
            let turns = 0;
            for (let i = 0; i + 3 < tied.length; i += 2) {
              const [x0, y0, x1, y1] = [tied[i]!, tied[i + 1]!, tied[i + 2]!, tied[i + 3]!];
              if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) turns += y1 > y0 ? 1 : -1;
            }
            if (turns !== 0) inside++;
          }
        // Crossings are rounded to whole units: each of up to 36 may move edges of up to 85 units by half a unit.
        expect(Math.abs(area(polygons) - inside * step * step)).toBeLessThan(120);
      }),
      { seed: 20261125, numRuns: 120 },
    );
  });

  it("finds a place inside for the name", () => {
    const rings = tidyArea([ring(0, 0, 100, 0, 100, 10, 10, 10, 10, 90, 100, 90, 100, 100, 0, 100)])
      .polygons[0]!;
    const plain = rings.map((one) =>
      Array.from({ length: one.length / 2 }, (_, i) => [one[2 * i]!, one[2 * i + 1]!]),
    );
    expect(booleanPointInPolygon([...insideOf(rings)], turfPolygon(plain))).toBe(true);
  });
});
