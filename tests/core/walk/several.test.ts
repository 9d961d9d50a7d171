import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addPoint, setAimOff } from "../../../core/walk/edits.ts";
import { joinWalks, reorderPoint, splitWalk } from "../../../core/walk/several.ts";
import { MAX_POINTS } from "../../../core/walk/walk-rules.ts";
import { emptyWalk, type Walk } from "../../../core/walk/walk.ts";

/** Points some 100 m apart, so that no two are one place. */
const walkOf = (count: number, from = 0): Walk =>
  Array.from({ length: count }, (_, i) => from + i).reduce(
    (walk, i) => addPoint(walk, [8 + i * 0.0013, 46.5], `P${i}`),
    emptyWalk("2026-11-27"),
  );
const names = ({ points }: Walk): (string | null)[] => points.map(({ name }) => name);

describe("a walk cut and put together again", () => {
  test("is the walk there was, at whatever point between its ends it is cut", () => {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 3, max: 12 })
          .chain((n) => fc.tuple(fc.constant(n), fc.integer({ min: 1, max: n - 2 }))),
        ([count, at]) => {
          const plain = walkOf(count);
          const walk = setAimOff(plain, plain.points[at]?.id as string, true);
          const [first, second] = splitWalk(walk, walk.points[at]?.id as string);
          expect([first.points.length, second.points.length]).toEqual([at + 1, count - at]);
          // The leg that was aimed off starts at the cut: it is the second part's.
          expect([first.points.at(-1)?.aimOff, second.points[0]?.aimOff]).toEqual([false, true]);
          const joined = joinWalks(first, second);
          expect(names(joined)).toEqual(names(walk));
          expect(joined.points.map(({ aimOff }) => aimOff)).toEqual(walk.points.map(({ aimOff }) => aimOff));
          expect(new Set(joined.points.map(({ id }) => id)).size).toBe(count);
        },
      ),
    );
  });

  test("is not cut at its ends, nor at a point it does not have", () => {
    const walk = walkOf(3);
    for (const id of [walk.points[0]?.id, walk.points[2]?.id, "p99"])
      expect(() => splitWalk(walk, id as string)).toThrow();
  });

  test("walks that do not meet keep all their points; more than a walk holds are refused", () => {
    expect(names(joinWalks(walkOf(2), walkOf(2, 5)))).toEqual(["P0", "P1", "P5", "P6"]);
    expect(names(joinWalks(emptyWalk("2026-11-27"), walkOf(2)))).toEqual(["P0", "P1"]);
    const half = Math.ceil(MAX_POINTS / 2) + 1;
    const many: Walk = {
      ...walkOf(1),
      points: Array.from({ length: half }, () => walkOf(1).points[0] as never),
    };
    expect(() =>
      joinWalks(many, { ...many, points: many.points.map((p) => ({ ...p, lonLat: [9, 47] })) }),
    ).toThrow(`at most ${MAX_POINTS}`);
  });
});

test("a point put elsewhere leaves the order of the others as it is", () => {
  const walk = walkOf(5);
  expect(names(reorderPoint(walk, walk.points[1]?.id as string, 3))).toEqual(["P0", "P2", "P3", "P1", "P4"]);
  expect(names(reorderPoint(walk, walk.points[4]?.id as string, 0))).toEqual(["P4", "P0", "P1", "P2", "P3"]);
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 4 }), (from, to) => {
      const id = walk.points[from]?.id as string;
      const moved = reorderPoint(walk, id, to);
      expect(moved.points[to]?.id).toBe(id);
      const rest = (w: Walk) => names(w).filter((name) => name !== `P${from}`);
      expect(rest(moved)).toEqual(rest(walk));
      expect(reorderPoint(moved, id, from)).toEqual(walk);
    }),
  );
  expect(() => reorderPoint(walk, walk.points[0]?.id as string, 5)).toThrow("no place 5");
});
