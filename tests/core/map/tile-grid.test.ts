import { describe, expect, it } from "vitest";
import {
  intersectBbox,
  latToShare,
  lonToShare,
  MERCATOR_MAX_LAT,
  shareToLat,
  shareToLon,
  tileBbox,
  tileCount,
  tilesMeeting,
} from "../../../core/map/tile-grid.ts";

// EPSG:3857 metres by PROJ 9.1.1: echo "LON LAT" | gdaltransform -s_srs EPSG:4326 -t_srs EPSG:3857 -output_xy
const HALF_M = 20037508.342789244; // OGC 17-083r4, annex D.1: the square's half side
const PLACES = [
  [20.4346, -34.025, 2274769.26656423, -4032159.40951603],
  [13.5, 85.05, 1502813.12570919, 20036051.9193368],
  [-179.5, -60.25, -19981848.5973926, -8455609.20342753],
] as const;

describe("places in the tile pyramid", () => {
  it("are where PROJ's Web Mercator puts them, to a tenth of a millimetre", () => {
    for (const [lon, lat, x, y] of PLACES) {
      expect((lonToShare(lon) - 0.5) * 2 * HALF_M).toBeCloseTo(x, 4);
      expect((0.5 - latToShare(lat)) * 2 * HALF_M).toBeCloseTo(y, 4);
    }
  });
  it("come back", () => {
    for (const [lon, lat] of PLACES) {
      expect(shareToLon(lonToShare(lon))).toBeCloseTo(lon, 12);
      expect(shareToLat(latToShare(lat))).toBeCloseTo(lat, 11);
    }
  });
  it("fill a square that ends at 85.0511° of latitude", () => {
    expect(MERCATOR_MAX_LAT).toBeCloseTo(85.0511287798, 9); // OGC 17-083r4, annex D.1
    expect(latToShare(MERCATOR_MAX_LAT)).toBeCloseTo(0, 12);
    expect(latToShare(90)).toBeCloseTo(0, 12);
    expect(latToShare(-90)).toBeCloseTo(1, 12);
  });
});

describe("tiles that a box meets", () => {
  it("are those whose own boxes meet it", () => {
    const box = [20.41, -34.04, 20.46, -34.01] as const;
    const range = tilesMeeting(box, 14);
    for (let x = range.x0 - 1; x <= range.x1 + 1; x++)
      for (let y = range.y0 - 1; y <= range.y1 + 1; y++) {
        const within = x >= range.x0 && x <= range.x1 && y >= range.y0 && y <= range.y1;
        expect(intersectBbox(tileBbox({ z: 14, x, y }), box) !== null).toBe(within);
      }
    expect(tileCount(range)).toBe((range.x1 - range.x0 + 1) * (range.y1 - range.y0 + 1));
  });
  it("stay within the pyramid", () =>
    expect(tilesMeeting([-180, -90, 180, 90], 3)).toEqual({ z: 3, x0: 0, y0: 0, x1: 7, y1: 7 }));
});
