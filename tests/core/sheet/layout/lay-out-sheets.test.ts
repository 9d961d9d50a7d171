/** Layouts on the ground: every place of the walk is looked up on the sheets by a projection and a geodesic of other libraries. */
import geodesicLibrary from "geographiclib-geodesic";
import proj4 from "proj4";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../../core/fault.ts";
import { britishGrid } from "../../../../core/geodesy/grid.ts";
import { inverse } from "../../../../core/geodesy/geodesic.ts";
import { sheetRoom } from "../../../../core/sheet/furniture/sheet-room.ts";
import { sheetFrame } from "../../../../core/sheet/frame/sheet-frame.ts";
import { indexPage, sheetCorners } from "../../../../core/sheet/layout/index-page.ts";
import { layOutSheets } from "../../../../core/sheet/layout/lay-out-sheets.ts";
import type { LayoutWish, SheetPlan } from "../../../../core/sheet/layout/sheet-plan.ts";
import { paperSize } from "../../../../core/sheet/page/paper-size.ts";
import type { LonLat } from "../../../../core/units/position.ts";
import { texts, groupsOf } from "../furniture/items.ts";
import { plainRuler } from "../furniture/plain-ruler.ts";

const room = sheetRoom(paperSize("a4"));
const wish: LayoutWish = { way: { kind: "cover" }, scale: 25_000, map: room.map };

/** A walk of so many legs of up to 2 km about a place. */
function walkFrom([lon, lat]: LonLat, legs: number, stepM: number, turn = 1): LonLat[] {
  const points: LonLat[] = [[lon, lat]];
  for (let i = 0; i < legs; i++) {
    const [x, y] = points.at(-1) as LonLat;
    const r = geodesicLibrary.Geodesic.WGS84.Direct(
      y,
      x,
      40 + 60 * Math.sin(i * 1.7 * turn) + i * 3,
      stepM * (0.4 + 0.6 * Math.abs(Math.cos(i * 2.3))),
    );
    points.push([r.lon2 as number, r.lat2 as number]);
  }
  return points;
}

/** Every `everyM` metres of each leg, along its geodesic. */
function* everyMetre(points: readonly LonLat[], everyM: number): Generator<{ leg: number; at: LonLat }> {
  for (let leg = 1; leg < points.length; leg++) {
    const [a, b] = [points[leg - 1] as LonLat, points[leg] as LonLat];
    const line = geodesicLibrary.Geodesic.WGS84.InverseLine(a[1], a[0], b[1], b[0]);
    const length = line.s13;
    for (let s = 0; ; s = Math.min(length, s + everyM)) {
      const r = line.Position(s);
      yield { leg, at: [r.lon2 as number, r.lat2 as number] };
      if (s >= length) break;
    }
  }
}

/** Millimetres within the neat line, worked out by proj4 alone. */
function looker({ frame }: SheetPlan): (at: LonLat) => number {
  const { pointScale, grid, turnDeg } = sheetFrame(frame);
  const definition =
    grid.own?.definition ??
    (grid.zone === null
      ? "+proj=stere +lat_0=90 +lon_0=0 +k=0.994 +x_0=2000000 +y_0=2000000 +datum=WGS84"
      : `+proj=utm +zone=${grid.zone} +datum=WGS84`);
  const to = proj4("WGS84", definition);
  const [e0, n0] = to.forward<[number, number]>([...frame.centre]);
  const { width, height } = frame.map;
  const turn = (turnDeg * Math.PI) / 180;
  return (at) => {
    const [e, n] = to.forward<[number, number]>([...at]);
    const [de, dn] = [e - e0, n - n0].map((m) => (m * 1000) / (frame.scale * pointScale)) as [number, number];
    const x = de * Math.cos(turn) - dn * Math.sin(turn);
    const y = de * Math.sin(turn) + dn * Math.cos(turn);
    return Math.min(width / 2 - Math.abs(x), height / 2 - Math.abs(y));
  };
}

