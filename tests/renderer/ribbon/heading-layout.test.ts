import { describe, expect, test } from "vitest";
import { placeHeadings } from "../../../renderer/ribbon/heading-layout.ts";

const widths = { bearing: (text: string) => text.length * 8, rest: (text: string) => text.length * 6 };
const room = { left: 0, right: 600, gap: 10 };
const rests = [" mag · 590 m · +52 −11 m", " mag · 590 m", " mag", ""];
const leg = (n: number, x0: number, x1: number) => ({ leg: n, x0, x1, bearing: "151°", rests });

describe("headings over the legs", () => {
  test("say as much as there is room for, down to nothing", () => {
    const placed = placeHeadings(
      [leg(0, 0, 300), leg(1, 300, 420), leg(2, 420, 480), leg(3, 480, 490)],
      null,
      widths,
      room,
    );
    expect(placed.map(({ leg, rest }) => [leg, rest])).toEqual([
      [0, rests[0]],
      [1, rests[1]],
      [2, ""],
    ]);
  });

  test("the shown leg has one however short it is, and its neighbours give way", () => {
    const legs = Array.from({ length: 60 }, (_, i) => leg(i, i * 10, i * 10 + 10));
    const placed = placeHeadings(legs, 30, widths, room);
    expect(placed.map(({ leg }) => leg)).toEqual([30]);
    const wide = placeHeadings([leg(0, 0, 100), leg(1, 100, 104), leg(2, 104, 300)], 1, widths, room);
    expect(wide.map(({ leg }) => leg)).toEqual([0, 1, 2]);
    const ends = wide.map(({ middle, bearing, rest }) => {
      const half = (widths.bearing(bearing) + widths.rest(rest)) / 2;
      return [middle - half, middle + half] as const;
    });
    for (const [i, [, right]] of ends.slice(0, -1).entries())
      expect(right).toBeLessThanOrEqual(ends[i + 1]?.[0] ?? 0);
  });

  test("at the ends it is held within the ribbon", () => {
    const [first] = placeHeadings([leg(0, 0, 4)], 0, widths, room);
    const [last] = placeHeadings([leg(0, 596, 600)], 0, widths, room);
    const half = (32 + 24) / 2;
    expect(first?.middle).toBeGreaterThanOrEqual(half);
    expect(last?.middle).toBeLessThanOrEqual(600 - half);
  });
});
