/** What to follow: lines with one right answer any instructor knows (common practice, no source). Every leg runs 1000 m east. */
import { describe, expect, test } from "vitest";
import type { LegFigures } from "../../../../core/legs/figures.ts";
import { drawn } from "../support/line-map.ts";
import { walked } from "./walked.ts";

describe("what to follow", () => {
  test("a stream 30 m to the right all the way: follow it with the stream on the right", () => {
    const { handrails } = walked([
      drawn(
        "stream",
        [
          [-100, -30],
          [1100, -30],
        ],
        "Fern Beck",
      ),
    ]);
    expect(handrails).toHaveLength(1);
    expect(handrails[0]).toMatchObject({ kind: "stream", name: "Fern Beck", side: "right" });
    expect(handrails[0]?.coverage).toBeCloseTo(1, 3);
    expect(handrails[0]?.meanOffsetM).toBeCloseTo(30, 1);
  });

  test("a wall on the left for the first 400 m: followed so far and no further", () => {
    const { handrails } = walked([
      drawn("wall", [
        [-50, 20],
        [400, 20],
        [400, 300],
      ]),
    ]);
    expect(handrails[0]).toMatchObject({ kind: "wall", side: "left" });
    expect(handrails[0]?.fromM).toBeCloseTo(0, 1);
    expect(handrails[0]?.toM).toBeGreaterThan(385);
    expect(handrails[0]?.toM).toBeLessThan(401);
  });

  test("a stream straight across is no handrail but a crossing", () => {
    const { handrails, crossings } = walked([
      drawn("stream", [
        [500, -400],
        [500, 400],
      ]),
    ]);
    expect(handrails).toEqual([]);
    expect(crossings.map(({ kind }) => kind)).toEqual(["stream"]);
  });

  test("a road 200 m aside is too far off", () =>
    expect(
      walked([
        drawn("road", [
          [0, 200],
          [1000, 200],
        ]),
      ]).handrails,
    ).toEqual([]));

  test("a wiggling stream is followed although no single reach of it runs along the leg", () => {
    // Reaches of 10 m at 45° to either side: beyond the 35° allowed, one by one.
    const zigzag = Array.from({ length: 140 }, (_, i): [number, number] => [
      -20 + i * 7.07,
      25 + (i % 2) * 7.07,
    ]);
    const { handrails } = walked([drawn("stream", zigzag)]);
    expect(handrails).toHaveLength(1);
    expect(handrails[0]?.coverage).toBeGreaterThan(0.9);
  });

  test("a path that crosses from left to right is followed on each side in turn", () => {
    const { handrails } = walked([
      drawn("path", [
        [0, 50],
        [1000, -50],
      ]),
    ]);
    expect(handrails.map(({ side }) => side).toSorted()).toEqual(["left", "right"]);
    const left = handrails.find(({ side }) => side === "left");
    expect(left?.toM).toBeCloseTo(500, 0);
  });

  test("a path that weaves about the leg is one handrail, on the side where most of it lies", () => {
    const weave = Array.from({ length: 51 }, (_, i): [number, number] => [i * 20, -2 + 6 * Math.sin(i)]);
    const { handrails } = walked([drawn("path", weave)]);
    expect(handrails).toHaveLength(1);
    expect(handrails[0]).toMatchObject({ side: "right" });
    expect(handrails[0]?.minOffsetM).toBe(0);
    expect(handrails[0]?.coverage).toBeGreaterThan(0.95);
  });

  test("a short break in a fence does not end it; a field's width does", () => {
    const gap = (m: number): LegFigures =>
      walked([
        drawn("fence", [
          [0, 20],
          [400, 20],
        ]),
        drawn("fence", [
          [400 + m, 20],
          [1000, 20],
        ]),
      ]);
    expect(gap(20).handrails).toHaveLength(1);
    expect(gap(20).handrails[0]?.coverage).toBeCloseTo(0.98, 3);
    expect(gap(150).handrails).toHaveLength(2);
  });

  test("the two carriageways of a dual road are one handrail", () => {
    const { handrails } = walked([
      drawn(
        "road",
        [
          [0, 30],
          [1000, 30],
        ],
        "A1",
      ),
      drawn(
        "road",
        [
          [1000, 42],
          [0, 42],
        ],
        "A1",
      ),
    ]);
    expect(handrails).toHaveLength(1);
    expect(handrails[0]?.meanOffsetM).toBeCloseTo(36, 0);
    expect(handrails[0]?.coverage).toBeCloseTo(1, 3);
  });

  test("of a valley line and the stream in it the stream is followed", () => {
    const { handrails } = walked([
      drawn("valley", [
        [0, 22],
        [1000, 22],
      ]),
      drawn("stream", [
        [0, 20],
        [1000, 20],
      ]),
    ]);
    expect(handrails.map(({ kind }) => kind)).toEqual(["stream"]);
  });

  test("a path under foot comes before a stream, a stream before a ridge", () => {
    const { handrails } = walked([
      drawn("ridge", [
        [0, -20],
        [1000, -20],
      ]),
      drawn("stream", [
        [0, 20],
        [1000, 20],
      ]),
      drawn("path", [
        [0, 18],
        [1000, 18],
      ]),
    ]);
    expect(handrails.map(({ kind }) => kind)).toEqual(["path", "stream", "ridge"]);
  });

  test("a contour, a cliff and a boundary are not followed", () => {
    const { handrails } = walked([
      drawn("contour", [
        [0, 10],
        [1000, 10],
      ]),
      drawn("cliff", [
        [0, 10],
        [1000, 10],
      ]),
      drawn("boundary", [
        [0, 10],
        [1000, 10],
      ]),
    ]);
    expect(handrails).toEqual([]);
  });
});
