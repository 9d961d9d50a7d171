/** Lines laid on paper quickly against the projection itself, which tests/core/geodesy holds to GeographicLib and PROJ. */
import { describe, expect, it } from "vitest";
import { britishGrid } from "../../../../core/geodesy/grid.ts";
import { sheetFrame } from "../../../../core/sheet/frame/sheet-frame.ts";
import type { LonLat } from "../../../../core/units/position.ts";

const MAP = { x: 10, y: 10, width: 400, height: 277 };
const PLACES: readonly (readonly [string, LonLat])[] = [
  ["at the equator", [9, 0.01]],
  ["at 45 north", [7.5, 45]],
  ["at 60 north, the edge of a zone", [11.99, 60]],
  ["at 79 north", [20, 79]],
  ["at 41 south", [174.8, -41.3]],
  ["at 180 degrees", [179.98, -17]],
  ["beyond UTM", [30, 86]],
  ["at the pole", [12, 89.99]],
];

describe.each(PLACES)("a sheet %s", (_, centre) => {
  it.each([10_000, 25_000, 63_360, 250_000, 1_000_000])("lays lines within 0.001 mm at 1:%i", (scale) => {
    const frame = sheetFrame({ centre, scale, map: MAP, turnDeg: 20 });
    const coords: number[] = [];
    // Across the sheet and well beyond it on all sides, where tiles reach.
    for (let i = -40; i <= 140; i += 9)
      for (let j = -40; j <= 140; j += 9) {
        const at = frame.toLonLat([MAP.x + (MAP.width * i) / 100, MAP.y + (MAP.height * j) / 100]);
        coords.push(...at);
      }
    const line = frame.lineToPaper(Float64Array.from(coords));
    let worst = 0;
    for (let i = 0; i < coords.length; i += 2) {
      const [x, y] = frame.toPaper([coords[i] as number, coords[i + 1] as number]);
      worst = Math.max(worst, Math.hypot(x - (line[i] as number), y - (line[i + 1] as number)));
    }
    expect(worst).toBeLessThan(0.001);
  });
});

it("lays lines of a grid with another datum within 0.001 mm", () => {
  const frame = sheetFrame({ centre: [-3.2, 54.5], scale: 25_000, map: MAP, grid: britishGrid() });
  const coords = Float64Array.of(-3.3, 54.45, -3.2, 54.5, -3.1, 54.53);
  const line = frame.lineToPaper(coords);
  for (let i = 0; i < coords.length; i += 2) {
    const [x, y] = frame.toPaper([coords[i] as number, coords[i + 1] as number]);
    expect(Math.hypot(x - (line[i] as number), y - (line[i + 1] as number))).toBeLessThan(0.001);
  }
});

it("refuses a position that is none, as the projection does", () => {
  const frame = sheetFrame({ centre: [7.5, 45], scale: 25_000, map: MAP });
  expect(() => frame.lineToPaper(Float64Array.of(7.5, 45, Number.NaN, 45))).toThrow(/needs two numbers/);
});
