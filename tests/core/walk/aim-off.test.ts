import { describe, expect, it } from "vitest";
import { addPoint, insertPoint, removePoint, reverseWalk, setAimOff } from "../../../core/walk/edits.ts";
import { legEndsOf } from "../../../core/walk/leg-ends.ts";
import { emptyWalk, type Walk } from "../../../core/walk/walk.ts";
import { formatWalk, parseWalk } from "../../../core/walk/walk-file.ts";

const walk = (
  [
    [-121.1, 46.05],
    [-121.09, 46.06],
    [-121.08, 46.055],
  ] as const
).reduce((w: Walk, at) => addPoint(w, at), emptyWalk("2026-05-16"));
const which = (w: Walk): boolean[] => w.points.map(({ aimOff }) => aimOff);

describe("a leg walked aiming off", () => {
  it("comes back from a file, and a walk without one is written as before", () => {
    const aimed = setAimOff(walk, "p2", true);
    expect(parseWalk(formatWalk(aimed), "x", "2026-01-01").walk).toEqual(aimed);
    expect(formatWalk(walk)).not.toContain("aimOff");
    expect(legEndsOf(aimed).map(({ aimOff }) => aimOff)).toEqual([undefined, true, undefined]);
  });

  it("keeps its end when it is cut in two or grows at its start, and loses it when turned round", () => {
    const aimed = setAimOff(walk, "p2", true);
    const cut = insertPoint(aimed, 2, [-121.085, 46.058]);
    expect(which(cut)).toEqual([false, false, true, false]);
    expect(which(removePoint(cut, "p4"))).toEqual([false, true, false]);
    expect(which(removePoint(aimed, "p2"))).toEqual([true, false]);
    expect(which(removePoint(aimed, "p3"))).toEqual([false, false]);
    expect(which(reverseWalk(aimed))).toEqual([false, false, false]);
  });

  it("is what another program wrote when it is no yes or no", () => {
    const text = formatWalk(setAimOff(walk, "p2", true)).replace('"aimOff":true', '"aimOff":"left"');
    const { walk: read } = parseWalk(text, "x", "2026-01-01");
    expect(which(read)).toEqual([false, false, false]);
    expect(formatWalk(read)).toContain('"aimOff":"left"');
  });
});