/** The least depth of any place of the walk on the sheet that shows it best. */
function leastDepth(points: readonly LonLat[], sheets: readonly SheetPlan[], everyM: number): number {
  const lookers = sheets.map(looker);
  let least = Infinity;
  for (const { at } of everyMetre(points, everyM))
    least = Math.min(least, Math.max(...lookers.map((depth) => depth(at))));
  return least;
}

describe("every place of the walk lies half the overlap within some sheet", () => {
  const places: [string, LonLat][] = [
    ["equator", [3.2, -0.03]],
    ["45 north", [7.5, 45.05]],
    ["60 north", [8.63, 60.61]],
    ["41 south", [174.8, -41.3]],
    ["±180°", [179.97, -17]],
    ["far north", [20, 83]],
    ["polar grid", [30, 86]],
  ];
  it.each(places)("%s", (_title, start) => {
    const points = walkFrom(start, 14, 2200);
    for (const overlapMm of [0, 15, 30]) {
      const { sheets, notes } = layOutSheets(points, { ...wish, overlapMm });
      expect(sheets.length).toBeGreaterThan(1);
      expect(leastDepth(points, sheets, 10)).toBeGreaterThan(overlapMm / 2 - 0.02);
      expect(notes).toEqual([]);
    }
  });

  it("on every paper, both ways round", () => {
    const points = walkFrom([8.63, 60.61], 10, 2500);
    for (const name of ["a5", "a4", "a3", "letter", "legal", "tabloid"])
      for (const landscape of [false, true]) {
        const { map } = sheetRoom(paperSize(name, landscape));
        const { sheets } = layOutSheets(points, { ...wish, map });
        expect(leastDepth(points, sheets, 25), name).toBeGreaterThan(7.5 - 0.02);
      }
  });

  it("in a grid of the user's", () => {
    const points = walkFrom([-3.2, 55.9], 12, 2000);
    const { sheets } = layOutSheets(points, { ...wish, grid: britishGrid() });
    expect(leastDepth(points, sheets, 10)).toBeGreaterThan(7.5 - 0.02);
  });

  it("with 300 legs, in little time and no more sheets than one a stretch", () => {
    const points = walkFrom([8.63, 60.61], 300, 900, 1.01);
    const { sheets } = layOutSheets(points, wish);
    expect(sheets.length).toBeGreaterThan(3);
    expect(leastDepth(points, sheets, 50)).toBeGreaterThan(7.5 - 0.02);
    expect(new Set(sheets.flatMap(({ legs }) => legs)).size).toBe(300);
  });
});

describe("one grid for all sheets", () => {
  it("is that of the walk's middle, also over a zone's edge", () => {
    const points = walkFrom([11.9, 47], 10, 2500);
    const { sheets, zone, notes } = layOutSheets(points, wish);
    expect(points.some(([lon]) => lon > 12)).toBe(true);
    expect(new Set(sheets.map(({ frame }) => frame.zone))).toEqual(new Set([zone]));
    expect(notes).toEqual([]);
  });

  it("until that is carried on too far, which is said", () => {
    const points: LonLat[] = [
      [5, 47],
      [13.5, 47.1],
    ];
    const { sheets, notes } = layOutSheets(points, { ...wish, scale: 500_000 });
    expect(new Set(sheets.map(({ frame }) => frame.zone)).size).toBeGreaterThan(1);
    expect(notes.join(" ")).toContain("several zones");
    expect(leastDepth(points, sheets, 500)).toBeGreaterThan(7.5 - 0.05);
  });
});

describe("arrows to where the walk goes on", () => {
  it("stand on the neat line, where another sheet shows the same place of the walk well within it", () => {
    const points = walkFrom([8.63, 60.61], 14, 2200);
    const { sheets } = layOutSheets(points, wish);
    let arrows = 0;
    for (const plan of sheets) {
      const frame = sheetFrame(plan.frame);
      for (const { at, edge, sheet } of plan.continues) {
        arrows++;
        const { map } = frame;
        const off = {
          left: at[0] - map.x,
          right: at[0] - map.x - map.width,
          top: at[1] - map.y,
          bottom: at[1] - map.y - map.height,
        }[edge];
        expect(Math.abs(off)).toBeLessThan(0.001);
        const ground = frame.toLonLat(at);
        // On the walk: nearer than 2 m to some place of it.
        let nearest = Infinity;
        for (const { at: place } of everyMetre(points, 3))
          nearest = Math.min(nearest, inverse(ground, place).distanceM);
        expect(nearest).toBeLessThan(2.5);
        expect(looker(sheets[sheet - 1] as SheetPlan)(ground)).toBeGreaterThan(7.5 - 0.02);
      }
    }
    expect(arrows).toBeGreaterThanOrEqual(2 * (sheets.length - 1));
  });
});

