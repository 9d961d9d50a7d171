/**
 * Hills and depressions from contours alone: the innermost closed contours. A ring with no contour inside is a top when
 * the ground outside it is lower and a hole when it is higher.
 * Source: US Army FM 3-25.26 chapter 10: a hill's contours are closed rings, the smallest the top; a depression's too,
 * with ticks pointing inward.
 */
import type { LineFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import { type Bbox, bboxesMeet, bboxOf, growBbox, type LonLat } from "../../units/position.ts";
import { CONTOUR_SEARCH_M } from "../contour-profile.ts";
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
  const wide = growBbox(box, CONTOUR_SEARCH_M);
  const looked = map.isPrepared(wide) ? wide : box;
  const lines = map.lines(looked, CONTOURS).filter((line) => Number.isFinite(line.elevationM));
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
    const beyond = outside({ line, extent }, lines, boxes, looked);
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
  return ahead(coords, EAST, lon, lat).length % 2 === 1;
}

/** A way to look: which coordinate grows ahead and with what sign; the other one stays. */
interface Way {
  readonly axis: 0 | 1;
  readonly sign: 1 | -1;
}
const EAST: Way = { axis: 0, sign: 1 };
const WAYS: readonly Way[] = [EAST, { axis: 0, sign: -1 }, { axis: 1, sign: 1 }, { axis: 1, sign: -1 }];

/** Where a line is met from a place, along the way's axis times its sign. */
function ahead(coords: Float64Array, { axis, sign }: Way, u: number, v: number): number[] {
  const met: number[] = [];
  const across = 1 - axis;
  for (let i = 2; i < coords.length; i += 2) {
    const [v0, v1] = [coords[i - 2 + across]!, coords[i + across]!];
    if (v0 > v === v1 > v) continue;
    const [u0, u1] = [coords[i - 2 + axis]!, coords[i + axis]!];
    const at = sign * (u0 + ((u1 - u0) * (v - v0)) / (v1 - v0));
    if (at > u) met.push(at);
  }
  return met;
}

interface Beyond {
  readonly above: boolean;
  readonly nextM: number;
}

/**
 * On which side the ground outside a ring lies, looking out four ways from its outermost places: a contour is crossed
 * from one side to the other, so that an even number of passages through the ring's own level changes nothing.
 * Null when no way tells or they disagree, as beside contours that touch.
 * @param looked where contours are known
 */
function outside(
  { line: ring }: Ring,
  lines: readonly LineFeature[],
  boxes: readonly Bbox[],
  looked: Bbox,
): Beyond | null {
  const { coords, elevationM } = ring;
  const answers = WAYS.flatMap((way): Beyond[] => {
    const { axis, sign } = way;
    let outermost = 0;
    for (let i = 2; i < coords.length; i += 2)
      if (sign * coords[i + axis]! > sign * coords[outermost + axis]!) outermost = i;
    const [u, v] = [sign * coords[outermost + axis]!, coords[outermost + 1 - axis]!];
    const end = sign * looked[sign > 0 ? axis + 2 : axis]!;
    const met = lines
      .flatMap((line, i) => {
        const box = boxes[i] as Bbox;
        if (line === ring || v < box[1 - axis]! || v > box[3 - axis]!) return [];
        return ahead(line.coords, way, u, v).flatMap((at) =>
          at <= end ? [{ at, level: line.elevationM }] : [],
        );
      })
      .sort((a, b) => a.at - b.at);
    const turn = met.findIndex(({ level }) => level !== elevationM);
    const next = met[turn];
    if (!next) return [];
    const above = next.level > elevationM === (turn % 2 === 0);
    return [{ above, nextM: turn === 0 ? next.level : elevationM }];
  });
  const [one] = answers;
  if (!one || answers.some((a) => a.above !== one.above)) return null;
  return answers.find((a) => a.nextM !== elevationM) ?? one;
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
