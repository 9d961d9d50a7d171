import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { openMap } from "../../../core/map/open-map.ts";
import { crossingsOf } from "../../../core/map/crossings.ts";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import type { LineFeature } from "../../../core/map/features.ts";
import type { Bbox } from "../../../core/units/position.ts";
import { archiveSource, type RawTile } from "./support/archives.ts";
import { lengthOf, type Line, tileLines, worldLonLat, worldUnits } from "./support/tiled-lines.ts";
import type { XY } from "./support/vector-tile-bytes.ts";

const Z = 14;
// OpenStreetMap roads, see tests/fixtures/map-lines/README.md.
const roads = (
  JSON.parse(readFileSync(new URL("../../fixtures/map-lines/roads.geojson", import.meta.url), "utf8")) as {
    features: { properties: { id: number }; geometry: { coordinates: XY[] } }[];
  }
).features;
const lines: Line[] = roads.map((f) => ({
  units: f.geometry.coordinates.map((c) => worldUnits(c, Z)),
  properties: { id: f.properties.id },
}));

function tilesOf(all: readonly Line[], buffer: number, how: "whole" | "cut"): RawTile[] {
  const xs = all.flatMap((l) => l.units.map((u) => u[0] >> 12));
  const ys = all.flatMap((l) => l.units.map((u) => u[1] >> 12));
  const tiles: RawTile[] = [];
  for (let x = Math.min(...xs); x <= Math.max(...xs); x++)
    for (let y = Math.min(...ys); y <= Math.max(...ys); y++)
      tiles.push({ z: Z, x, y, layers: [{ name: "road", features: tileLines(all, x, y, buffer, how) }] });
  return tiles;
}

const BOUNDS: Bbox = [20.39, -34.055, 20.48, -33.995];

async function stitched(
  all: readonly Line[],
  buffer: number,
  how: "whole" | "cut",
): Promise<readonly LineFeature[]> {
  const map = await openMap(archiveSource(tilesOf(all, buffer, how), BOUNDS));
  await map.prepare(BOUNDS);
  return map.lines(BOUNDS);
}

/** A line's vertices back in the units they were quantised to. */
const unitsOf = ({ coords }: LineFeature): XY[] =>
  Array.from({ length: coords.length / 2 }, (_, i) => [coords[2 * i]!, coords[2 * i + 1]!] as const).map(
    (c) => exactUnits(c),
  );
function exactUnits([lon, lat]: XY): XY {
  const n = 4096 * 2 ** Z;
  const s = Math.sin((lat * Math.PI) / 180);
  return [(lon / 360 + 0.5) * n, (0.5 - Math.log((1 + s) / (1 - s)) / (4 * Math.PI)) * n];
}
const byNumber = (a: number, b: number): number => a - b;
const idOf = (line: LineFeature): number => Number(line.attributes["id"]);

