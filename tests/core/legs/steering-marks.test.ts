/**
 * Hops between steering marks and marks to tick off. Marks in woods 50 to 60 yards apart: common practice, no source
 * (45.7 to 54.9 m). The rest against small drawings worked by hand: where a straight line from an eye 1.6 m above the
 * ground first touches it.
 */
import { describe, expect, test } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { MARK_SETTINGS, steeringMarksOf } from "../../../core/legs/aids/steering-marks.ts";
import { type Stretch, stretchesWithin } from "../../../core/legs/stretches.ts";
import { MOST_TICKS, tickMarksOf } from "../../../core/legs/aids/tick-marks.ts";
import type { Crossing } from "../../../core/legs/figures.ts";
import type { AreaFeature } from "../../../core/map/features.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import type { Profile } from "../../../core/terrain/profile.ts";
import { place } from "./support/line-map.ts";

function profile(lengthM: number, height: (m: number) => number, from: Profile["from"] = "terrain"): Profile {
  const n = Math.min(1000, Math.round(lengthM / 5));
  const distanceM = Float64Array.from({ length: n + 1 }, (_, i) => (lengthM * i) / n);
  return {
    from,
    distanceM,
    elevationM: distanceM.map(height),
    errorM: from === "contours" ? 5 : null,
    errorsM: null,
    blind: [],
  };
}
const flat = (lengthM: number): Profile => profile(lengthM, () => 100);
const wood = (corners: readonly (readonly [number, number])[]): AreaFeature => ({
  kind: "wood",
  name: null,
  elevationM: NaN,
  attributes: {},
  rings: [Float64Array.from(corners.flatMap(([e, n]) => [...place(e, n)]))],
});
const box = (e0: number, n0: number, e1: number, n1: number): [number, number][] => [
  [e0, n0],
  [e1, n0],
  [e1, n1],
  [e0, n1],
  [e0, n0],
];

describe("how many marks", () => {
  test.each([
    [205, 50, 5],
    [200, 50, 4],
    [30, 50, 1],
    [1000, 45.72, 22], // 50 yards
    [1000, 54.86, 19], // 60 yards
  ])("%d m in hops of %d m: %d hops", (lengthM, hopM, hops) => {
    const found = steeringMarksOf(lengthM, flat(lengthM), [{ fromM: 0, toM: lengthM }], {
      hopM,
      openHopM: null,
    });
    expect(found.hops).toHaveLength(hops);
    expect(found.hops).toHaveLength(Math.ceil(lengthM / hopM));
    expect(found.marks).toBe(hops - 1);
    expect(found.hops.at(-1)).toMatchObject({ toM: lengthM, endsBy: "target" });
  });

  test("of a leg from one end of a continent to the other they are counted, not listed", () => {
    const found = steeringMarksOf(
      4_328_000,
      profile(4_328_000, () => Number.NaN, null),
      null,
    );
    expect(found).toMatchObject({ hops: [], marks: 86_559, targetInSight: null });
    expect(found.notes).toHaveLength(1);
  });

  test("no hop is longer than chosen, and they follow on each other to the target", () => {
    const { hops } = steeringMarksOf(777, flat(777), []);
    for (const [i, { fromM, toM }] of hops.entries()) {
      expect(fromM).toBe(i === 0 ? 0 : hops[i - 1]?.toM);
      expect(toM - fromM).toBeLessThanOrEqual(MARK_SETTINGS.hopM + 1e-9);
    }
  });

  test("in the open farther when so chosen, to the edge of the wood, then short hops, then far again", () => {
    const woods: Stretch[] = [{ fromM: 250, toM: 350 }];
    const { hops } = steeringMarksOf(600, flat(600), woods, { hopM: 50, openHopM: 200 });
    expect(hops.map(({ toM }) => toM)).toEqual([200, 250, 300, 350, 550, 600]);
    expect(hops.map(({ through }) => through)).toEqual(["open", "open", "wood", "wood", "open", "open"]);
    expect(hops[1]?.endsBy).toBe("wood");
  });

  test("a map that shows no woods: as short everywhere, and it says so", () => {
    const { hops, notes } = steeringMarksOf(600, flat(600), null, { hopM: 50, openHopM: 200 });
    expect(hops).toHaveLength(12);
    expect(notes.join(" ")).toContain("does not show which ground is wooded");
  });
});

