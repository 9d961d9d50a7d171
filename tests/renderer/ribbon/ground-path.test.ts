import { expect, test } from "vitest";
import { groundPath } from "../../../renderer/ribbon/ground-path.ts";
import { ribbonScale } from "../../../renderer/ribbon/ribbon-scale.ts";

const scale = ribbonScale({ left: 0, right: 500, top: 0, bottom: 100 }, 5000, 0, 100, "metric");
const places = (path: string): number[][] => path.split("L").map((place) => place.split(" ").map(Number));

test("ten thousand samples become a few a pixel, and the highest and lowest place stay", () => {
  const stretch = Array.from(
    { length: 10_001 },
    (_, i) => [i / 2, i === 7777 ? 100 : i === 1234 ? 0 : 50] as const,
  );
  const path = places(groundPath(stretch, scale));
  expect(path.length).toBeLessThan(4 * 500);
  expect(Math.min(...path.map(([, y]) => y ?? NaN))).toBeCloseTo(scale.y(100), 1);
  expect(Math.max(...path.map(([, y]) => y ?? NaN))).toBeCloseTo(scale.y(0), 1);
  const xs = path.map(([x]) => x ?? NaN);
  expect(xs).toEqual(xs.toSorted((a, b) => a - b));
  expect([xs[0], xs.at(-1)]).toEqual([0, 500]);
});

test("few samples are kept as they are", () => {
  const stretch = [
    [0, 10],
    [2500, 60],
    [5000, 20],
  ] as const;
  expect(places(groundPath(stretch, scale)).map(([x]) => x)).toEqual([0, 250, 500]);
});

test("one place is no line", () => {
  expect(groundPath([[0, 10]], scale)).toBe("");
});
