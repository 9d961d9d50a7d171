import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Box, fanLines, slipBeside } from "../../../renderer/place/fan-layout.ts";

const ROOM: Box = { x0: 0, y0: 0, x1: 900, y1: 500 };
const seven = (text: string): number => text.length * 7;
const inside = fc.record({
  x: fc.double({ min: 0, max: 900, noNaN: true }),
  y: fc.double({ min: 0, max: 500, noNaN: true }),
});
const anywhere = fc.record({
  x: fc.double({ min: -3000, max: 4000, noNaN: true }),
  y: fc.double({ min: -3000, max: 4000, noNaN: true }),
  text: fc.constantFrom("Hill", "Long Fell, far 312° mag, 2.4 km", "Knott 5° mag, 610 m"),
});

const meet = (a: Box, b: Box): boolean =>
  a.x0 < b.x1 - 1e-9 && b.x0 < a.x1 - 1e-9 && a.y0 < b.y1 - 1e-9 && b.y0 < a.y1 - 1e-9;

describe("a fan of lines", () => {
  test("has no label on another, on what is taken, or outside, wherever the targets are", () => {
    const taken: Box[] = [{ x0: 0, y0: 300, x1: 300, y1: 500 }];
    fc.assert(
      fc.property(inside, fc.array(anywhere, { maxLength: 9 }), (from, targets) => {
        const lines = fanLines(from, targets, seven, { room: ROOM, lineHeight: 20, taken });
        expect(lines).toHaveLength(targets.length);
        const boxes = lines.flatMap(({ label, width }): Box[] =>
          label ? [{ x0: label.x, y0: label.y - 10, x1: label.x + width, y1: label.y + 10 }] : [],
        );
        for (const [i, box] of boxes.entries()) {
          expect(box.x0).toBeGreaterThanOrEqual(-1e-6);
          expect(box.y0).toBeGreaterThanOrEqual(-1e-6);
          expect(box.x1).toBeLessThanOrEqual(900 + 1e-6);
          expect(box.y1).toBeLessThanOrEqual(500 + 1e-6);
          for (const other of [...boxes.slice(i + 1), ...taken]) expect(meet(box, other)).toBe(false);
        }
      }),
    );
  });

  test("ends its lines at the target, or on the room's edge on the way to it", () => {
    fc.assert(
      fc.property(inside, anywhere, (from, target) => {
        const [line] = fanLines(from, [target], seven, { room: ROOM, lineHeight: 20, taken: [] });
        const { end, goesOn } = line!;
        const far = (a: { x: number; y: number }, b: { x: number; y: number }): number =>
          Math.hypot(a.x - b.x, a.y - b.y);
        // On the straight line: by way of the end it is no farther.
        expect(far(from, end) + far(end, target)).toBeCloseTo(far(from, target), 5);
        if (goesOn) {
          const onEdge = Math.min(end.x, end.y, 900 - end.x, 500 - end.y);
          expect(Math.abs(onEdge)).toBeLessThan(1e-6);
        } else expect(far(end, target)).toBeLessThan(1e-6);
      }),
    );
  });

  test("the first target gets its place where two want the same", () => {
    const target = { x: 600, y: 250, text: "First Hill 90° mag, 1.2 km" };
    const lines = fanLines({ x: 100, y: 250 }, [target, { ...target, text: "Second Hill" }], seven, {
      room: ROOM,
      lineHeight: 20,
      taken: [],
    });
    expect(lines[0]!.label!.x + lines[0]!.width / 2).toBeCloseTo(600);
    expect(lines[0]!.label!.y).toBeLessThan(250);
    expect(lines[1]!.label!.y).toBeGreaterThan(250);
  });

  test("has no labels when its place is out of sight", () => {
    const lines = fanLines({ x: -50, y: 20 }, [{ x: 300, y: 200, text: "Hill" }], seven, {
      room: ROOM,
      lineHeight: 20,
      taken: [],
    });
    expect(lines[0]!.label).toBeNull();
  });
});

describe("a slip beside its place", () => {
  test("stands to the right, else to the left, within the room, and never over the place", () => {
    fc.assert(
      fc.property(inside, (place) => {
        const size = { width: 300, height: 200 };
        const at = slipBeside(place, size, ROOM);
        if (!at) return;
        expect(at.x >= place.x + 10 || at.x + size.width <= place.x - 10).toBe(true);
        expect(at.y).toBeGreaterThanOrEqual(0);
        expect(at.y + size.height).toBeLessThanOrEqual(500);
      }),
    );
    expect(slipBeside({ x: 100, y: 250 }, { width: 300, height: 200 }, ROOM)!.x).toBeGreaterThan(100);
    expect(slipBeside({ x: 800, y: 250 }, { width: 300, height: 200 }, ROOM)!.x).toBeLessThan(500);
  });

  test("has none where the room is too small or the place is not in it", () => {
    expect(slipBeside({ x: 150, y: 100 }, { width: 300, height: 200 }, { ...ROOM, x1: 350 })).toBeNull();
    expect(slipBeside({ x: 950, y: 100 }, { width: 300, height: 200 }, ROOM)).toBeNull();
    expect(slipBeside({ x: 100, y: 100 }, { width: 300, height: 600 }, ROOM)).toBeNull();
  });
});
