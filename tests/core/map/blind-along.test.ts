import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { blindAlong } from "../../../core/map/blind-along.ts";
import type { MapFeatures } from "../../../core/map/features.ts";
import { openMap } from "../../../core/map/open-map.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../../../core/units/position.ts";
import { archiveSource, type RawTile } from "./support/archives.ts";

const Z = 14;
const X = 9122;
const Y = 9840;
/** Longitude and latitude of a tile's north-western corner, by OGC 17-083r4 annex D.1 written out here again. */
const corner = (x: number, y: number): LonLat => [
  (x / 2 ** Z) * 360 - 180,
  (Math.atan(Math.sinh(Math.PI * (1 - (2 * y) / 2 ** Z))) * 180) / Math.PI,
];
const [WEST, NORTH] = corner(X, Y);
const [EAST, SOUTH] = corner(X + 3, Y + 3);
const INSET = 1e-5;
const BOUNDS: Bbox = [WEST + INSET, SOUTH + INSET, EAST - INSET, NORTH - INSET];

/** Nine tiles: the middle one missing, the one south-east of it damaged. */
const tiles: RawTile[] = [];
for (let dy = 0; dy < 3; dy++)
  for (let dx = 0; dx < 3; dx++)
    if (dx !== 1 || dy !== 1)
      tiles.push({
        z: Z,
        x: X + dx,
        y: Y + dy,
        layers:
          dx === 2 && dy === 2
            ? Uint8Array.of(0x1a, 0x7f, 0x01)
            : [
                {
                  name: "path",
                  features: [
                    {
                      type: "line",
                      parts: [
                        [
                          [1, 1],
                          [9, 9],
                        ],
                      ],
                    },
                  ],
                },
              ],
      });

function stateAt([lon, lat]: LonLat): string {
  if (lon < BOUNDS[0] || lon > BOUNDS[2] || lat < BOUNDS[1] || lat > BOUNDS[3]) return "outside";
  const dx = [0, 1, 2].findLast((d) => lon >= corner(X + d, Y)[0]);
  const dy = [0, 1, 2].findLast((d) => lat <= corner(X, Y + d)[1]);
  return dx === 1 && dy === 1 ? "missing" : dx === 2 && dy === 2 ? "damaged" : "read";
}

async function along(from: LonLat, to: LonLat): Promise<ReturnType<typeof blindAlong>> {
  const map: MapFeatures = await openMap(archiveSource(tiles, BOUNDS));
  await map.prepare(growBbox(bboxOf([from, to]) as Bbox, 100));
  return blindAlong(legFrame(from, to), map);
}

const at = (share: number, down: number): LonLat => [
  WEST + share * (EAST - WEST),
  NORTH + down * (SOUTH - NORTH),
];

describe("where along a leg the map is blind", () => {
  it.for<readonly [string, LonLat, LonLat, readonly string[]]>([
    ["within one tile", at(0.1, 0.1), at(0.3, 0.2), []],
    ["through the missing tile", at(0.1, 0.5), at(0.9, 0.55), ["missing"]],
    ["off the map eastward", at(0.8, 0.2), at(1.4, 0.3), ["outside"]],
    [
      "from outside, through everything, to outside",
      at(-0.3, -0.25),
      at(1.3, 1.2),
      ["outside", "missing", "damaged", "outside"],
    ],
    ["wholly outside", at(1.2, 0.2), at(1.8, 0.3), ["outside"]],
    ["due south through the missing tile", at(0.5, 0.1), at(0.5, 0.9), ["missing"]],
    ["across a corner of the map", at(0.9, -0.15), at(1.15, 0.1), ["outside"]],
  ])("%s: as each metre of GeographicLib's geodesic says", async ([, from, to, reasons]) => {
    const found = await along(from, to);
    expect(found.map(({ reason }) => reason)).toEqual(reasons);
    const line = geodesic.Geodesic.WGS84.InverseLine(from[1], from[0], to[1], to[0]);
    let checked = 0;
    for (let s = 0.5; s < line.s13; s += 1) {
      const { lon2, lat2 } = line.Position(s);
      const nearest = Math.min(
        ...found.flatMap(({ fromM, toM }) => [Math.abs(s - fromM), Math.abs(s - toM)]),
      );
      if (nearest < 0.05) continue;
      const here = found.find(({ fromM, toM }) => s > fromM && s < toM)?.reason ?? "read";
      expect(here, `at ${s} m`).toBe(stateAt([lon2 as number, lat2 as number]));
      checked++;
    }
    expect(checked).toBeGreaterThan(700);
  });

  it("says so of a leg without length", async () => {
    expect(await along(at(0.5, 0.5), at(0.5, 0.5))).toEqual([{ fromM: 0, toM: 0, reason: "missing" }]);
    expect(await along(at(1.5, 0.5), at(1.5, 0.5))).toEqual([{ fromM: 0, toM: 0, reason: "outside" }]);
    expect(await along(at(0.2, 0.5), at(0.2, 0.5))).toEqual([]);
  });

  it("does not call a leg along the map's own edge outside", async () => {
    expect(await along([BOUNDS[0], at(0, 0.2)[1]], [BOUNDS[0], at(0, 0.8)[1]])).toEqual([]);
  });

  it("counts what lies beyond ±180° as outside", async () => {
    const map = await openMap(archiveSource(tiles, [179.9, -1, 180, 1]));
    const from: LonLat = [179.99, 0];
    await map.prepare([179.98, -0.01, 180, 0.01]);
    const outside = blindAlong(legFrame(from, [-179.99, 0]), map).filter(
      ({ reason }) => reason === "outside",
    );
    // 0.01° of the equator: 2π · 6378137 m / 36000.
    expect(outside).toHaveLength(1);
    expect(outside[0]?.fromM).toBeCloseTo((2 * Math.PI * 6378137) / 36000, 1);
    expect(outside[0]?.toM).toBeCloseTo((2 * Math.PI * 6378137) / 18000, 1);
  });
});
