import { describe, expect, it } from "vitest";
import { gridCrossings } from "../../../core/terrain/grid-crossings.ts";

describe("a way over a grid", () => {
  it("crosses the lines between its ends, in order", () => {
    expect(gridCrossings([0.5, 0.25], [2.5, 0.25])).toEqual([0.25, 0.75]);
    // Columns 1 and 2 at 0.25 and 0.75, row 1 half way: worked by hand.
    expect(gridCrossings([0.5, 1.5], [2.5, 0.5])).toEqual([0.25, 0.5, 0.75]);
    expect(gridCrossings([2.5, 0.5], [0.5, 1.5])).toEqual([0.25, 0.5, 0.75]);
  });
  it("begins or ends on a line it starts from or reaches", () =>
    expect(gridCrossings([1, 0.5], [2, 0.5])).toEqual([0, 1]));
  it("within one square crosses none", () => expect(gridCrossings([-3.9, 7.1], [-3.2, 7.8])).toEqual([]));
  it("of no length crosses none", () => expect(gridCrossings([1, 1], [1, 1])).toEqual([]));
});
