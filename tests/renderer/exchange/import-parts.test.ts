/** The parts of bringing in a walk that draw nothing: the slide, the list of grids, and the worker's answers. */
import { strToU8 } from "fflate";
import { describe, expect, it } from "vitest";
import { addToWalk } from "../../../core/exchange/add-to-walk.ts";
import { READ_LIMITS } from "../../../core/exchange/exchange.ts";
import { pointLabel } from "../../../core/walk/walk.ts";
import { figureSystems, unitOf } from "../../../renderer/exchange/figure-systems.ts";
import { foreignWork } from "../../../renderer/exchange/foreign-work.ts";
import { metresAt, slideAt } from "../../../renderer/exchange/slide.ts";
import { walkOf } from "../../core/exchange/support.ts";

describe("the slide of tolerances", () => {
  it("runs from one metre to two kilometres and comes back to every step", () => {
    expect([metresAt(0), metresAt(50), metresAt(100)]).toEqual([1, 45, 2000]);
    for (let step = 0; step <= 100; step++)
      expect(Math.abs(slideAt(metresAt(step)) - step)).toBeLessThanOrEqual(1);
    expect([slideAt(0), slideAt(1e6)]).toEqual([0, 100]);
  });
});

describe("what figures may count in", () => {
  it("has grids with zones only where the map says which zone", () => {
    const keys = (middle: readonly [number, number] | null): string[] =>
      figureSystems(middle, []).map(({ key }) => key);
    expect(keys(null)).toContain("degrees nad27");
    expect(keys(null)).not.toContain("grid utm");
    expect(keys(null)).not.toContain("grid nad27");
    expect(keys(null)).toContain("grid british");
    // Zone 13: longitudes −108° to −102°.
    const at = figureSystems([-105.5, 40], [{ name: "mine", definition: "+proj=tmerc +datum=WGS84" }]);
    expect(at.find(({ key }) => key === "grid utm")?.frame?.definition).toContain("+zone=13 ");
    expect(at.map(({ key }) => key)).toEqual(expect.arrayContaining(["grid nad27", "grid mine"]));
    expect(new Set(at.map(({ key }) => key)).size).toBe(at.length);
    // NIST Special Publication 811: 1 US survey foot is 1200/3937 m.
    expect([unitOf(""), unitOf("1000"), unitOf("us")]).toEqual([null, 1000, 1200 / 3937]);
  });
});

describe("the worker's part", () => {
  const { exchanged, near, encoding, frame, table } = READ_LIMITS;
  const plain = { exchanged, near, encoding, frame, table };
  const stop = new AbortController().signal;
  const choice = { pick: 0, toleranceM: null, date: "2026-05-16", fallbackTitle: "f" };

  it("looks at a file, keeps it, and gives walks out of it with few positions to draw", async () => {
    const work = foreignWork();
    const points = Array.from(
      { length: 60_000 },
      (_, i) => `<trkpt lat="${60 + i / 1e6}" lon="${10 + Math.sin(i / 50) / 1e3}"/>`,
    );
    const look = await work.readForeign(
      stop,
      strToU8(`<gpx><trk><trkseg>${points.join("")}</trkseg></trk></gpx>`),
      "t.gpx",
      plain,
    );
    expect(look).toMatchObject({
      format: "GPX",
      fault: null,
      candidates: [{ kind: "track", positions: 60_000 }],
    });
    const all = await work.foreignWalk(stop, choice);
    expect(all.walk).toBeNull();
    expect(all.fault?.what).toMatch(/60000 points remain/);
    const thinned = await work.foreignWalk(stop, { ...choice, toleranceM: 20 });
    expect(thinned.fault).toBeNull();
    expect(thinned.walk!.points.length).toBeLessThan(5_000);
    expect(thinned.largestM).toBeLessThanOrEqual(20);
    expect(thinned.line.length / 2).toBeLessThanOrEqual(4_000);
    expect(Array.from(thinned.line.slice(0, 2))).toEqual([10, 60]);
  });

  it("shows a table that cannot be read, and keeps nothing of it", async () => {
    const work = foreignWork();
    const bytes = strToU8("Punkt;Sted\nBru;ved elva\n");
    const look = await work.readForeign(stop, bytes, "t.csv", plain);
    expect(look.fault?.what).toMatch(/No columns/);
    expect(look.table?.sample).toHaveLength(2);
    const wish = { separator: null, decimal: null, header: true, columns: { lat: 1 } } as const;
    const chosen = await work.readForeign(stop, bytes, "t.csv", { ...plain, table: wish });
    expect(chosen.fault?.what).toMatch(/give no position/);
    expect(chosen.table?.columns).toEqual({ lat: 1 });
    await expect(work.foreignWalk(stop, choice)).rejects.toThrow(/Nothing was read/);
    expect((await work.readForeign(stop, strToU8("<gpx>"), "t.gpx", plain)).table).toBeNull();
  });
});

describe("points at the end of a walk", () => {
  const walk = walkOf("a", "", [
    ["Ford", 10, 60],
    [null, 10.1, 60],
  ]);

  it("follow its own, with ids of their own; a place that is both is one", () => {
    const far = addToWalk(walk, walkOf("b", "", [["Hut", 11, 60]]));
    expect(far.points.map((_, i) => pointLabel(far, i))).toEqual(["Ford", "B", "Hut"]);
    expect(new Set(far.points.map(({ id }) => id)).size).toBe(3);
    const near = addToWalk(
      walk,
      walkOf("b", "", [
        ["Bridge", 10.1, 60],
        ["Hut", 11, 60],
      ]),
    );
    expect(near.points).toHaveLength(3);
    expect(near.title).toBe("a");
  });

  it("are refused beyond what a walk holds", () => {
    const many = walkOf(
      "b",
      "",
      Array.from({ length: 4_999 }, (_, i) => [null, 11, 60 + i / 1e4] as const),
    );
    expect(() => addToWalk(walk, many)).toThrow(/5001 points/);
  });
});
