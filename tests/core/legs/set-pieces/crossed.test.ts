/** What is crossed: lines with one right answer any instructor knows (common practice, no source). Every leg runs 1000 m east. */
import { describe, expect, test } from "vitest";
import { drawn } from "../support/line-map.ts";
import { walked } from "./walked.ts";

describe("what is crossed", () => {
  test("a stream drawn twice is one crossing, a road's two halves are one, a bend's two crossings are two", () => {
    const { crossings } = walked([
      drawn(
        "stream",
        [
          [200, -50],
          [200, 50],
        ],
        "Fern Beck",
      ),
      drawn(
        "stream",
        [
          [201, -50],
          [202, 50],
        ],
        "Fern Beck",
      ),
      drawn(
        "road",
        [
          [400, -50],
          [400, 50],
        ],
        "A1",
      ),
      drawn(
        "road",
        [
          [412, 50],
          [412, -50],
        ],
        "A1",
      ),
      drawn("path", [
        [600, -50],
        [605, 20],
        [612, 20],
        [616, -50],
      ]),
    ]);
    expect(crossings.map(({ kind, atM }) => [kind, Math.round(atM)])).toEqual([
      ["stream", 201],
      ["road", 406],
      ["path", 604],
      ["path", 613],
    ]);
  });

  test("a wall beside a road is a crossing of its own", () => {
    const { crossings } = walked([
      drawn("road", [
        [400, -50],
        [400, 50],
      ]),
      drawn("wall", [
        [403, -50],
        [403, 50],
      ]),
    ]);
    expect(crossings.map(({ kind }) => kind)).toEqual(["road", "wall"]);
  });

  test("contours are not on the list", () =>
    expect(
      walked([
        drawn("contour", [
          [400, -50],
          [400, 50],
        ]),
      ]).crossings,
    ).toEqual([]));

  test("through a wood: in and out", () => {
    const ring: [number, number][] = [
      [300, -100],
      [700, -100],
      [700, 100],
      [300, 100],
      [300, -100],
    ];
    expect(
      walked([drawn("woodEdge", ring, "High Wood")]).crossings.map(({ atM }) => Math.round(atM)),
    ).toEqual([300, 700]);
  });
});
