import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import type { LegEnd } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { totalsOf } from "../../../core/legs/totals.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import type { Ground } from "../../../core/terrain/ground.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { drawn, ground, hills, lineMap, place } from "./support/line-map.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const ends = (...positions: LonLat[]): LegEnd[] =>
  positions.map((lonLat, i) => ({ label: String.fromCharCode(65 + i), lonLat }));
const path = ends(place(0, 0), place(1000, 0), place(1000, 800), place(0, 800), place(-500, 800));

describe("a walk", () => {
  test("legs follow the points in order, with running totals and sums", async () => {
    const { legs, totals, notes } = await walkFigures(
      path,
      ground(
        [],
        hills((e, n) => 300 + e / 10 + n / 20),
      ),
      settings,
    );
    expect(legs.map(({ n, from, to }) => [n, from, to])).toEqual([
      [1, "A", "B"],
      [2, "B", "C"],
      [3, "C", "D"],
      [4, "D", "E"],
    ]);
    expect(totals.distanceM).toBeCloseTo(3300, 0);
    // 100 up, 40 up, 100 down, 50 down.
    expect(totals.climbM).toBeCloseTo(140, 0);
    expect(totals.descentM).toBeCloseTo(150, 0);
    expect(legs.map(({ runningDistanceM }) => Math.round(runningDistanceM))).toEqual([
      1000, 1800, 2800, 3300,
    ]);
    expect(legs.at(-1)?.runningTimeS).toBeCloseTo(totals.timeS as number, 6);
    expect(totals.paces).toBe(legs.reduce((sum, leg) => sum + (leg.paces ?? 0), 0));
    expect(notes).toEqual([]);
  });

  test("no points and one point are a walk without legs", async () => {
    expect(await walkFigures([], null, settings)).toMatchObject({
      legs: [],
      totals: { distanceM: 0 },
      declination: { deg: null },
    });
    const one = await walkFigures(ends(place(0, 0)), null, settings);
    expect(one.legs).toEqual([]);
    expect(one.declination).toMatchObject({ model: "WMM2025", from: "model" });
  });

  test("a total is absent when one leg lacks the figure, and says which leg", async () => {
    const { totals, legs, notes } = await walkFigures(
      path,
      ground(
        [],
        hills((e) => (e < -200 ? NaN : 100)),
      ),
      settings,
    );
    expect(legs.map(({ climbM }) => climbM === null)).toEqual([false, false, false, true]);
    expect(totals).toMatchObject({ climbM: null, descentM: null, slopeDistanceM: null, timeS: null });
    expect(totals.distanceM).toBeCloseTo(3300, 0);
    expect(legs.map(({ runningTimeS }) => runningTimeS === null)).toEqual([false, false, false, true]);
    expect(notes.join(" ")).toContain("leg 4 lacks it");
  });

  test("without a map it still gives bearings, distances and paces", async () => {
    const { legs, totals } = await walkFigures(path, null, settings);
    expect(legs.every((leg) => leg.bearingMagneticDeg !== null && leg.paces !== null)).toBe(true);
    expect(totals).toMatchObject({ climbM: null, timeS: null });
  });

  test("a walk across 180° has its declination there, not on the other side of the earth", async () => {
    const { declination, legs } = await walkFigures(ends([179.99, 16], [-179.99, 16]), null, settings);
    expect(declination.deg).toBeCloseTo(legs[0]?.declinationDeg as number, 4);
  });
});

