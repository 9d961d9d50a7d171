/** Grid lines and their figures against GeographicLib: tests/fixtures/sheet/make-grid-lines.py. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { formatBritish } from "../../../../core/geodesy/british-reference.ts";
import { britishGrid, gridOf } from "../../../../core/geodesy/grid.ts";
import { coordinateRuns, squareLetters, squaresOn } from "../../../../core/sheet/furniture/grid-labels.ts";
import { type GridLine, gridLines, gridStepM } from "../../../../core/sheet/furniture/grid-lines.ts";
import { shownGrids } from "../../../../core/sheet/furniture/shown-grids.ts";
import { type FrameWish, sheetFrame, type SheetFrame } from "../../../../core/sheet/frame/sheet-frame.ts";
import type { LonLat } from "../../../../core/units/position.ts";

interface Case {
  readonly title: string;
  readonly centre: LonLat;
  readonly zone: number;
  readonly near: readonly [number, number];
  readonly groundOf1000East: number;
  readonly groundOf1000North: number;
  readonly crossings: readonly (readonly [e: number, n: number, lon: number, lat: number, square: string])[];
}
const { cases } = JSON.parse(
  readFileSync(new URL("../../../fixtures/sheet/grid-lines.json", import.meta.url), "utf8"),
) as { cases: Case[] };

const MAP = { x: 13, y: 16, width: 270, height: 360 };
const frameAt = (centre: LonLat, more: Partial<FrameWish> = {}): SheetFrame =>
  sheetFrame({ centre, scale: 25_000, map: MAP, ...more });
const linesOn = (frame: SheetFrame, join: "neighbour" | "carryOn" = "neighbour"): GridLine[] =>
  shownGrids(frame, join).grids.flatMap((shown) => gridLines(frame, shown, 1000));

/** Least distance of a place on paper from a line, millimetres. */
function offMm(line: GridLine, [x, y]: readonly [number, number]): number {
  let least = Infinity;
  for (const part of line.parts)
    for (let i = 2; i < part.length; i += 2) {
      const [ax, ay, bx, by] = [part[i - 2], part[i - 1], part[i], part[i + 1]] as [
        number,
        number,
        number,
        number,
      ];
      const [dx, dy] = [bx - ax, by - ay];
      const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
      least = Math.min(least, Math.hypot(ax + dx * t - x, ay + dy * t - y));
    }
  return least;
}

const inMap = ([x, y]: readonly [number, number]): boolean =>
  x > MAP.x && x < MAP.x + MAP.width && y > MAP.y && y < MAP.y + MAP.height;

describe("grid lines lie where GeoConvert has them", () => {
  it.each(cases.map((c) => [c.title, c] as const))("%s", (_title, { centre, zone, crossings }) => {
    for (const turnDeg of [0, 33]) {
      const frame = frameAt(centre, { turnDeg });
      const lines = linesOn(frame);
      let seen = 0;
      for (const [e, n, lon, lat] of crossings) {
        const at = frame.toPaper([lon, lat]);
        if (!inMap(at)) continue;
        for (const [axis, value] of [
          ["easting", e],
          // South of the equator as counted there.
          ["northing", n < 0 ? n + 10_000_000 : n],
        ] as const) {
          const line = lines.find(
            (l) => l.axis === axis && l.valueM === value && (l.shown.grid.zone ?? 0) === zone,
          );
          const off = line ? offMm(line, at) : Infinity;
          // A neighbour's line stops at the border.
          if (line?.shown.holds && !line.shown.holds([lon, lat])) continue;
          if (!line && lines.some((l) => l.shown.holds && !l.shown.holds([lon, lat]))) continue;
          expect(off, `${axis} ${value}`).toBeLessThan(0.01);
          seen++;
        }
      }
      expect(seen).toBeGreaterThan(12);
    }
  });

  it.each(cases.filter(({ title }) => !title.includes("western")).map((c) => [c.title, c] as const))(
    "a kilometre of the grid is its ground length by GeodSolve: %s",
    (_title, { centre, zone, near: [e, n], groundOf1000East, groundOf1000North }) => {
      const frame = frameAt(centre, zone === 33 ? { zone: 33 } : {});
      const lines = linesOn(frame, "carryOn");
      const at = (axis: GridLine["axis"], value: number): readonly [number, number] => {
        const part = lines.find((l) => l.axis === axis && l.valueM === value)?.parts[0] as Float64Array;
        return [part[0] as number, part[1] as number];
      };
      const east = at("easting", e + 1000)[0] - at("easting", e)[0];
      const north = at("northing", n)[1] - at("northing", n + 1000)[1];
      expect(Math.abs(east - groundOf1000East / 25)).toBeLessThan(0.002);
      expect(Math.abs(north - groundOf1000North / 25)).toBeLessThan(0.002);
    },
  );

  it("letters of the 100 km squares are GeoConvert's", () => {
    for (const { centre, zone, crossings } of cases) {
      const frame = frameAt(centre, zone > 0 ? { zone } : {});
      for (const [, , lon, lat, square] of crossings)
        // Just inside the square, since the crossing itself is its corner on a line of 100 km.
        expect(squareLetters(frame, [lon, lat])).toBe(square.slice(-2));
    }
  });
});

