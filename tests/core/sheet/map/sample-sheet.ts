import { readFileSync } from "node:fs";
import { union, xor } from "polyclip-ts";
import { bytesSource } from "../../../../core/map/source.ts";
import type { Ground } from "../../../../core/terrain/ground.ts";
import { openGround } from "../../../../core/terrain/ground.ts";
import { type SheetFrame, sheetFrame } from "../../../../core/sheet/frame/sheet-frame.ts";
import type { ShapeItem, TextItem } from "../../../../core/sheet/page/page.ts";
import type { TextRuler } from "../../../../core/sheet/page/text-ruler.ts";

const SAMPLE = new URL("../../../../sample-maps/", import.meta.url);
const read = (file: string): Uint8Array => new Uint8Array(readFileSync(new URL(file, SAMPLE)));

/** The demo map, whose ground is invented. */
export const sampleGround = (): Promise<Ground> =>
  openGround(
    bytesSource("sample", read("uldermoor.pmtiles")),
    bytesSource("sample terrain", read("uldermoor.terrain.pmtiles")),
  );

export async function sampleFrame(ground: Ground, scale: number, turnDeg = 0): Promise<SheetFrame> {
  const frame = sheetFrame({
    centre: [-133.185, 46.343],
    scale,
    map: { x: 20, y: 20, width: 170, height: 240 },
    turnDeg,
  });
  await ground.map.prepare(frame.bbox);
  await ground.elevation?.prepare(frame.bbox);
  return frame;
}

export type Polygon = [number, number][][];

/** The corners of a text's box, from baseline less descent to the top of capitals. */
export function textCorners(item: TextItem, ruler: TextRuler): Polygon {
  const width = ruler.widthMm(item.text, item.face, item.sizeMm);
  const left = item.anchor === "middle" ? -width / 2 : item.anchor === "end" ? -width : 0;
  const [up, down] = [ruler.capHeightMm(item.face, item.sizeMm), ruler.descentMm(item.face, item.sizeMm)];
  const turn = ((item.turnDeg ?? 0) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const ring = [
    [left, -up],
    [left + width, -up],
    [left + width, down],
    [left, down],
  ].map(([a = 0, b = 0]): [number, number] => [
    item.at[0] + a * cos - b * sin,
    item.at[1] + a * sin + b * cos,
  ]);
  return [ring];
}

export function areaOf(polygons: readonly (readonly (readonly [number, number])[])[][]): number {
  let twice = 0;
  for (const polygon of polygons)
    polygon.forEach((ring, hole) => {
      let sum = 0;
      ring.forEach(([x, y], i) => {
        const [px, py] = ring.at(i - 1) as readonly [number, number];
        sum += px * y - x * py;
      });
      twice += hole === 0 ? Math.abs(sum) : -Math.abs(sum);
    });
  return twice / 2;
}

/** What shapes cover together, square millimetres: even-odd within each, by polyclip's overlay. */
export function coveredMm2(shapes: readonly ShapeItem[]): number {
  const polygons = shapes.flatMap(({ shape }) => {
    const rings = shape.parts.map((part): Polygon => [
      Array.from({ length: part.length / 2 }, (_, i): [number, number] => [
        part[2 * i] as number,
        part[2 * i + 1] as number,
      ]),
    ]);
    return rings.length > 1 ? xor(rings[0] as Polygon, ...rings.slice(1)) : rings;
  });
  return areaOf(union(polygons[0] as Polygon, ...polygons.slice(1)));
}