describe("fit to one page", () => {
  it("takes the largest usual scale at which everything is on it, and says which", () => {
    const points = walkFrom([8.63, 60.61], 9, 1500);
    const { sheets, scale, notes } = layOutSheets(points, { ...wish, way: { kind: "fit" } });
    expect(sheets).toHaveLength(1);
    expect(leastDepth(points, sheets, 10)).toBeGreaterThan(7.5 - 0.02);
    expect(notes.join(" ")).toContain("largest usual scale");
    // At the next larger one it is not.
    const larger = { 50_000: 40_000, 40_000: 25_000, 25_000: 24_000, 62_500: 50_000 }[scale] as number;
    const [plan] = sheets as [SheetPlan];
    expect(leastDepth(points, [{ ...plan, frame: { ...plan.frame, scale: larger } }], 10)).toBeLessThan(7.5);
  });

  it("or the exact one, which leaves less than a hundredth over", () => {
    const points = walkFrom([8.63, 60.61], 9, 1500);
    const { sheets, notes } = layOutSheets(points, { ...wish, way: { kind: "fit", exact: true } });
    const depth = leastDepth(points, sheets, 5);
    expect(depth).toBeGreaterThan(7.5 - 0.02);
    expect(depth).toBeLessThan(7.5 + 0.01 * room.map.height);
    expect(notes.join(" ")).toContain("just fits");
  });

  it("keeps the scale of a walk without length", () => {
    const { scale } = layOutSheets(
      [
        [8, 60],
        [8, 60],
      ],
      { ...wish, way: { kind: "fit" } },
    );
    expect(scale).toBe(25_000);
  });
});

describe("a sheet a leg", () => {
  const points = walkFrom([8.63, 60.61], 6, 3000);

  it.each(["leg", "north"] as const)("with %s up holds the whole leg", (up) => {
    const long: LonLat[] = [...points, [8.9, 60.8]];
    const { sheets } = layOutSheets(long, { ...wish, way: { kind: "strips", up } });
    expect(new Set(sheets.flatMap(({ legs }) => legs))).toEqual(new Set([1, 2, 3, 4, 5, 6, 7]));
    for (let leg = 1; leg < long.length; leg++) {
      const own = sheets.filter(({ legs }) => legs.includes(leg));
      expect(leastDepth(long.slice(leg - 1, leg + 1), own, 10)).toBeGreaterThan(7.5 - 0.05);
    }
    // The seventh takes several.
    expect(sheets.filter(({ legs }) => legs.includes(7)).length).toBeGreaterThan(2);
  });

  it("runs straight up the page", () => {
    const { sheets } = layOutSheets(points, { ...wish, way: { kind: "strips", up: "leg" } });
    for (const { frame, legs } of sheets) {
      const sheet = sheetFrame(frame);
      const leg = legs[0] as number;
      const [a, b] = [sheet.toPaper(points[leg - 1] as LonLat), sheet.toPaper(points[leg] as LonLat)];
      expect(Math.abs(a[0] - b[0])).toBeLessThan(0.001);
      expect(b[1]).toBeLessThan(a[1]);
    }
  });
});

