import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import type { MapFeatures } from "../../../core/map/features.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { openMap } from "../../../core/map/open-map.ts";
import { bytesSource } from "../../../core/map/source.ts";
import type { Bbox } from "../../../core/units/position.ts";

const fixture = (name: string): Buffer =>
  readFileSync(new URL(`../../fixtures/open-tiles/${name}`, import.meta.url));
// Values: GDAL's MVT driver and GEOS, see tests/fixtures/open-tiles/README.md.
const reference = JSON.parse(fixture("reference.json").toString()) as Record<string, number> & {
  peaks: [name: string, ele: string, x: number, y: number][];
};

const R = 6_378_137; // EPSG:3857's sphere
const toPlane = (lon: number, lat: number): [number, number] => [
  (R * lon * Math.PI) / 180,
  R * Math.log(Math.tan(Math.PI / 4 + (lat * Math.PI) / 360)),
];
const planar = (coords: Float64Array): [number, number][] =>
  Array.from({ length: coords.length / 2 }, (_, i) => toPlane(coords[2 * i]!, coords[2 * i + 1]!));

function lengthOf(coords: Float64Array): number {
  const p = planar(coords);
  return p.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - p[i]![0], y - p[i]![1]), 0);
}

/** MVT 2.1 §4.3.4.4: an outer ring's area by the surveyor's formula is positive in tile space, so negative northward. */
function areaOf(rings: readonly Float64Array[]): number {
  let twice = 0;
  for (const ring of rings) {
    const p = planar(ring);
    for (let i = 1; i < p.length; i++) twice += p[i]![0] * p[i - 1]![1] - p[i - 1]![0] * p[i]![1];
  }
  return twice / 2;
}

const TILES: Bbox = [11.2500001, 43.7075936, 11.3378905, 43.739352];

const WEST_TILE: Bbox = [TILES[0], TILES[1], 11.2939453, TILES[3]];
const EAST_TILE: Bbox = [11.2939454, TILES[1], TILES[2], TILES[3]];

describe("an archive that does not say which layer is what", () => {
  let map: MapFeatures;
  beforeAll(async () => {
    map = await openMap(bytesSource("florence.pmtiles", fixture("florence.pmtiles")));
    await map.prepare(TILES);
  });
  // Tile by tile: joining two tiles' lines moves their ends by up to two units, 2.4 m, onto each other.
  const length = (kind: Kind): number =>
    [WEST_TILE, EAST_TILE]
      .flatMap((box) => map.lines(box, new Set([kind])))
      .reduce((sum, l) => sum + lengthOf(l.coords), 0);
  const area = (kind: Kind): number =>
    map.areas(TILES, new Set([kind])).reduce((sum, a) => sum + areaOf(a.rings), 0);

  it("has its roles guessed, and says so", () => {
    expect(map.info.rolesFrom).toBe("guess");
    expect(map.info.roles.stream?.layer).toBe("physical_line");
    expect(map.info.roles.wood?.layer).toBe("natural");
    expect(map.info.roles.road?.layer).toBe("roads");
    expect(map.info.roles.building?.layer).toBe("buildings");
    expect(map.info.roles.contour).toBeUndefined();
    expect(map.info.interval).toBeNull();
    expect(map.info.attribution).toBe("Protomaps © OpenStreetMap");
    expect(map.info.title).toBe("florence");
  });

  it("gives the lengths GDAL and GEOS find, tile buffers cut off", () => {
    // Metres, of up to 62 km; a tile unit is 1.2 m, so that one piece too many or too few would show.
    expect(length("road")).toBeCloseTo(reference["road length"]!, 1);
    expect(length("river")).toBeCloseTo(reference["river length"]!, 1);
    expect(length("stream")).toBeCloseTo(reference["stream length"]!, 1);
    expect(length("woodEdge")).toBeCloseTo(reference["wood edge"]!, 1);
  });

  it("gives the areas GDAL and GEOS find", () => {
    // Square metres; a ring of a few hundred units' perimeter holds rounding of some 1e-9 of its size.
    expect(area("building")).toBeCloseTo(reference["building area"]!, 0);
    expect(area("wood")).toBeCloseTo(reference["wood area"]!, 0);
    expect(area("water")).toBeCloseTo(reference["water area"]!, 0);
  });

  it("gives the peak where and as high as it is", () => {
    const peaks = map.points(TILES, new Set<Kind>(["peak"]));
    expect(peaks.map((p) => [p.name, p.elevationM])).toEqual([["Monte Cuccioli", 137]]);
    const [x, y] = toPlane(...(peaks[0]!.lonLat as [number, number]));
    expect(x).toBeCloseTo(reference.peaks[0]![2], 4);
    expect(y).toBeCloseTo(reference.peaks[0]![3], 4);
  });
});
