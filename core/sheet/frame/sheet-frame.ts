/**
 * The frame of one field sheet: how ground becomes paper. The sheet is drawn in the map's grid (UTM, or a grid of the user's)
 * divided by the grid's point scale at the sheet's centre, so that there a length on the ground over the ellipsoid is its length
 * on paper times the scale, and grid lines are straight. Never Web Mercator, which stretches unevenly.
 */
import { Fault } from "../../fault.ts";
import type { Grid } from "../../geodesy/grid.ts";
import { gridFactors, type EastNorth, type Projection } from "../../geodesy/projection.ts";
import { upsProjection } from "../../geodesy/ups.ts";
import { utmProjection, toUtm } from "../../geodesy/utm.ts";
import { type UtmZone, utmZoneOf } from "../../geodesy/utm-zone.ts";
import { DEG } from "../../units/angle.ts";
import { type Bbox, bboxOf, checkLonLat, type LonLat } from "../../units/position.ts";
import type { PaperPoint, Rect } from "../page/page.ts";
import { quickLines } from "./quick-lines.ts";

/** The grid a sheet is drawn in. */
export interface SheetGrid {
  /** "UTM zone 32", "UPS north", or the user's own name for it. */
  readonly title: string;
  /** Null for UPS and for a grid of the user's. */
  readonly zone: UtmZone | null;
  readonly hemisphere: "N" | "S";
  readonly projection: Projection;
  /** The user's grid; null for UTM and UPS. */
  readonly own: Grid | null;
}

export interface SheetFrame {
  /** Denominator: 25000 for 1:25 000. */
  readonly scale: number;
  readonly grid: SheetGrid;
  /** Ground at the middle of `map`. */
  readonly centre: LonLat;
  /** Within the neat line, on the page. */
  readonly map: Rect;
  /** Length in the grid over length on the ground, at the centre. */
  readonly pointScale: number;
  /** Grid north minus true north at the centre, degrees, east positive. */
  readonly convergenceDeg: number;
  /** Where up on the page points, degrees clockwise from grid north: 0 for a sheet that is grid north up. */
  readonly turnDeg: number;
  /** All ground within the neat line, and a little more. */
  readonly bbox: Bbox;
  toPaper(lonLat: LonLat): PaperPoint;
  /** Longitude, latitude … degrees to x, y … millimetres. */
  lineToPaper(coords: Float64Array): Float64Array;
  gridToPaper(at: EastNorth): PaperPoint;
  paperToGrid(at: PaperPoint): EastNorth;
  toLonLat(at: PaperPoint): LonLat;
}

export interface FrameWish {
  readonly centre: LonLat;
  readonly scale: number;
  readonly map: Rect;
  /** Default UTM, or UPS beyond it. */
  readonly grid?: Grid;
  /** Of several sheets, so that all share one zone: default the zone of the centre. */
  readonly zone?: UtmZone;
  readonly turnDeg?: number;
}

/** @throws Fault "bad-argument" for a scale or a size that cannot be, "out-of-range" where the grid has no value */
export function sheetFrame(wish: FrameWish): SheetFrame {
  const { centre, scale, map, turnDeg = 0 } = wish;
  checkLonLat(centre, "the sheet's centre");
  if (!(scale >= 100 && scale <= 10_000_000))
    throw new Fault(
      "bad-argument",
      `A scale of 1:${scale} cannot be printed.`,
      null,
      "Give one from 1:100 to 1:10 000 000.",
    );
  if (!(map.width > 0 && map.height > 0))
    throw new Fault("bad-argument", "There is no room for a map on this paper.", null, "Take larger paper.");
  const grid = gridFor(wish);
  const { scale: pointScale, convergenceDeg } = factorsAt(grid, centre);
  const [e0, n0] = grid.projection.forward(centre);
  const [x0, y0] = [map.x + map.width / 2, map.y + map.height / 2];
  /** Millimetres of paper a metre of the grid. */
  const perM = 1000 / (scale * pointScale);
  const [sin, cos] = [Math.sin(turnDeg * DEG), Math.cos(turnDeg * DEG)];

  const gridToPaper = ([e, n]: EastNorth): PaperPoint => {
    const [de, dn] = [(e - e0) * perM, (n - n0) * perM];
    return [x0 + de * cos - dn * sin, y0 - (de * sin + dn * cos)];
  };
  const paperToGrid = ([x, y]: PaperPoint): EastNorth => {
    const [right, up] = [x - x0, y0 - y];
    return [e0 + (right * cos + up * sin) / perM, n0 + (up * cos - right * sin) / perM];
  };
  const toLonLat = (at: PaperPoint): LonLat => grid.projection.inverse(paperToGrid(at));
  const toPaper = (lonLat: LonLat): PaperPoint => gridToPaper(grid.projection.forward(lonLat));
  const bbox = boxOf(map, toLonLat);
  return {
    scale,
    grid,
    centre,
    map,
    pointScale,
    convergenceDeg,
    turnDeg,
    bbox,
    toPaper,
    lineToPaper: quickLines(toPaper, bbox),
    gridToPaper,
    paperToGrid,
    toLonLat,
  };
}

function gridFor({ centre, grid, zone }: FrameWish): SheetGrid {
  const hemisphere = centre[1] < 0 ? "S" : "N";
  if (grid) return { title: grid.title, zone: null, hemisphere, projection: grid.projection, own: grid };
  if (centre[1] > 84 || centre[1] < -80)
    return {
      title: hemisphere === "N" ? "UPS north" : "UPS south",
      zone: null,
      hemisphere,
      projection: upsProjection(hemisphere),
      own: null,
    };
  const used = zone ?? utmZoneOf(centre);
  return {
    title: `UTM zone ${used}`,
    zone: used,
    hemisphere,
    projection: utmProjection(used, hemisphere),
    own: null,
  };
}

/** UTM by its own series, others by differences. */
function factorsAt(
  grid: SheetGrid,
  centre: LonLat,
): { readonly scale: number; readonly convergenceDeg: number } {
  return grid.zone === null ? gridFactors(grid.projection, centre) : toUtm(centre, grid.zone);
}

/** Every edge is tried in between too: parallels bow. */
function boxOf(map: Rect, toLonLat: (at: PaperPoint) => LonLat): Bbox {
  const around: LonLat[] = [];
  for (let i = 0; i <= 8; i++) {
    const [x, y] = [map.x + (map.width * i) / 8, map.y + (map.height * i) / 8];
    around.push(
      toLonLat([x, map.y]),
      toLonLat([x, map.y + map.height]),
      toLonLat([map.x, y]),
      toLonLat([map.x + map.width, y]),
    );
  }
  const [west, south, east, north] = bboxOf(around) as Bbox;
  const [dx, dy] = [(east - west) * 0.01, (north - south) * 0.01];
  return [west - dx, south - dy, east + dx, north + dy];
}