describe("work is not done twice", () => {
  const counted = (): { ground: Ground; map: ReturnType<typeof lineMap> } => {
    const map = lineMap([
      drawn("stream", [
        [0, -30],
        [1000, -30],
      ]),
    ]);
    return { ground: { map, elevation: hills((e) => e / 10) }, map };
  };
  const worked = async (map: ReturnType<typeof lineMap>, run: () => Promise<unknown>): Promise<number> => {
    const before = map.calls.prepare;
    await run();
    return map.calls.prepare - before;
  };

  test("moving one point works out its two legs, adding one at the end one leg", async () => {
    const { ground, map } = counted();
    expect(await worked(map, () => walkFigures(path, ground, settings))).toBe(4);
    expect(await worked(map, () => walkFigures(path, ground, settings))).toBe(0);
    const moved = path.map((end, i) => (i === 2 ? { ...end, lonLat: place(1010, 790) } : end));
    expect(await worked(map, () => walkFigures(moved, ground, settings))).toBe(2);
    expect(
      await worked(map, () =>
        walkFigures([...moved, { label: "F", lonLat: place(-500, 0) }], ground, settings),
      ),
    ).toBe(1);
  });

  test("a point taken out renumbers the rest without working them out again", async () => {
    const { ground, map } = counted();
    await walkFigures(path, ground, settings);
    let legs;
    expect(
      await worked(map, async () => ({ legs } = await walkFigures(path.slice(1), ground, settings))),
    ).toBe(0);
    expect(legs).toMatchObject([
      { n: 1, from: "B" },
      { n: 2, from: "C" },
      { n: 3, from: "D" },
    ]);
  });

  test("a new name shows without working the leg out again", async () => {
    const { ground, map } = counted();
    await walkFigures(path, ground, settings);
    const named = path.map((end, i) => (i === 1 ? { ...end, label: "Hut" } : end));
    let legs;
    expect(await worked(map, async () => ({ legs } = await walkFigures(named, ground, settings)))).toBe(0);
    expect(legs).toMatchObject([{ to: "Hut" }, { from: "Hut" }, {}, {}]);
  });

  test("other settings and another map are worked out anew", async () => {
    const { ground, map } = counted();
    const first = await walkFigures(path, ground, settings);
    const paces = await walkFigures(path, ground, { ...settings, pacesPer100m: 120 });
    expect(paces.legs[0]?.paces).toBe(1200);
    expect(map.calls.prepare).toBe(8);
    const other = await walkFigures(path, { map: lineMap([]), elevation: null }, settings);
    expect(first.legs[0]?.handrails).toHaveLength(1);
    expect(other.legs[0]?.handrails).toHaveLength(0);
  });
});

describe("when the map fails", () => {
  const failing = (fault: Fault): { ground: Ground; state: { fails: boolean } } => {
    const state = { fails: true };
    const map = lineMap([
      drawn("stream", [
        [0, -30],
        [1000, -30],
      ]),
    ]);
    const prepare = async (): Promise<void> => {
      if (state.fails) throw fault;
    };
    return { ground: { map: { ...map, prepare }, elevation: null }, state };
  };

  test("the leg is given without the map, with the reason, and tried again next time", async () => {
    const { ground, state } = failing(new Fault("no-file", "The map file is gone."));
    const { legs } = await walkFigures(path, ground, settings);
    expect(legs).toHaveLength(4);
    expect(legs[0]?.notes[0]).toBe("The map could not be read here: The map file is gone.");
    expect(legs[0]?.bearingMagneticDeg).not.toBeNull();
    state.fails = false;
    expect((await walkFigures(path, ground, settings)).legs[0]?.handrails).toHaveLength(1);
  });

  test("a cancelled call says so and gives nothing half done", async () => {
    const cancel = new AbortController();
    cancel.abort();
    await expect(walkFigures(path, ground([]), settings, cancel.signal)).rejects.toMatchObject({
      code: "cancelled",
    });
    await expect(
      walkFigures(path, failing(new Fault("cancelled", "Stopped.")).ground, settings),
    ).rejects.toMatchObject({ code: "cancelled" });
  });

  test("a leg across a continent does not read the map", async () => {
    const map = lineMap([]);
    const { legs } = await walkFigures(ends([20, -34], [25, -30]), { map, elevation: null }, settings);
    expect(map.calls.prepare).toBe(0);
    expect(legs[0]?.notes[0]).toContain("longer than 25 km");
  });
});

test("sums over no legs are 0", () =>
  expect(totalsOf([])).toEqual({
    distanceM: 0,
    slopeDistanceM: 0,
    climbM: 0,
    descentM: 0,
    paces: 0,
    timeS: 0,
  }));