describe("odd walks", () => {
  const code = (run: () => unknown): string => {
    try {
      run();
    } catch (thrown) {
      return (thrown as Fault).code;
    }
    return "none";
  };

  it("an empty walk has one sheet, on the place given or on the map", () => {
    const at = layOutSheets([], { ...wish, place: [8, 60] });
    expect(at.sheets[0]?.frame.centre).toEqual([8, 60]);
    const onMap = layOutSheets([], { ...wish, mapBounds: [8, 60, 9, 61] });
    expect(onMap.sheets[0]?.frame.centre).toEqual([8.5, 60.5]);
    expect(code(() => layOutSheets([], wish))).toBe("bad-argument");
  });

  it("one point has one sheet around it", () => {
    expect(layOutSheets([[8, 60]], wish).sheets[0]?.frame.centre).toEqual([8, 60]);
  });

  it("a walk off the map is laid out all the same, and its sheets say so", () => {
    const points = walkFrom([8.63, 60.61], 8, 2500);
    const off = layOutSheets(points, { ...wish, mapBounds: [0, 0, 1, 1] });
    expect(off.sheets.every(({ notes }) => notes.join(" ").includes("off the map"))).toBe(true);
    const east = (points[6] as LonLat)[0];
    const half = layOutSheets(points, { ...wish, mapBounds: [8.5, 60.5, east, 60.9] });
    const told = half.sheets.map(({ notes }) => notes.length > 0);
    const runsOff = half.sheets.map((plan) => {
      const depth = looker(plan);
      return [...everyMetre(points, 20)].some(({ at }) => at[0] > east && depth(at) > 0);
    });
    expect(told).toEqual(runsOff);
    expect(new Set(told)).toEqual(new Set([true, false]));
  });

  it("frames placed by hand stand as placed, and legs on none are named", () => {
    const points = walkFrom([8.63, 60.61], 6, 2500);
    const frames = [
      { centre: points[0] as LonLat },
      { centre: points[3] as LonLat, scale: 10_000, turnDeg: 20 },
    ];
    const { sheets, notes } = layOutSheets(points, { ...wish, way: { kind: "placed", frames } });
    expect(sheets.map(({ frame }) => [frame.centre, frame.scale, frame.turnDeg])).toEqual([
      [points[0], 25_000, undefined],
      [points[3], 10_000, 20],
    ]);
    expect(notes.join(" ")).toMatch(/lies on no sheet/);
  });

  it("a walk of hundreds of sheets, an overlap without room, a walk around the world are one sentence", () => {
    expect(
      code(() =>
        layOutSheets(
          [
            [8, 60],
            [28, 60],
          ],
          { ...wish, scale: 10_000 },
        ),
      ),
    ).toBe("bad-argument");
    expect(
      code(() =>
        layOutSheets(
          [
            [8, 60],
            [8.1, 60],
          ],
          { ...wish, overlapMm: 180 },
        ),
      ),
    ).toBe("bad-argument");
    expect(
      code(() =>
        layOutSheets(
          [
            [8, 60],
            [8.1, Number.NaN],
          ],
          wish,
        ),
      ),
    ).toBe("bad-argument");
    expect(["out-of-range", "bad-argument"]).toContain(
      code(() =>
        layOutSheets(
          [
            [-80, 40],
            [100, 40],
          ],
          { ...wish, way: { kind: "fit" } },
        ),
      ),
    );
  });
});

it("the index shows every sheet with its number, and the walk within", () => {
  const points = walkFrom([8.63, 60.61], 14, 2200);
  const layout = layOutSheets(points, wish);
  const page = indexPage(layout, points, "Walk", paperSize("a4"), plainRuler);
  const [index] = groupsOf(page.items, "index");
  const clip = index?.clip as { x: number; y: number; width: number; height: number };
  expect(texts(index?.items ?? []).map(({ text }) => text)).toEqual(
    layout.sheets.map(({ number }) => String(number)),
  );
  const rings = (index?.items ?? []).flatMap((item) =>
    item.kind === "shape" && item.shape.closed ? item.shape.parts : [],
  );
  expect(rings).toHaveLength(layout.sheets.length);
  for (const ring of rings)
    for (let i = 0; i < ring.length; i += 2) {
      expect(ring[i]).toBeGreaterThan(clip.x);
      expect(ring[i]).toBeLessThan(clip.x + clip.width);
      expect(ring[i + 1]).toBeGreaterThan(clip.y);
      expect(ring[i + 1]).toBeLessThan(clip.y + clip.height);
    }
  expect(sheetCorners(sheetFrame((layout.sheets[0] as SheetPlan).frame))).toHaveLength(4);
});