describe("what the ground lets one see", () => {
  test("over a brow at 120 m the hop ends there and not at 200 m", () => {
    // Level to 120 m, then falling 1 in 2: one who stands at 0 sees no place beyond the brow 1.6 m above the ground.
    const brow = profile(400, (m) => 100 - Math.max(0, m - 120) / 2);
    const { hops } = steeringMarksOf(400, brow, [], { hopM: 50, openHopM: 200 });
    expect(hops[0]?.endsBy).toBe("ground");
    expect(hops[0]?.toM).toBeGreaterThanOrEqual(120);
    // A mark 1.6 m high stays in sight until the ground has fallen 1.6 m below the line of the eye: 3.2 m on.
    expect(hops[0]?.toM).toBeLessThanOrEqual(125);
  });

  test("the target comes into sight on the brow, and on level ground it is in sight from the start", () => {
    const brow = profile(400, (m) => 100 - Math.max(0, m - 120) / 2);
    const { targetInSight, targetInSightFromM } = steeringMarksOf(400, brow, []);
    expect(targetInSight).toBe(false);
    expect(targetInSightFromM).toBeGreaterThan(110);
    expect(targetInSightFromM).toBeLessThanOrEqual(125);
    expect(steeringMarksOf(400, flat(400), [])).toMatchObject({ targetInSight: true, targetInSightFromM: 0 });
  });

  test("through a wood it is not, and from where on is the wood's far edge", () => {
    expect(steeringMarksOf(400, flat(400), [{ fromM: 100, toM: 180 }])).toMatchObject({
      targetInSight: false,
      targetInSightFromM: 180,
    });
    expect(steeringMarksOf(400, flat(400), [{ fromM: 100, toM: 400 }])).toMatchObject({
      targetInSight: false,
      targetInSightFromM: null,
    });
  });

  test("without heights nothing is claimed, and from contours no brow is either", () => {
    const none = steeringMarksOf(
      400,
      profile(400, () => NaN, null),
      [],
    );
    expect(none).toMatchObject({ targetInSight: null, targetInSightFromM: null });
    expect(none.hops).toHaveLength(8);
    const rough = steeringMarksOf(
      400,
      profile(400, (m) => 100 - Math.max(0, m - 120) / 2, "contours"),
      [],
    );
    expect(rough.hops.every(({ endsBy }) => endsBy !== "ground")).toBe(true);
    expect(rough.notes.join(" ")).toContain("not known well enough");
  });
});

describe("woods on the way", () => {
  const frame = legFrame(place(0, 0), place(1000, 0));
  const rounded = (areas: AreaFeature[]): number[][] =>
    stretchesWithin(frame, areas).map(({ fromM, toM }) => [Math.round(fromM), Math.round(toM)]);

  test("in and out, with a clearing", () =>
    expect(
      rounded([
        {
          ...wood(box(200, -100, 700, 100)),
          rings: [...wood(box(200, -100, 700, 100)).rings, ...wood(box(400, -20, 500, 20)).rings],
        },
      ]),
    ).toEqual([
      [200, 400],
      [500, 700],
    ]));

  test("pieces from two tiles are one wood; what lies beside the leg is none; the leg's ends cut it off", () => {
    expect(rounded([wood(box(500, -100, 700, 100)), wood(box(300, -100, 500, 100))])).toEqual([[300, 700]]);
    expect(rounded([wood(box(300, 10, 500, 100))])).toEqual([]);
    expect(rounded([wood(box(-300, -100, 100, 100)), wood(box(900, -100, 1300, 100))])).toEqual([
      [0, 100],
      [900, 1000],
    ]);
  });
});

describe("marks to tick off", () => {
  const at = (atM: number, kind: Kind, crossingDeg = 90, name: string | null = null): Crossing => ({
    kind,
    name,
    atM,
    elevationM: null,
    paces: Math.round(atM * 0.65),
    crossingDeg,
    detail: null,
    enters: null,
  });
  const ticked = (crossings: Crossing[], lengthM = 1000): [Kind, number][] =>
    tickMarksOf(crossings, [], lengthM, (m) => m * 0.65).map(({ kind, atM }) => [kind, atM]);

  test("in order, with their paces", () => {
    const ticks = tickMarksOf([at(600, "wall"), at(300, "stream")], [], 1000, (m) => m * 0.65);
    expect(ticks.map(({ atM, paces }) => [atM, paces])).toEqual([
      [300, 195],
      [600, 390],
    ]);
  });

  test("of a road and the wall beside it, the road; of a boundary nobody sees, nothing", () =>
    expect(ticked([at(400, "road"), at(406, "wall"), at(700, "boundary")])).toEqual([["road", 400]]));

  test("a stream met square, not the one met along it", () =>
    expect(ticked([at(400, "stream", 90), at(450, "stream", 8)])).toEqual([["stream", 400]]));

  test("what lies at the start or the target is not ticked off", () =>
    expect(ticked([at(2, "road"), at(998, "road"), at(500, "road")])).toEqual([["road", 500]]));

  test("of thirty at most eight, spread over the leg", () => {
    const ticks = ticked(
      Array.from({ length: 30 }, (_, i) =>
        at(30 + 65 * i, (["wall", "stream", "path"] as const)[i % 3] ?? "wall"),
      ),
      2000,
    );
    expect(ticks).toHaveLength(MOST_TICKS);
    const ms = ticks.map(([, m]) => m);
    for (const [i, m] of ms.entries())
      if (i > 0) expect(m - (ms[i - 1] as number)).toBeGreaterThanOrEqual(65);
    expect((ms.at(-1) as number) - (ms[0] as number)).toBeGreaterThan(800);
  });

  test("a saddle gone over is one, a ridge gone along is none", () => {
    const form = { name: null, fromM: 300, toM: 500, reliefM: 20, words: "" };
    const ticks = tickMarksOf(
      [],
      [
        { ...form, kind: "saddle", atM: 400, way: "across" },
        { ...form, kind: "ridge", atM: 700, way: "along" },
      ],
      1000,
      (m) => m * 0.65,
    );
    expect(ticks.map(({ kind, paces }) => [kind, paces])).toEqual([["saddle", 260]]);
  });
});