describe("lines stitched across tile edges", () => {
  for (const [buffer, how, slack] of [
    [64, "whole", 1e-5],
    [64, "cut", 3],
    [0, "whole", 1e-5],
    [1, "cut", 3],
  ] as const)
    it(`come without doubles and without gaps (buffer ${buffer}, ${how})`, async () => {
      const found = await stitched(lines, buffer, how);
      // Length by road equals the source's own, to the rounding of a few cut ends.
      for (const { units, properties } of lines) {
        const own = found.filter((l) => idOf(l) === properties["id"]);
        const total = own.reduce((sum, l) => sum + lengthOf(unitsOf(l)), 0);
        const crossed = units.filter(
          (u, i) => i > 0 && (u[0] >> 12 !== units[i - 1]![0] >> 12 || u[1] >> 12 !== units[i - 1]![1] >> 12),
        ).length;
        expect(Math.abs(total - lengthOf(units)), `road ${properties["id"]}`).toBeLessThan(
          slack * (1 + crossed),
        );
        // One piece a road, unless it runs along a tile's edge or bends back over itself.
        expect(own.length, `road ${properties["id"]}`).toBe(1);
      }
    });

  it("cross legs where the lines do that they were cut from", async () => {
    const found = await stitched(lines, 64, "cut");
    const asLine = ({ units, properties }: Line): LineFeature => ({
      kind: "road",
      name: null,
      elevationM: Number.NaN,
      index: false,
      attributes: properties,
      coords: Float64Array.from(units.flatMap((u) => worldLonLat(u, Z))),
    });
    const whole = lines.map(asLine);
    let compared = 0;
    for (let i = 0; i < 60; i++) {
      const frame = legFrame([20.4 + i * 0.001, -34.04], [20.46 - i * 0.0007, -34.008]);
      const expected = crossingsOf(frame, whole);
      const got = crossingsOf(frame, found);
      expect(got.map((c) => idOf(c.line)).sort(byNumber)).toEqual(
        expected.map((c) => idOf(c.line)).sort(byNumber),
      );
      for (const c of expected) {
        const nearest = Math.min(
          ...got.filter((g) => idOf(g.line) === idOf(c.line)).map((g) => Math.abs(g.atM - c.atM)),
        );
        // A unit is half a metre here; along the leg it is longer the flatter the lines meet.
        expect(nearest * Math.sin((c.crossingDeg * Math.PI) / 180)).toBeLessThan(0.6);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(500);
  });

  it("join at a corner where four tiles meet", async () => {
    const corner: XY = [9122 * 4096, 9840 * 4096];
    const diagonal: Line = {
      units: [[corner[0] - 900, corner[1] - 900], corner, [corner[0] + 700, corner[1] + 700]],
      properties: { id: 1 },
    };
    const found = await stitched([diagonal], 64, "whole");
    expect(found.length).toBe(1);
    expect(lengthOf(unitsOf(found[0]!))).toBeCloseTo(1600 * Math.SQRT2, 4);
  });

  it("take a line along a tile's edge once", async () => {
    const x = 9122 * 4096;
    const y = 9840 * 4096;
    const along: Line = {
      units: [
        [x - 500, y + 500],
        [x, y + 1000],
        [x, y + 2000],
        [x - 400, y + 2500],
      ],
      properties: { id: 1 },
    };
    const found = await stitched([along], 64, "whole");
    expect(found.reduce((sum, l) => sum + lengthOf(unitsOf(l)), 0)).toBeCloseTo(lengthOf(along.units), 4);
    expect(found.length).toBe(1);
  });

  it("close a ring that lies over four tiles", async () => {
    const [x, y] = [9122 * 4096, 9840 * 4096];
    const ring: Line = {
      units: [
        [x - 500, y - 300],
        [x + 500, y - 300],
        [x + 500, y + 400],
        [x - 500, y + 400],
        [x - 500, y - 300],
      ],
      properties: { id: 1 },
    };
    const found = await stitched([ring], 64, "whole");
    expect(found.length).toBe(1);
    const units = unitsOf(found[0]!);
    expect(units.at(-1)).toEqual(units[0]);
    expect(lengthOf(units)).toBeCloseTo(3400, 4);
  });

  it("keep apart lines that differ in an attribute", async () => {
    const [x, y] = [9122 * 4096, 9840 * 4096];
    const left: Line = {
      units: [
        [x - 500, y + 100],
        [x, y + 100],
      ],
      properties: { id: 1 },
    };
    const right: Line = {
      units: [
        [x, y + 100],
        [x + 500, y + 100],
      ],
      properties: { id: 2 },
    };
    expect((await stitched([left, right], 0, "whole")).map(idOf).sort(byNumber)).toEqual([1, 2]);
  });
});

describe("lines asked for by box", () => {
  it("are all that meet it, each once, and no others than those near", async () => {
    const map = await openMap(archiveSource(tilesOf(lines, 64, "whole"), BOUNDS));
    await map.prepare(BOUNDS);
    const at = (share: number, low: number, high: number): number => low + share * (high - low);
    let met = 0;
    for (let k = 0; k < 200; k++) {
      const [u, v, w] = [(k * 0.754877) % 1, (k * 0.56984) % 1, 0.0005 + 0.006 * ((k * 0.3247) % 1)];
      const [west, south] = [at(u, 20.4, 20.465), at(v, -34.045, -34.006)];
      const box: Bbox = [west, south, west + w, south + w];
      const got = map.lines(box).map(idOf);
      const [x0, y1] = exactUnits([box[0], box[1]]);
      const [x1, y0] = exactUnits([box[2], box[3]]);
      // Plainly: every segment of every line, by halving the segment's share within the box.
      const meets = (a: XY, b: XY): boolean => {
        let [from, to] = [0, 1];
        for (const [p, q, low, high] of [
          [a[0], b[0], x0, x1],
          [a[1], b[1], y0, y1],
        ] as const) {
          if (p === q) {
            if (p < low || p > high) return false;
            continue;
          }
          from = Math.max(from, Math.min((low - p) / (q - p), (high - p) / (q - p)));
          to = Math.min(to, Math.max((low - p) / (q - p), (high - p) / (q - p)));
        }
        return from <= to;
      };
      const expected = lines
        .filter((l) => l.units.some((b, i) => i > 0 && meets(l.units[i - 1]!, b)))
        .map((l) => Number(l.properties["id"]));
      met += expected.length;
      for (const id of expected) expect(got, `box ${k}, road ${id}`).toContain(id);
      expect(new Set(got).size).toBe(got.length);
      expect(got.length).toBeLessThanOrEqual(expected.length + 25);
    }
    expect(met).toBeGreaterThan(900);
  });
});
