import { describe, expect, it } from "vitest";
import { addPoint, movePoint, removePoint, reverseWalk, setInstruction } from "../../../core/walk/edits.ts";
import { mayBeStale, type LegAsItLay } from "../../../core/walk/own-instruction.ts";
import { emptyWalk, type Walk } from "../../../core/walk/walk.ts";
import { formatWalk, parseWalk } from "../../../core/walk/walk-file.ts";

const A: [number, number] = [-121.1, 46.05];
const B: [number, number] = [-121.09, 46.06];
const C: [number, number] = [-121.08, 46.055];
const LEG: LegAsItLay = { from: A, to: B, bearingMagneticDeg: 22.34 };

function walkWithText(): Walk {
  const walk = [A, B, C].reduce((w, at) => addPoint(w, at), emptyWalk("2026-05-16"));
  return setInstruction(walk, "p1", " Keep the wall on your left. ", LEG);
}

describe("a person's own instruction", () => {
  it("is kept with its leg through a file", () => {
    const walk = walkWithText();
    const text = formatWalk(walk);
    expect(parseWalk(text, "x", "2026-01-01").walk).toEqual(walk);
    const leg = JSON.parse(text).features[3].properties;
    expect(leg.ownInstruction).toEqual({
      text: "Keep the wall on your left.",
      writtenFor: { from: A, to: B, bearingMagneticDeg: 22.3 },
    });
  });

  it("goes when it is emptied, and the file is as before", () => {
    const without = setInstruction(walkWithText(), "p1", "  ", LEG);
    expect(without.points[0]?.instruction).toBeNull();
    expect(formatWalk(without)).not.toContain("ownInstruction");
  });

  it("is kept when a point moves, goes or the walk is turned round, and is then said to be stale", () => {
    const own = (walk: Walk, i: number) => walk.points[i]?.instruction;
    const moved = movePoint(walkWithText(), "p2", [-121.09, 46.0601]);
    const text = own(moved, 0);
    expect(text && mayBeStale(text, { ...LEG, to: [-121.09, 46.0601] })).toBe(true);
    const gone = own(removePoint(walkWithText(), "p2"), 0);
    expect(gone && mayBeStale(gone, { ...LEG, to: C })).toBe(true);
    const turned = own(reverseWalk(walkWithText()), 1);
    expect(turned && mayBeStale(turned, { from: B, to: A, bearingMagneticDeg: 202.3 })).toBe(true);
  });

  it("is not stale for a hair's breadth, but is when the declination turned the bearing past half a mark", () => {
    const own = walkWithText().points[0]?.instruction;
    if (!own) throw new Error("no text");
    expect(mayBeStale(own, LEG)).toBe(false);
    expect(mayBeStale(own, { ...LEG, to: [-121.09, 46.060_001] })).toBe(false);
    expect(mayBeStale(own, { ...LEG, bearingMagneticDeg: 22.9 })).toBe(true);
    expect(mayBeStale(own, { ...LEG, bearingMagneticDeg: null })).toBe(false);
  });

  it("that makes no sense in a file is refused with its place", () => {
    const text = formatWalk(walkWithText()).replace('"from":[-121.1,46.05]', '"from":"here"');
    expect(() => parseWalk(text, "x", "2026-01-01")).toThrow(/position must be two numbers/);
  });
});
