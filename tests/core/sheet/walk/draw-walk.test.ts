import { describe, expect, it } from "vitest";
import { sheetFrame } from "../../../../core/sheet/frame/sheet-frame.ts";
import type { Rect, ShapeItem } from "../../../../core/sheet/page/page.ts";
import { drawWalk } from "../../../../core/sheet/walk/draw-walk.ts";
import type { SheetWalk, WalkWish } from "../../../../core/sheet/walk/sheet-walk.ts";
import type { LonLat } from "../../../../core/units/position.ts";
import { flat, groupsOf, textBox, texts } from "../furniture/items.ts";
import { plainRuler } from "../furniture/plain-ruler.ts";

const WISH: WalkWish = { handrails: false, backstops: false, hazards: false, cone: false };
const frame = sheetFrame({
  centre: [-133.185, 46.343],
  scale: 25_000,
  map: { x: 20, y: 20, width: 170, height: 240 },
});
const walkOf = (points: readonly (readonly [string, LonLat])[]): SheetWalk => ({
  points: points.map(([label, lonLat]) => ({ label, lonLat })),
  aids: [],
  driftDeg: 4,
});
const legsOf = (walk: SheetWalk, wish = WISH): Float64Array[] =>
  groupsOf(drawWalk(walk, frame, wish, plainRuler).items, "legs")
    .flatMap(({ items }) => flat(items))
    .flatMap((item) => (item.kind === "shape" ? [...item.shape.parts] : []));
const meet = (a: Rect, b: Rect): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

// GeoConvert -u -p 4 (GeographicLib), zone 8 north.
const PLACES: readonly (readonly [LonLat, readonly [eastM: number, northM: number]])[] = [
  [
    [-133.2, 46.35],
    [638495.7035, 5134510.4581],
  ],
  [
    [-133.17, 46.34],
    [640829.6145, 5133452.2728],
  ],
  [
    [-133.19, 46.33],
    [639315.9162, 5132305.7829],
  ],
  [
    [-133.165, 46.352],
    [641183.4822, 5134794.5109],
  ],
];

describe("legs on paper", () => {
  it("lie on the grid bearing between GeoConvert's coordinates of their ends, within 0.01°", () => {
    const legs = legsOf(walkOf(PLACES.map(([lonLat], i) => [String(i), lonLat])));
    expect(legs.length).toBe(3);
    for (const [i, leg] of legs.entries()) {
      const [[, [e0, n0]], [, [e1, n1]]] = [PLACES[i], PLACES[i + 1]] as [
        (typeof PLACES)[number],
        (typeof PLACES)[number],
      ];
      const wanted = (Math.atan2(e1 - e0, n1 - n0) * 180) / Math.PI;
      const [ax = 0, ay = 0, bx = 0, by = 0] = [leg[0], leg[1], leg.at(-2), leg.at(-1)];
      const found = (Math.atan2(bx - ax, ay - by) * 180) / Math.PI;
      expect(Math.abs(found - wanted)).toBeLessThan(0.01);
      // A millimetre of paper left open at both ends, so that the spot can be seen.
      const gap = Math.hypot(e1 - e0, n1 - n0) / (25 * 0.9998397905) - Math.hypot(bx - ax, by - ay);
      expect(gap).toBeGreaterThan(1.5);
      expect(gap).toBeLessThan(3);
    }
  });

  it("a leg across the whole country is bent as the geodesic is: its middle is GeodSolve's", () => {
    // GeodSolve -i: 1 014 870.209 m at 85.214332°; after half of that GeodSolve is at 46.54085481 −126.6.
    const wide = sheetFrame({
      centre: [-126.6, 46.4],
      scale: 5_000_000,
      map: { x: 20, y: 20, width: 250, height: 100 },
    });
    const walk = walkOf([
      ["A", [-133.2, 46.35]],
      ["B", [-120, 46.35]],
    ]);
    const [leg] = groupsOf(drawWalk(walk, wide, WISH, plainRuler).items, "legs")
      .flatMap(({ items }) => flat(items))
      .flatMap((item) => (item.kind === "shape" ? [...item.shape.parts] : []));
    const middle = wide.toPaper([-126.6, 46.54085481]);
    const nearest = Math.min(
      ...Array.from({ length: (leg?.length ?? 0) / 2 }, (_, i) =>
        Math.hypot((leg?.[2 * i] ?? 0) - middle[0], (leg?.[2 * i + 1] ?? 0) - middle[1]),
      ),
    );
    expect(nearest).toBeLessThan(0.05);
  });
});

