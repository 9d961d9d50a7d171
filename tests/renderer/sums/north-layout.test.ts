import fc from "fast-check";
import { expect, test } from "vitest";
import { layRays, leaderOf, onRay } from "../../../renderer/sums/north-layout.ts";

const angle = fc.double({ min: -179.9, max: 179.9, noNaN: true });

test("rays keep their true angles, labels their order and their distance", () => {
  fc.assert(
    fc.property(angle, angle, (grid, magnetic) => {
      const laid = layRays(
        [
          { north: "true", deg: 0 },
          { north: "grid", deg: grid },
          { north: "magnetic", deg: magnetic },
        ],
        35,
      );
      const of = new Map(laid.map((ray) => [ray.north, ray.deg]));
      expect([of.get("true"), of.get("grid"), of.get("magnetic")]).toEqual([0, grid, magnetic]);
      laid.slice(1).forEach((ray, i) => {
        const before = laid[i]!;
        expect(ray.deg).toBeGreaterThanOrEqual(before.deg);
        expect(ray.labelDeg - before.labelDeg).toBeGreaterThanOrEqual(35 - 1e-9);
      });
      // No label is moved more than three crowded ones need.
      for (const ray of laid) expect(Math.abs(ray.labelDeg - ray.deg)).toBeLessThanOrEqual(70 + 1e-9);
    }),
  );
});

test("far apart nothing gives way; in one place all do, about the middle", () => {
  const wide = layRays(
    [
      { north: "true", deg: 0 },
      { north: "magnetic", deg: 60 },
    ],
    35,
  );
  expect(wide.map(({ labelDeg, leads }) => [labelDeg, leads])).toEqual([
    [0, false],
    [60, false],
  ]);
  const tight = layRays(
    [
      { north: "true", deg: 0 },
      { north: "grid", deg: 0 },
      { north: "magnetic", deg: 0 },
    ],
    35,
  );
  expect(tight.map(({ north, labelDeg }) => [north, labelDeg])).toEqual([
    ["true", -35],
    ["grid", 0],
    ["magnetic", 35],
  ]);
});

test("north is up, east to the right; a leader ends on its label's edge", () => {
  expect(onRay(0, 10)[1]).toBe(-10);
  expect(onRay(90, 10)[0]).toBeCloseTo(10, 12);
  const [ray] = layRays(
    [
      { north: "true", deg: 0 },
      { north: "grid", deg: 0 },
    ],
    40,
  );
  const leader = leaderOf(ray!, 100, { radius: 150, width: 60, height: 20 });
  const [x, y] = onRay(-20, 150);
  expect(leader?.to[0]).toBeCloseTo(x + 30, 9);
  expect(leader?.to[1]).toBeCloseTo(y + 10, 9);
});
