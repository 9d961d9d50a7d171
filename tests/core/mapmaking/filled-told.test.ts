/**
 * Filled ground, told where it matters: on the printed sheet and in the notes of a leg over it. The hole is cut into a real
 * model by hand; where it lies follows from the model's geotransform as `gdalinfo` reads it (origin −84.41375, 36.73291667,
 * 1/1200° a cell), how far along the leg from GeographicLib.
 */
import { Geodesic } from "geographiclib-geodesic";
import { beforeAll, describe, expect, it } from "vitest";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { legSearchBox } from "../../../core/legs/search-box.ts";
import { fillGrid } from "../../../core/mapmaking/elevation/fill-voids.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { sheetFrame } from "../../../core/sheet/frame/sheet-frame.ts";
import { drawMap } from "../../../core/sheet/map/draw-map.ts";
import type { ShapeItem } from "../../../core/sheet/page/page.ts";
import { type Ground, openGround, prepareGround } from "../../../core/terrain/ground.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { flat, groupsOf, texts } from "../sheet/furniture/items.ts";
import { plainRuler } from "../sheet/furniture/plain-ruler.ts";
import { MODELS, readModel } from "./elevation-fixture.ts";

/** Samples without a height: columns and rows, both ends included. */
const HOLE = { west: 40, east: 59, north: 30, south: 44 };
const SIDE = 90;
/** The middle of a sample; halves lie between two. */
const at = (column: number, row: number): LonLat => [
  -84.41375 + (column + 0.5) / 1200,
  36.732916666666668 - (row + 0.5) / 1200,
];

let ground: Ground;
beforeAll(async () => {
  const model = await readModel(MODELS[0]);
  const heights = Float32Array.from({ length: SIDE * SIDE }, (_, i) => {
    const [c, r] = [i % SIDE, Math.floor(i / SIDE)];
    const isVoid = c >= HOLE.west && c <= HOLE.east && r >= HOLE.north && r <= HOLE.south;
    return isVoid ? Number.NaN : model.heights[r * model.columns + c]!;
  });
  const { grid } = await fillGrid({ ...model, columns: SIDE, rows: SIDE, heights }, 20);
  const { archive, terrain } = await makeMap({
    elevation: grid,
    interval: { value: 20, unit: "m" },
    about: { title: "T", source: null, date: null, attribution: null, datum: null, invented: false },
    derive: { streams: false, ridges: false, spotHeights: false, cliffs: false },
  });
  ground = await openGround(bytesSource("made", archive), terrain && bytesSource("made heights", terrain));
});

async function notesOf(from: LonLat, to: LonLat): Promise<string[]> {
  const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
  await prepareGround(ground, legSearchBox(from, to, settings));
  const leg = { n: 1, from: { label: "A", lonLat: from }, to: { label: "B", lonLat: to } };
  return legFigures(leg, ground, settings).notes.filter((note) => /filled in/.test(note));
}
const metres = ([lon, lat]: LonLat, [lon2, lat2]: LonLat): number =>
  Geodesic.WGS84.Inverse(lat, lon, lat2, lon2).s12 as number;

describe("a leg over filled ground", () => {
  it("says from where to where its heights are a guess", async () => {
    const [from, to] = [at(25, 37), at(75, 37)];
    const notes = await notesOf(from, to);
    expect(notes).toHaveLength(1);
    const [, enters, leaves] = /from (\d+) m to (\d+) m/.exec(notes[0]!)!.map(Number);
    // Half-way between the last sample with a height and the first without; tile units are half a metre.
    expect(Math.abs(enters! - metres(from, at(39.5, 37)))).toBeLessThan(2);
    expect(Math.abs(leaves! - metres(from, at(59.5, 37)))).toBeLessThan(2);
  });
  it("or that they are on the whole leg", async () => {
    expect((await notesOf(at(44, 37), at(55, 40))).join()).toMatch(/on the whole leg/);
  });
  it("and nothing beside it", async () => {
    expect(await notesOf(at(25, 47), at(75, 47))).toEqual([]);
  });
});

describe("filled ground on a sheet", () => {
  const sheetAt = async (centre: LonLat) => {
    const frame = sheetFrame({
      centre,
      scale: 25_000,
      map: { x: 20, y: 20, width: 60, height: 60 },
      turnDeg: 0,
    });
    await ground.map.prepare(frame.bbox);
    return { frame, map: drawMap(ground.map, frame, {}, plainRuler, []) };
  };

  it("is hatched all over and only there, named and noted", async () => {
    const { frame, map } = await sheetAt(at(49.5, 37));
    const shapes = groupsOf(map.items, "filled heights")
      .flatMap(({ items }) => flat(items))
      .filter((item): item is ShapeItem => item.kind === "shape");
    const found: LonLat[] = [];
    for (const { shape } of shapes)
      for (const part of shape.parts)
        for (let i = 0; i < part.length; i += 2) found.push(frame.toLonLat([part[i]!, part[i + 1]!]));
    const lons = found.map(([lon]) => lon);
    const lats = found.map(([, lat]) => lat);
    const [west, north] = at(39.5, 29.5);
    const [east, south] = at(59.5, 44.5);
    // A tenth of a cell is 8 m.
    expect(Math.min(...lons) - west).toBeCloseTo(0, 4);
    expect(Math.max(...lons) - east).toBeCloseTo(0, 4);
    expect(Math.max(...lats) - north).toBeCloseTo(0, 4);
    expect(Math.min(...lats) - south).toBeCloseTo(0, 4);
    // In each quarter of it as in the others.
    const [midLon, midLat] = at(49.5, 37);
    for (const isEast of [true, false])
      for (const isNorth of [true, false]) {
        const quarter = found.filter(([lon, lat]) => lon > midLon === isEast && lat > midLat === isNorth);
        expect(quarter.length).toBeGreaterThan(8);
      }
    expect(texts(map.names).map(({ text }) => text)).toContain("heights filled in");
    expect(map.notes.join(" ")).toMatch(/hatched and ringed by dashes: contours there are a guess/);
  });

  it("a sheet beside it says nothing of it", async () => {
    const { map } = await sheetAt(at(20, 70));
    expect(groupsOf(map.items, "filled heights").flatMap(({ items }) => flat(items))).toEqual([]);
    expect(map.notes.join(" ")).not.toMatch(/filled in/);
  });
});