describe("labels of the walk", () => {
  /** Boxes of what is read: flags and numbers. */
  const boxesOf = (walk: SheetWalk): { box: Rect; text: string }[] =>
    texts(drawWalk(walk, frame, WISH, plainRuler).items).map((item) => ({
      box: textBox(item, plainRuler),
      text: item.text,
    }));

  it("of 300 legs keep apart, off every point's spot and within the neat line; what has no room is told", () => {
    const points = Array.from({ length: 301 }, (_, i): readonly [string, LonLat] => [
      `P${i}`,
      [-133.205 + (i % 20) * 0.002, 46.32 + Math.floor(i / 20) * 0.003],
    ]);
    const walk = walkOf(points);
    const boxes = boxesOf(walk);
    expect(boxes.length).toBeGreaterThan(150);
    const spots = points.map(([, lonLat]) => frame.toPaper(lonLat));
    const { x, y, width, height } = frame.map;
    for (const [i, { box }] of boxes.entries()) {
      expect(boxes.slice(i + 1).some((other) => meet(box, other.box))).toBe(false);
      expect(box.x > x && box.y > y && box.x + box.width < x + width && box.y + box.height < y + height).toBe(
        true,
      );
      for (const [sx, sy] of spots)
        expect(sx > box.x && sx < box.x + box.width && sy > box.y && sy < box.y + box.height).toBe(false);
    }
    if (boxes.length < 601)
      expect(drawWalk(walk, frame, WISH, plainRuler).notes.join(" ")).toMatch(/no room/);
  });

  it("of 500 letters are cut with an ellipsis and noted; signs without a letter are left out and noted", () => {
    const long = "Where the two walls meet ".repeat(20);
    const ruler = {
      ...plainRuler,
      missing: (text: string) => Array.from(text).filter((c) => (c.codePointAt(0) ?? 0) > 0x1f000),
    };
    const walk = walkOf([
      [long, [-133.19, 46.345]],
      ["🐑 fold", [-133.18, 46.34]],
      ["🐑", [-133.175, 46.345]],
    ]);
    const { items, notes } = drawWalk(walk, frame, WISH, ruler);
    const found = texts(items).map(({ text }) => text);
    expect(found.some((text) => text.endsWith("…") && long.startsWith(text.slice(0, -1)))).toBe(true);
    expect(found).toContain("fold");
    expect(found).toContain("?");
    expect(notes.join(" ")).toMatch(/“…”/);
    expect(notes.join(" ")).toMatch(/left out/);
  });

  it("of points on one spot share a flag", () => {
    const found = boxesOf(
      walkOf([
        ["Start", [-133.19, 46.345]],
        ["Ford", [-133.18, 46.34]],
        ["End", [-133.19, 46.345]],
      ]),
    );
    expect(found.map(({ text }) => text)).toEqual(expect.arrayContaining(["Start", "End", "Ford"]));
  });

  it("a walk off the sheet, an empty walk and a leg of no length draw nothing and do not fail", () => {
    const far = walkOf([
      ["A", [10, 10]],
      ["B", [-170, -60]],
    ]);
    expect(texts(drawWalk(far, frame, WISH, plainRuler).items)).toEqual([]);
    expect(texts(drawWalk(walkOf([]), frame, WISH, plainRuler).items)).toEqual([]);
    const still = walkOf([
      ["A", [-133.19, 46.345]],
      ["B", [-133.19, 46.345]],
    ]);
    expect(legsOf(still)).toEqual([]);
  });
});

describe("aids", () => {
  it("each has its word, and only those asked for are drawn", () => {
    const walk = walkOf([
      ["A", [-133.2, 46.35]],
      ["B", [-133.18, 46.345]],
    ]);
    const stretches = [Float64Array.of(-133.2, 46.352, -133.185, 46.349)];
    const aids = {
      handrails: [{ stretches }],
      backstop: { stretches: [Float64Array.of(-133.178, 46.342, -133.176, 46.349)], beyondM: 100 },
      hazards: [{ stretches: [Float64Array.of(-133.19, 46.344, -133.186, 46.343)] }],
    } as unknown as NonNullable<SheetWalk["aids"][number]>;
    const words = (wish: Partial<WalkWish>): string[] =>
      groupsOf(
        drawWalk({ ...walk, aids: [aids] }, frame, { ...WISH, ...wish }, plainRuler).items,
        "aid words",
      ).flatMap(({ items }) => texts(items).map(({ text }) => text));
    expect(words({})).toEqual([]);
    expect(words({ handrails: true, backstops: true, hazards: true })).toEqual(["follow", "stop", "mind"]);
  });

  it("the drift cone opens by its angle to both sides", () => {
    const walk = { ...walkOf(PLACES.slice(0, 2).map(([lonLat], i) => [String(i), lonLat])), driftDeg: 5 };
    const [cone] = groupsOf(drawWalk(walk, frame, { ...WISH, cone: true }, plainRuler).items, "drift cones")
      .flatMap(({ items }) => flat(items))
      .filter((item): item is ShapeItem => item.kind === "shape");
    const ring = cone?.shape.parts[0] ?? new Float64Array(0);
    const [x0, y0] = frame.toPaper((PLACES[0] as (typeof PLACES)[number])[0]);
    const bearings = Array.from({ length: ring.length / 2 }, (_, i) => [
      (ring[2 * i] as number) - x0,
      y0 - (ring[2 * i + 1] as number),
    ])
      .filter(([x = 0, y = 0]) => Math.hypot(x, y) > 1)
      .map(([x = 0, y = 0]) => (Math.atan2(x, y) * 180) / Math.PI);
    // A cone of 5° to either side is 10° wide, whatever draws it.
    expect(Math.max(...bearings) - Math.min(...bearings)).toBeCloseTo(10, 1);
  });
});
