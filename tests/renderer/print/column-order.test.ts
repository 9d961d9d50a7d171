import fc from "fast-check";
import { expect, it } from "vitest";
import { moved, placeFor, without } from "../../../renderer/print/column-order.ts";

const list = fc.uniqueArray(fc.string({ minLength: 1 }), { minLength: 1, maxLength: 12 });

it("moves one column and leaves the others in their order", () => {
  fc.assert(
    fc.property(list, fc.nat(11), fc.integer({ min: -3, max: 14 }), (columns, at, to) => {
      const from = at % columns.length;
      const after = moved(columns, from, to);
      expect(after.indexOf(columns[from] as string)).toBe(Math.max(0, Math.min(columns.length - 1, to)));
      expect(after.filter((id) => id !== columns[from])).toEqual(without(columns, from));
    }),
  );
});

it("drops a column where the pointer is among the others' middles", () => {
  const middles = [10, 30, 50, 70];
  expect(placeFor(0, middles, 2)).toBe(0);
  expect(placeFor(31, middles, 2)).toBe(2);
  expect(placeFor(52, middles, 0)).toBe(2);
  expect(placeFor(99, middles, 0)).toBe(3);
  // Held where it is, a column stays.
  for (const [i, middle] of middles.entries()) expect(placeFor(middle, middles, i)).toBe(i);
});
