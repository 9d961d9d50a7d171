/**
 * Hills and depressions from contours alone: the innermost closed contours. A ring with no contour inside is a top when
 * the ground outside it is lower and a hole when it is higher.
 * Source: US Army FM 3-25.26 chapter 10: a hill's contours are closed rings, the smallest the top; a depression's too,
 * with ticks pointing inward.
 */
import type { LineFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import { type Bbox, bboxesMeet, bboxOf, type LonLat } from "../../units/position.ts";
import type { Ground } from "../ground.ts";
import type { Landform } from "./landform.ts";

const CONTOURS: ReadonlySet<Kind> = new Set<Kind>(["contour"]);
const HEIGHTS: ReadonlySet<Kind> = new Set<Kind>(["peak", "spotHeight"]);

interface Ring {
  readonly line: LineFeature;
  readonly extent: Bbox;
}

/**
 * Hills and depressions whose innermost ring lies wholly in what the map has within a prepared box.
 * The place is a spot height or peak in the ring, else its middle; the height then is the ring's own level, and the
 * relief is counted from the next contour outside, or from the ring where that is of the same level. Nothing is said where no contour lies outside.
 */
export function contourLandforms({ map }: Ground, box: Bbox): Landform[] {
  if (!map.isPrepared(box)) return [];
  const lines = map.lines(box, CONTOURS).filter((line) => Number.isFinite(line.elevationM));
  const boxes = lines.map((line) => boxOf(line.coords));
  const rings: Ring[] = lines.flatMap((line, i) =>
    isClosed(line.coords) ? [{ line, extent: boxes[i] as Bbox }] : [],
  );
  const found: Landform[] = [];
  for (const { line, extent } of rings) {
    if (!bboxesMeet(extent, box)) continue;
    const inner = rings.some(
      (r) => r.line !== line && within(r.extent, extent) && holds(line, first(r.line)),
    );
    if (inner) continue;
    const beyond = outside({ line, extent }, lines, boxes);
    if (!beyond) continue;
    const hill = !beyond.above;
    const spot = map
      .points(extent, HEIGHTS)
      .filter((p) => Number.isFinite(p.elevationM) && holds(line, p.lonLat))
      .sort((a, b) => (hill ? b.elevationM - a.elevationM : a.elevationM - b.elevationM))[0];
    const elevationM = spot?.elevationM ?? line.elevationM;
    const lonLat = spot?.lonLat ?? middleOf(line);
    if (!spot && !holds(line, lonLat)) continue;
    found.push({
      kind: hill ? "hill" : "depression",
      name: hill && spot?.kind === "peak" ? spot.name : null,
      lonLat,
      elevationM,
      extent,
      reliefM: Math.abs(elevationM - beyond.nextM),
      atLeast: true,
      line: null,
    });
  }
  return found.sort((a, b) => b.reliefM - a.reliefM);
}

const first = ({ coords }: LineFeature): LonLat => [coords[0]!, coords[1]!];

function isClosed(coords: Float64Array): boolean {
  const n = coords.length;
  return n >= 8 && coords[0] === coords[n - 2] && coords[1] === coords[n - 1];
}

function boxOf(coords: Float64Array): Bbox {
  const places: LonLat[] = [];
  for (let i = 0; i < coords.length; i += 2) places.push([coords[i]!, coords[i + 1]!]);
  return bboxOf(places) as Bbox;
}

const within = (a: Bbox, b: Bbox): boolean => a[0] >= b[0] && a[1] >= b[1] && a[2] <= b[2] && a[3] <= b[3];

/** Whether a ring goes round a place: an odd number of its sides lie east of it. */
function holds({ coords }: LineFeature, [lon, lat]: LonLat): boolean {
  return eastward(coords, lon, lat).length % 2 === 1;
}

/** Longitudes at which a line crosses the parallel of a place, east of it. */
function eastward(coords: Float64Array, lon: number, lat: number): number[] {
  const met: number[] = [];
  for (let i = 2; i < coords.length; i += 2) {
    const [y0, y1] = [coords[i - 1]!, coords[i + 1]!];
    if (y0 > lat === y1 > lat) continue;
    const x = coords[i - 2]! + ((coords[i]! - coords[i - 2]!) * (lat - y0)) / (y1 - y0);
    if (x > lon) met.push(x);
  }
  return met;
}

/**
 * On which side the ground outside a ring lies, going east from its easternmost place: a contour is crossed from one
 * side to the other, so that an even number of passages through the ring's own level changes nothing.
 */
function outside(
  { line: ring, extent }: Ring,
  lines: readonly LineFeature[],
  boxes: readonly Bbox[],
): { above: boolean; nextM: number } | null {
  const { coords, elevationM } = ring;
  let east = 0;
  for (let i = 2; i < coords.length; i += 2) if (coords[i]! > coords[east]!) east = i;
  const [lon, lat] = [coords[east]!, coords[east + 1]!];
  const met = lines
    .flatMap((line, i) => {
      const [, south, far, north] = boxes[i] as Bbox;
      if (line === ring || lat < south || lat > north || far < extent[2]) return [];
      return eastward(line.coords, lon, lat).map((x) => ({ x, level: line.elevationM }));
    })
    .sort((a, b) => a.x - b.x);
  const turn = met.findIndex(({ level }) => level !== elevationM);
  const next = met[turn];
  if (!next) return null;
  const above = next.level > elevationM === (turn % 2 === 0);
  return { above, nextM: turn === 0 ? next.level : elevationM };
}

function middleOf({ coords }: LineFeature): LonLat {
  // The centroid of the ring as an area.
  const [x0, y0] = [coords[0]!, coords[1]!];
  let [area, x, y] = [0, 0, 0];
  for (let i = 2; i < coords.length; i += 2) {
    const [ax, ay, bx, by] = [coords[i - 2]! - x0, coords[i - 1]! - y0, coords[i]! - x0, coords[i + 1]! - y0];
    const cross = ax * by - bx * ay;
    area += cross;
    x += (ax + bx) * cross;
    y += (ay + by) * cross;
  }
  return area === 0 ? [x0, y0] : [x0 + x / (3 * area), y0 + y / (3 * area)];
}
