/** What stops: lines with one right answer any instructor knows (common practice, no source). Every leg runs 1000 m east. */
import { describe, expect, test } from "vitest";
import { drawn, hills } from "../support/line-map.ts";
import { walked } from "./walked.ts";

describe("what stops", () => {
  test("a road across the way 200 m beyond: gone 200 m too far", () => {
    const { backstop, notes } = walked([
      drawn(
        "road",
        [
          [1200, -500],
          [1200, 500],
        ],
        "Moor Road",
      ),
    ]);
    expect(backstop).toMatchObject({ kind: "road", name: "Moor Road" });
    expect(backstop?.beyondM).toBeCloseTo(200, 1);
    expect(backstop?.stoppedShare).toBeCloseTo(1, 6);
    expect(backstop?.crossingDeg).toBeGreaterThan(85);
    expect(notes.join(" ")).not.toContain("Nothing");
  });

  test("nothing anywhere: no backstop, and it says how far it looked", () => {
    const { backstop, notes, handrails, crossings } = walked([]);
    expect([backstop, handrails, crossings]).toEqual([null, [], []]);
    expect(notes).toContain("Nothing within 500 m beyond the target stops a walker who goes too far.");
  });

  test("a road that ends before the way of those who drift left stops only part", () => {
    const { backstop, notes } = walked([
      drawn("road", [
        [1150, -500],
        [1150, 20],
      ]),
    ]);
    expect(backstop?.stoppedShare).toBeGreaterThan(0.5);
    expect(backstop?.stoppedShare).toBeLessThan(0.9);
    expect(notes.join(" ")).toMatch(/stops only \d\d % of walkers/);
  });

  test("a wall off to one side stops hardly anyone and is not called a backstop", () => {
    const { backstop, notes } = walked([
      drawn("wall", [
        [1150, 60],
        [1150, 500],
      ]),
    ]);
    expect(backstop).toBeNull();
    expect(notes.join(" ")).toMatch(/Nothing within 500 m .*the wall stops only \d+ %/);
  });

  test("the nearer of two roads, not the bigger", () => {
    const { backstop } = walked([
      drawn(
        "road",
        [
          [1400, -500],
          [1400, 500],
        ],
        "far",
      ),
      drawn(
        "path",
        [
          [1100, -500],
          [1100, 500],
        ],
        "near",
      ),
    ]);
    expect(backstop?.name).toBe("near");
  });

  test("a ridge line gives way to a road behind it", () => {
    const { backstop } = walked([
      drawn("ridge", [
        [1100, -500],
        [1100, 500],
      ]),
      drawn("road", [
        [1300, -500],
        [1300, 500],
      ]),
    ]);
    expect(backstop?.kind).toBe("road");
  });

  test("a line along the way stops nobody", () =>
    expect(
      walked([
        drawn("stream", [
          [800, 5],
          [1500, 40],
        ]),
      ]).backstop,
    ).toBeNull());

  test("a line crossed before the target is no backstop", () =>
    expect(
      walked([
        drawn("road", [
          [900, -500],
          [900, 500],
        ]),
      ]).backstop,
    ).toBeNull());

  test("a target on a wood edge: the edge is the stop, at the target, and one must know which way to turn", () => {
    const { backstop, crossings, notes } = walked([
      drawn(
        "woodEdge",
        [
          [990, -300],
          [1003, 0],
          [1010, 300],
        ],
        "High Wood",
      ),
    ]);
    expect(backstop).toMatchObject({ kind: "woodEdge", name: "High Wood", beyondM: 0 });
    expect(backstop?.stoppedShare).toBeCloseTo(1, 6);
    expect(crossings).toEqual([]); // the target lies 3 m before it
    expect(notes.join(" ")).toContain("know which way to turn");
  });

  test("a road drawn in two parts that meet is one backstop", () => {
    const { backstop } = walked([
      drawn("road", [
        [1100, -500],
        [1100, 0],
      ]),
      drawn("road", [
        [1100, 0],
        [1100, 500],
      ]),
    ]);
    expect(backstop?.stoppedShare).toBeCloseTo(1, 6);
    expect(backstop?.stretches).toHaveLength(2);
  });

  test("a cliff is never a backstop", () =>
    expect(
      walked([
        drawn("cliff", [
          [1100, -500],
          [1100, 500],
        ]),
      ]).backstop,
    ).toBeNull());

  test("ground that rises beyond flat ground stops where no line does", () => {
    const rising = hills((e) => (e < 1120 ? 100 : 100 + (e - 1120) * 0.4)); // 21.8°
    const { backstop } = walked([], rising);
    expect(backstop?.kind).toBe("rise");
    // The 50 m that climb at 15° on average begin a little before the foot: 0.268 / 0.4 of them on the slope.
    expect(backstop?.beyondM).toBeGreaterThan(95);
    expect(backstop?.beyondM).toBeLessThanOrEqual(120);
    expect(
      walked(
        [
          drawn("road", [
            [1300, -500],
            [1300, 500],
          ]),
        ],
        rising,
      ).backstop?.kind,
    ).toBe("road");
  });

  test("ground that drops like a cliff is not offered as a stop", () => {
    expect(
      walked(
        [],
        hills((e) => (e < 1120 ? 500 : 500 - (e - 1120) * 2)),
      ).backstop,
    ).toBeNull();
  });
});
