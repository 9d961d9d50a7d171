import { expect, test } from "vitest";
import { offMap } from "../../../renderer/find/off-map.ts";

const BOX = [-133.22, 46.31, -133.14, 46.37] as const;

// Distances by GeodSolve -i -p 0 of GeographicLib 2.1.2 from the nearest place of the box, e.g.
// echo "46.37 -133.18 46.47 -133.18" | GeodSolve -i -p 0 (11116 m due north).
test.each([
  [[-133.18, 46.34], null],
  [[-133.22, 46.31], null],
  [[-133.18, 46.47], { side: "north", distanceM: 11116 }],
  [[-133.04, 46.34], { side: "east", distanceM: 7699 }],
  [[-133.32, 46.21], { side: "south-west", distanceM: 13528 }],
] as const)("%j", (at, expected) => {
  const off = offMap(at, BOX);
  expect(off?.side ?? null).toBe(expected?.side ?? null);
  if (expected) expect(Math.abs((off?.distanceM ?? Number.NaN) - expected.distanceM)).toBeLessThan(1);
});

// echo "52 -179.5 52 179.5" | GeodSolve -i -p 0: 68677 m. Round the back of the earth it would be thousands of km.
test("across the antimeridian the short way counts", () => {
  const off = offMap([179.5, 52], [-179.5, 51.5, -178.5, 52.5]);
  expect(off?.side).toBe("west");
  expect(Math.abs((off?.distanceM ?? Number.NaN) - 68677)).toBeLessThan(1);
});
