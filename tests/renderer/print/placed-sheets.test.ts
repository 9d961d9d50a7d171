import { distance } from "@turf/turf";
import { expect, it } from "vitest";
import { layOutSheets } from "../../../core/sheet/layout/lay-out-sheets.ts";
import { sheetFrame } from "../../../core/sheet/frame/sheet-frame.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { movedCentre, outlineOf, placedOf, withCentre } from "../../../renderer/print/placed-sheets.ts";

const MAP = { x: 10, y: 20, width: 180, height: 240 };
const CENTRE: LonLat = [20.45, -33.98];
const frame = sheetFrame({ centre: CENTRE, scale: 25_000, map: MAP });

it("moves a sheet by millimetres of its paper: 10 mm at 1:25 000 are 250 m", () => {
  for (const [right, down] of [
    [10, 0],
    [0, -10],
    [6, 8],
  ] as const) {
    const to = movedCentre(frame, right, down);
    // turf works on a sphere: up to 0.6 % off the ellipsoid.
    expect(Math.abs(distance([...CENTRE], [...to], { units: "meters" }) / 250 - 1)).toBeLessThan(0.006);
  }
  expect(movedCentre(frame, 10, 0)[0]).toBeGreaterThan(CENTRE[0]);
  expect(movedCentre(frame, 0, 10)[1]).toBeLessThan(CENTRE[1]);
});

it("outlines the neat line from corner to corner", () => {
  const around = outlineOf(frame).map((at) => frame.toPaper(at));
  const [right, bottom] = [MAP.x + MAP.width, MAP.y + MAP.height];
  for (const [x, y] of around) {
    const off = Math.min(Math.abs(x - MAP.x), Math.abs(x - right), Math.abs(y - MAP.y), Math.abs(y - bottom));
    expect(off).toBeLessThan(1e-3);
  }
  for (const [x, y] of [
    [MAP.x, MAP.y],
    [right, MAP.y],
    [right, bottom],
    [MAP.x, bottom],
  ] as const)
    expect(around.some(([ax, ay]) => Math.hypot(ax - x, ay - y) < 1e-3)).toBe(true);
});

it("keeps sheets where they lie when one of them is moved", () => {
  const points = Array.from({ length: 12 }, (_, i): LonLat => [20.4 + i * 0.02, -33.98]);
  const layout = layOutSheets(points, { way: { kind: "cover" }, scale: 25_000, map: MAP });
  const placed = placedOf(layout);
  expect(placed.length).toBeGreaterThan(2);
  const again = layOutSheets(points, {
    way: { kind: "placed", frames: withCentre(placed, 1, [20.5, -33.97]) },
    scale: 25_000,
    map: MAP,
  });
  again.sheets.forEach(({ frame: one }, i) => {
    expect(one.centre).toEqual(i === 1 ? [20.5, -33.97] : layout.sheets[i]?.frame.centre);
    expect(one.scale).toBe(25_000);
  });
});
