/** What a person is told goes from nothing to all once, in whatever order the parts come. Common practice, no source. */
import { expect, it } from "vitest";
import { wholeProgress } from "../../electron/services/map-progress.ts";

it.each([
  ["features first, then elevation", ["Reading features", "Reading elevation", "Drawing contours"]],
  ["elevation first, then features", ["Reading elevation", "Reading features", "Drawing contours"]],
  [
    "with missing heights filled",
    ["Reading elevation", "Filling missing heights", "Reading features", "Drawing contours"],
  ],
])("never goes back: %s", (_name, stages) => {
  let now = 0;
  const whole = wholeProgress(true, true, () => (now += 100));
  const told = stages.flatMap((stage) => [0, 0.5, 1].map((done) => whole({ stage, done, leftS: null })));
  const shares = told.map(({ done }) => done);
  expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  expect(shares[0]).toBe(0);
  expect(shares.at(-1)).toBeCloseTo(1, 12);
  expect(new Set(shares).size).toBeGreaterThan(5);
});

it("tells what is left from the whole and not from a part", () => {
  let now = 0;
  const whole = wholeProgress(false, false, () => now);
  expect(whole({ stage: "Reading elevation", done: 0, leftS: 0 }).leftS).toBeNull();
  now = 10_000;
  // A twentieth is reading, half of the rest is drawn: 0.525 in 10 s leaves 0.475, 9.05 s.
  expect(whole({ stage: "Drawing contours", done: 0.5, leftS: 1 }).leftS).toBeCloseTo(9.05, 2);
});
