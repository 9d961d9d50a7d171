import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clipLine, joinPieces, type Piece, type Vertex, type Window } from "../../../core/map/clip-line.ts";
import { clipRing } from "../../../core/map/clip-ring.ts";

// Nine tiles of eight units, and lines on whole units among them: vertices on edges and corners and stretches along
// edges are common rather than rare.
const SIDE = 8;
const WINDOWS: Window[] = Array.from({ length: 9 }, (_, i) => {
  const [x0, y0] = [(i % 3) * SIDE, Math.floor(i / 3) * SIDE];
  return { x0, y0, x1: x0 + SIDE, y1: y0 + SIDE };
});
const vertex = fc.record({
  x: fc.integer({ min: 0, max: 3 * SIDE - 1 }),
  y: fc.integer({ min: 0, max: 3 * SIDE - 1 }),
});
const polyline = fc.array(vertex, { minLength: 2, maxLength: 12 });

const lengthOf = (line: readonly Vertex[]): number =>
  line.reduce((sum, b, i) => (i === 0 ? 0 : sum + Math.hypot(b.x - line[i - 1]!.x, b.y - line[i - 1]!.y)), 0);
const verticesOf = (piece: Piece): Vertex[] =>
  Array.from({ length: piece.length / 2 }, (_, i) => ({ x: piece[2 * i]!, y: piece[2 * i + 1]! }));
const total = (pieces: readonly Piece[]): number =>
  pieces.reduce((sum, p) => sum + lengthOf(verticesOf(p)), 0);
const along = (a: Vertex, b: Vertex): boolean =>
  (a.x === b.x && a.x % SIDE === 0) || (a.y === b.y && a.y % SIDE === 0);

describe("lines cut to tiles", () => {
  it("keep their length over all tiles: nothing twice, nothing lost", () =>
    fc.assert(
      fc.property(polyline, (line) => {
        const cut = WINDOWS.reduce((sum, w) => sum + total(clipLine(line, w, false)), 0);
        expect(cut).toBeCloseTo(lengthOf(line), 9);
      }),
    ));

  it("stay within their tile, and no piece repeats a position", () =>
    fc.assert(
      fc.property(polyline, fc.constantFrom(...WINDOWS), (line, w) => {
        for (const piece of clipLine(line, w, false).map(verticesOf)) {
          expect(piece.length).toBeGreaterThanOrEqual(2);
          piece.forEach((p, i) => {
            expect(p.x >= w.x0 && p.x <= w.x1 && p.y >= w.y0 && p.y <= w.y1).toBe(true);
            if (i > 0) expect(p.x === piece[i - 1]!.x && p.y === piece[i - 1]!.y).toBe(false);
          });
        }
      }),
    ));

  it("joined end to end keep their length", () =>
    fc.assert(
      fc.property(polyline, fc.constantFrom(...WINDOWS), (line, w) => {
        const pieces = clipLine(line, w, false);
        const before = total(pieces);
        expect(total(joinPieces(pieces, w))).toBeCloseTo(before, 9);
      }),
    ));

  it("of an area's edge leave out just what runs along tile edges", () =>
    fc.assert(
      fc.property(fc.array(vertex, { minLength: 3, maxLength: 12 }), (corners) => {
        const ring = [...corners, corners[0]!];
        const kept = ring.reduce(
          (sum, b, i) => (i > 0 && !along(ring[i - 1]!, b) ? sum + lengthOf([ring[i - 1]!, b]) : sum),
          0,
        );
        const cut = WINDOWS.reduce((sum, w) => sum + total(clipLine(ring, w, true)), 0);
        expect(cut).toBeCloseTo(kept, 9);
      }),
    ));

  it("a ring that begins inside a tile and leaves it is one piece there, not two", () => {
    const ring = [
      { x: 4, y: 4 },
      { x: 12, y: 4 },
      { x: 12, y: 6 },
      { x: 4, y: 6 },
      { x: 4, y: 4 },
    ];
    expect(clipLine(ring, WINDOWS[0]!, true)).toEqual([[8, 6, 4, 6, 4, 4, 8, 4]]);
  });

  it("a closed line comes together again where it begins", () => {
    const line = [
      { x: 4, y: 4 },
      { x: 12, y: 4 },
      { x: 12, y: 6 },
      { x: 4, y: 6 },
      { x: 4, y: 4 },
    ];
    expect(joinPieces(clipLine(line, WINDOWS[0]!, false), WINDOWS[0]!)).toEqual([[8, 6, 4, 6, 4, 4, 8, 4]]);
  });
});

describe("areas cut to tiles", () => {
  const areaOf = (p: readonly number[]): number => {
    let twice = 0;
    for (let i = 2; i < p.length; i += 2) twice += p[i - 2]! * p[i + 1]! - p[i]! * p[i - 1]!;
    return twice / 2;
  };
  it("keep their area, and which way they turn, over all tiles", () =>
    fc.assert(
      fc.property(fc.array(vertex, { minLength: 3, maxLength: 12 }), (corners) => {
        const ring = [...corners, corners[0]!];
        const whole = areaOf(ring.flatMap(({ x, y }) => [x, y]));
        const cut = WINDOWS.reduce((sum, w) => sum + areaOf(clipRing(ring, w)), 0);
        expect(cut).toBeCloseTo(whole, 9);
      }),
    ));
  it("are closed", () => {
    const ring = [
      { x: 4, y: 4 },
      { x: 20, y: 5 },
      { x: 12, y: 20 },
      { x: 4, y: 4 },
    ];
    for (const w of WINDOWS) {
      const cut = clipRing(ring, w);
      if (cut.length > 0) expect(cut.slice(0, 2)).toEqual(cut.slice(-2));
    }
  });
});
