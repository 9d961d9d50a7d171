import { intersection } from "polyclip-ts";
import { beforeAll, describe, expect, it } from "vitest";
import { drawMap } from "../../../../core/sheet/map/draw-map.ts";
import { drawnContours } from "../../../../core/sheet/map/map-look.ts";
import type { Rect, ShapeItem } from "../../../../core/sheet/page/page.ts";
import type { Ground } from "../../../../core/terrain/ground.ts";
import { flat, groupsOf, texts } from "../furniture/items.ts";
import { plainRuler } from "../furniture/plain-ruler.ts";
import { areaOf, coveredMm2, type Polygon, sampleFrame, sampleGround, textCorners } from "./sample-sheet.ts";

let ground: Ground;
beforeAll(async () => {
  ground = await sampleGround();
});

const KEEP_FREE: readonly Rect[] = [
  { x: 60, y: 60, width: 40, height: 9 },
  { x: 120, y: 150, width: 12, height: 60 },
];
const ringOf = ({ x, y, width, height }: Rect): Polygon => [
  [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ],
];
const common = (a: Polygon, b: Polygon): number => areaOf(intersection(a, b));

describe.each([
  [10_000, 0],
  [25_000, 0],
  [25_000, 37],
  [50_000, 0],
  [63_360, 0],
])("names on a sheet at 1:%i, turned by %i°", (scale, turnDeg) => {
  const drawn = async () => {
    const frame = await sampleFrame(ground, scale, turnDeg);
    return { frame, map: drawMap(ground.map, frame, {}, plainRuler, KEEP_FREE) };
  };

  it("overlap neither one another nor what is kept free, and keep within the neat line (overlay by polyclip)", async () => {
    const { frame, map } = await drawn();
    const boxes = texts(map.names).map((item) => textCorners(item, plainRuler));
    expect(boxes.length).toBeGreaterThan(20);
    const { x, y, width, height } = frame.map;
    for (const [i, box] of boxes.entries()) {
      for (const [px, py] of box[0] as [number, number][]) {
        expect(px).toBeGreaterThan(x);
        expect(px).toBeLessThan(x + width);
        expect(py).toBeGreaterThan(y);
        expect(py).toBeLessThan(y + height);
      }
      for (const rect of KEEP_FREE) expect(common(box, ringOf(rect))).toBeLessThan(1e-9);
      for (const other of boxes.slice(i + 1)) expect(common(box, other)).toBeLessThan(1e-9);
    }
  });

  it("contour figures have their heads towards higher ground, by the terrain, and say the height there", async () => {
    const { frame, map } = await drawn();
    const figures = groupsOf(map.names, "contour figures").flatMap(({ items }) => texts(items));
    expect(figures.length).toBeGreaterThan(3);
    for (const { text, at, turnDeg: turn = 0, sizeMm } of figures) {
      const [ux, uy] = [Math.sin((turn * Math.PI) / 180), -Math.cos((turn * Math.PI) / 180)];
      const half = plainRuler.capHeightMm("text", sizeMm) / 2;
      const heightAt = (up: number): number =>
        ground.elevation?.at(frame.toLonLat([at[0] + ux * (half + up), at[1] + uy * (half + up)])) ??
        Number.NaN;
      expect(heightAt(1.5)).toBeGreaterThan(heightAt(-1.5));
      // Within an interval: the figures' middle lies on the contour but for the line's slight bend.
      expect(Math.abs(heightAt(0) - Number(text))).toBeLessThan(10);
    }
  });

  it("the same map is drawn the same twice", async () => {
    expect((await drawn()).map).toEqual((await drawn()).map);
  });
});

describe("the ground on a sheet", () => {
  // The sample map's tiles of zoom 14 read by GDAL 3.6 (MVT driver), projected to EPSG:32608 by PROJ, united and cut to the
  // sheet's rectangle by GEOS (shapely unary_union, intersection); grid scale 0.99983979 at the centre by GeoConvert -c.
  it.each([
    ["woods", 11295.73],
    ["water", 2348.01],
  ])("%s cover what GEOS finds, within 0.5 %%: %f mm²", async (name, expectedMm2) => {
    const frame = await sampleFrame(ground, 25_000);
    const [found] = groupsOf(drawMap(ground.map, frame, {}, plainRuler, []).items, name);
    const shapes = flat(found?.items ?? []).filter((item): item is ShapeItem => item.kind === "shape");
    expect(Math.abs(coveredMm2(shapes) / expectedMm2 - 1)).toBeLessThan(0.005);
  });

  it("nothing is drawn beyond the neat line", async () => {
    const frame = await sampleFrame(ground, 15_000);
    const { x, y, width, height } = frame.map;
    let seen = 0;
    const [map] = drawMap(ground.map, frame, {}, plainRuler, []).items;
    expect(map?.kind === "group" && map.clip).toEqual(frame.map);
    for (const item of flat(map ? [map] : [])) {
      if (item.kind !== "shape") continue;
      // Ticks and casings reach out by less than a millimetre and are cut by the clip.
      for (const part of item.shape.parts)
        for (let i = 0; i < part.length; i += 2) {
          seen++;
          expect(Math.abs((part[i] as number) - (x + width / 2))).toBeLessThan(width / 2 + 1);
          expect(Math.abs((part[i + 1] as number) - (y + height / 2))).toBeLessThan(height / 2 + 1);
        }
    }
    expect(seen).toBeGreaterThan(1000);
  });

  it("beyond the map's edge it is hatched, named and noted", async () => {
    const frame = await sampleFrame(ground, 63_360);
    const map = drawMap(ground.map, frame, {}, plainRuler, []);
    expect(map.notes.join(" ")).toMatch(/beyond the edge of the map/);
    expect(groupsOf(map.items, "no map").flatMap(({ items }) => flat(items)).length).toBeGreaterThan(0);
    expect(texts(map.names).map(({ text }) => text)).toContain("no map here");
  });

  it("fewer contours are drawn where they would run together, and it is said", () => {
    const at = (value: number, unit: "m" | "ft", scale: number) =>
      drawnContours({ interval: { value, unit } }, scale);
    expect(at(10, "m", 25_000)).toEqual({ every: 1, interval: { value: 10, unit: "m" } });
    expect(at(5, "m", 50_000)).toEqual({ every: 2, interval: { value: 10, unit: "m" } });
    expect(at(20, "ft", 24_000)).toEqual({ every: 1, interval: { value: 20, unit: "ft" } });
    expect(at(20, "ft", 62_500)).toEqual({ every: 2, interval: { value: 40, unit: "ft" } });
  });
});
