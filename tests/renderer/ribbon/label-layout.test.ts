import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type LabelRoom, longestThatFits, placeLabels } from "../../../renderer/ribbon/label-layout.ts";
import { placePointLabels } from "../../../renderer/ribbon/point-labels.ts";

const ROOM: LabelRoom = { left: 0, right: 1000, top: 0, lineHeight: 16 };
const seven = (text: string): number => text.length * 7;

const wanted = fc.array(
  fc.record({
    text: fc.constantFrom("stream", "path", "power line", "edge of the wood", "road"),
    x: fc.double({ min: 0, max: 1000, noNaN: true }),
    y: fc.double({ min: 60, max: 140, noNaN: true }),
    weight: fc.integer({ min: 0, max: 9 }),
  }),
  { maxLength: 40 },
);

describe("labels of crossings", () => {
  test("none lies on another, on a mark or outside, whatever is wanted", () => {
    fc.assert(
      fc.property(wanted, (labels) => {
        const placed = placeLabels(labels, seven, ROOM);
        for (const [i, a] of placed.entries()) {
          expect(a.left).toBeGreaterThanOrEqual(0);
          expect(a.left + a.width).toBeLessThanOrEqual(1000);
          for (const b of placed.slice(i + 1)) {
            const apartSideways = a.left + a.width <= b.left || b.left + b.width <= a.left;
            const apartUp = Math.abs(a.baseline - b.baseline) >= ROOM.lineHeight - 1e-9;
            expect(apartSideways || apartUp).toBe(true);
          }
          for (const { x, y } of labels) {
            const onMark = x > a.left && x < a.left + a.width && y > a.baseline - 12 && y < a.baseline;
            expect(onMark).toBe(false);
          }
        }
      }),
    );
  });

  test("the order in which they are found does not matter", () => {
    const labels = Array.from({ length: 12 }, (_, i) => ({
      text: `thing ${i}`,
      x: i * 30,
      y: 100,
      weight: (i * 7) % 5,
    }));
    const texts = (list: typeof labels): string[] =>
      placeLabels(list, seven, ROOM).map(({ wanted, left }) => `${wanted.text}@${left}`);
    expect(texts(labels.toReversed()).sort()).toEqual(texts(labels).sort());
  });

  test("of two that cannot both be shown the weightier is", () => {
    const narrow = { ...ROOM, right: 60, top: 76 };
    const labels = [
      { text: "path", x: 20, y: 100, weight: 1 },
      { text: "river", x: 24, y: 100, weight: 9 },
    ];
    expect(placeLabels(labels, seven, narrow).map(({ wanted }) => wanted.text)).toEqual(["river"]);
  });

  test("no label lies on the ground's line", () => {
    // Ground that rises to the right: 100 at x = 0, 50 at x = 100.
    const groundTop = (_: number, x1: number): number => 100 - x1 / 2;
    const [label] = placeLabels([{ text: "stream", x: 20, y: 90, weight: 1 }], seven, {
      ...ROOM,
      right: 100,
      groundTop,
    });
    expect(label).toBeDefined();
    if (label) expect(label.baseline).toBeLessThan(groundTop(label.left, label.left + label.width));
  });
});

describe("labels of points", () => {
  test("start and end are always named; between them names, else letters, none on another", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 600, noNaN: true }), { minLength: 2, maxLength: 60 }),
        (places) => {
          const points = places
            .sort((a, b) => a - b)
            .map((x, i) => ({ versions: [`Some place ${i}`, "ABC"[i % 3] as string], x }));
          const first = points[0] as (typeof points)[0];
          const last = points.at(-1) as (typeof points)[0];
          if (last.x - first.x < 300) return;
          const placed = placePointLabels(points, seven, { left: 0, right: 600, gap: 4 });
          expect(placed[0]?.text).toBe("Some place 0");
          expect(placed.at(-1)?.text).toBe(`Some place ${points.length - 1}`);
          for (const [i, a] of placed.entries()) {
            expect(a.middle - seven(a.text) / 2).toBeGreaterThanOrEqual(0);
            expect(a.middle + seven(a.text) / 2).toBeLessThanOrEqual(600);
            for (const b of placed.slice(i + 1))
              expect(Math.abs(a.middle - b.middle)).toBeGreaterThanOrEqual(
                (seven(a.text) + seven(b.text)) / 2 - 1e-9,
              );
          }
        },
      ),
    );
  });
});

test("of several versions of a text the longest that fits is taken, or none", () => {
  const versions = ["51° mag · 590 m · +52 −11 m", "51° mag · 590 m", "51°"];
  expect(longestThatFits(versions, 1000, seven)).toBe(versions[0]);
  expect(longestThatFits(versions, 110, seven)).toBe(versions[1]);
  expect(longestThatFits(versions, 10, seven)).toBe("");
});
