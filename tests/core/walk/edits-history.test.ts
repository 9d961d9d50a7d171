import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addPoint,
  insertPoint,
  movePoint,
  removePoint,
  renamePoint,
  reverseWalk,
  setDate,
  setDeclination,
  setPace,
  setStartTime,
  setTimeFactors,
  setTimeZone,
  setTitle,
} from "../../../core/walk/edits.ts";
import {
  closeGroup,
  type History,
  recordEdit,
  redo,
  redoName,
  startHistory,
  undo,
  undoName,
} from "../../../core/walk/history.ts";
import { emptyWalk, pointLabel, pointLetter, type Walk } from "../../../core/walk/walk.ts";

const start = emptyWalk("2026-05-16");

describe("letters of points", () => {
  it("go on after Z as spreadsheet columns do", () => {
    expect([0, 25, 26, 51, 52, 701, 702].map(pointLetter)).toEqual(["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
  });
  it("give way to a name, and come back when it is cleared", () => {
    let walk = addPoint(addPoint(start, [10, 50]), [10, 51]);
    walk = renamePoint(walk, "p2", " Ford ");
    expect([pointLabel(walk, 0), pointLabel(walk, 1)]).toEqual(["A", "Ford"]);
    expect(pointLabel(renamePoint(walk, "p2", "  "), 1)).toBe("B");
  });
});

describe("edits", () => {
  it("leave the walk they start from untouched and share what did not change", () => {
    const two = addPoint(addPoint(start, [10, 50]), [10, 51]);
    const moved = movePoint(two, "p2", [11, 51]);
    expect(two.points[1]?.lonLat).toEqual([10, 51]);
    expect(moved.points[0]).toBe(two.points[0]);
  });
  it("insert between two points and give fresh ids", () => {
    const two = addPoint(addPoint(start, [10, 50]), [10, 51]);
    expect(insertPoint(two, 1, [10, 50.5]).points.map((p) => p.id)).toEqual(["p1", "p3", "p2"]);
  });
  it.each([
    ["a NaN", () => addPoint(start, [Number.NaN, 1])],
    ["latitude 91", () => addPoint(start, [0, 91])],
    ["the pole itself", () => addPoint(start, [0, 90])],
    ["a point that is not there", () => removePoint(start, "p9")],
    ["a place past the end", () => insertPoint(start, 3, [0, 0])],
    ["a day that is none", () => setDate(start, "2026-13-01")],
    ["a time that is none", () => setStartTime(start, "24:00")],
    ["a zone that is none", () => setTimeZone(start, "Nowhere/Town")],
    ["a factor of 0", () => setTimeFactors(start, { ...start.timeFactors, load: 0 })],
    [
      "a printed declination that is not there",
      () => setDeclination(start, { use: "printed", printed: null, beyondModel: false }),
    ],
    ["a pace of 0", () => setPace(start, { ...start.pace, per100m: 0 })],
  ])("refuse %s with a sentence", (_what, act) => {
    expect(act).toThrow(/\.$/);
  });
  it("turn a walk round, and twice round is as before", () => {
    const three = addPoint(addPoint(addPoint(start, [10, 50]), [10, 51]), [11, 51]);
    expect(reverseWalk(three).points.map((p) => p.id)).toEqual(["p3", "p2", "p1"]);
    expect(reverseWalk(reverseWalk(three))).toEqual(three);
  });
});

describe("history", () => {
  it("names what undo and redo would do", () => {
    const one = recordEdit(startHistory(start), "Add A", addPoint(start, [10, 50]));
    expect([undoName(one), redoName(one)]).toEqual(["Add A", null]);
    expect([undoName(undo(one)), redoName(undo(one))]).toEqual([null, "Add A"]);
  });
  it("keeps redo when nothing changed, drops it when something did", () => {
    const undone = undo(recordEdit(startHistory(start), "Add A", addPoint(start, [10, 50])));
    expect(redoName(recordEdit(undone, "Select", undone.present))).toBe("Add A");
    expect(redoName(recordEdit(undone, "Title", setTitle(undone.present, "x")))).toBeNull();
  });
  it("makes one step of typing, until the group is closed", () => {
    let h = startHistory(start);
    for (const title of ["S", "Sa", "Sat"]) h = recordEdit(h, "Title", setTitle(h.present, title), "title");
    expect(h.past).toHaveLength(1);
    h = recordEdit(closeGroup(h), "Title", setTitle(h.present, "Sun"), "title");
    expect(h.past).toHaveLength(2);
    expect(undo(undo(h)).present).toBe(start);
  });
  it("any edits undone one by one give the start, and redone the end", () => {
    const edit = fc.oneof(
      fc
        .tuple(fc.double({ min: -180, max: 180, noNaN: true }), fc.double({ min: -80, max: 80, noNaN: true }))
        .map(
          ([lon, lat]) =>
            (w: Walk) =>
              addPoint(w, [lon, lat]),
        ),
      fc
        .nat(50)
        .map(
          (n) => (w: Walk) => (w.points.length ? removePoint(w, w.points[n % w.points.length]?.id ?? "") : w),
        ),
      fc.string().map((t) => (w: Walk) => setTitle(w, t)),
    );
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 60 }), (edits) => {
        let h: History = startHistory(start);
        for (const [i, e] of edits.entries()) h = recordEdit(h, `edit ${i}`, e(h.present));
        const end = h.present;
        while (h.past.length > 0) h = undo(h);
        expect(h.present).toBe(start);
        while (h.future.length > 0) h = redo(h);
        expect(h.present).toBe(end);
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});