describe("two zones on one sheet", () => {
  const frame = frameAt([11.999, 47]);

  it("has each grid on its own ground only, and says so", () => {
    const { grids, borders, notes } = shownGrids(frame, "neighbour");
    expect(grids.map(({ grid }) => grid.zone)).toEqual([32, 33]);
    expect(notes.join(" ")).toContain("UTM zone 33");
    // The border is the meridian of 12° E.
    for (const line of borders)
      for (let i = 0; i < line.length; i += 2)
        expect(frame.toLonLat([line[i] as number, line[i + 1] as number])[0]).toBeCloseTo(12, 6);
    expect(borders.length).toBe(1);
    for (const { parts, shown } of linesOn(frame))
      for (const part of parts)
        for (let i = 0; i < part.length; i += 2) {
          const [lon] = frame.toLonLat([part[i] as number, part[i + 1] as number]);
          expect(shown.grid.zone === 32 ? lon <= 12 + 1e-6 : lon >= 12 - 1e-6).toBe(true);
        }
  });

  it("carries the sheet's own on where asked, and says so", () => {
    const { grids, notes } = shownGrids(frame, "carryOn");
    expect(grids).toHaveLength(1);
    expect(notes.join(" ")).toContain("carried on");
    expect(linesOn(frame, "carryOn").every(({ parts }) => parts.length === 1)).toBe(true);
  });

  it("follows the exceptions of the north: zone 32 begins at 3° E in band V", () => {
    const norway = frameAt([3.001, 60]);
    const { grids } = shownGrids(norway, "neighbour");
    expect(new Set(grids.map(({ grid }) => grid.zone))).toEqual(new Set([31, 32]));
  });

  it("runs across ±180°", () => {
    const { grids } = shownGrids(frameAt([179.999, -17]), "neighbour");
    expect(grids.map(({ grid }) => grid.zone)).toEqual([60, 1]);
  });
});

it("a sheet over a band's edge and one over the equator say how references begin", () => {
  expect(shownGrids(frameAt([9, 48]), "neighbour").notes.join(" ")).toMatch(
    /band U north of 48° N and band T/,
  );
  expect(shownGrids(frameAt([3.2, 0.01]), "neighbour").notes.join(" ")).toMatch(/equator/);
});

describe("a grid of the user's", () => {
  it("has the British letters and lines at British kilometres", () => {
    // Ordnance Survey, A Guide to Coordinate Systems in Great Britain: TG 51409 13177 is at 52°39′27.2531″ N 1°43′4.5177″ E on
    // OSGB36's Airy ellipsoid; the square TG holds the place on WGS 84 as well.
    const frame = frameAt([1.716, 52.658], { grid: britishGrid() });
    expect(squaresOn(frame)).toEqual(["TG"]);
    const lines = linesOn(frame);
    expect(lines.length).toBeGreaterThan(10);
    for (const { axis, valueM, parts } of lines) {
      const part = parts[0] as Float64Array;
      const at = frame.paperToGrid([part[0] as number, part[1] as number]);
      expect(at[axis === "easting" ? 0 : 1]).toBeCloseTo(valueM, 3);
    }
    expect(formatBritish([651_409.903, 313_177.27], 100_000)).toBe("TG");
  });

  it("in feet has lines at whole thousands of its own unit", () => {
    const feet = gridOf(
      "feet",
      "+proj=tmerc +lat_0=30 +lon_0=-95 +k=0.9999 +x_0=600000 +y_0=0 +datum=WGS84 +units=us-ft",
    );
    const frame = frameAt([-95.1, 30.4], { grid: feet });
    const step = gridStepM(25_000, feet.projection.unitM);
    const [shown] = shownGrids(frame, "neighbour").grids;
    const values = gridLines(frame, shown as never, step).map(({ valueM }) => valueM / feet.projection.unitM);
    expect(values.length).toBeGreaterThan(3);
    for (const value of values) expect(value % 1000).toBeCloseTo(0, 6);
  });
});

it("the distance of lines goes by the scale", () => {
  // Common practice, no source: kilometres on the scales of walkers' maps.
  for (const scale of [15_000, 24_000, 25_000, 50_000, 62_500, 63_360]) expect(gridStepM(scale)).toBe(1000);
  expect(gridStepM(10_000)).toBe(500);
  expect(gridStepM(2500)).toBe(100);
  expect(gridStepM(100_000)).toBe(2000);
  expect(gridStepM(250_000)).toBe(5000);
  expect(gridStepM(1_000_000)).toBe(20_000);
});

it("lines so close that they hide the map are refused", () => {
  expect(() => linesOn(frameAt([9, 47], { scale: 1_000_000 }))).toThrow(/cover the map/);
});

it("figures have the principal digits large and the rest small", () => {
  const words = (value: number, axis: "easting" | "northing", full: boolean): string =>
    coordinateRuns(value, axis, full)
      .map(({ text, look }) => (look.face === "textBold" ? `*${text}*` : text))
      .join("|");
  expect(words(472_000, "easting", false)).toBe("4|*72*");
  expect(words(472_000, "easting", true)).toBe("4|*72*|000mE");
  expect(words(5_204_000, "northing", true)).toBe("52|*04*|000mN");
  expect(words(472_500, "easting", false)).toBe("4|*72*|500");
  expect(words(0, "northing", false)).toBe("*00*");
});
