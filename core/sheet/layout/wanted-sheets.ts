/** Frames for the sheets of a walk, in the way that was asked for. */
import { Fault } from "../../fault.ts";
import { gridFactors, type Projection } from "../../geodesy/projection.ts";
import type { UtmZone } from "../../geodesy/utm-zone.ts";
import { DEG, normalise360 } from "../../units/angle.ts";
import type { LonLat } from "../../units/position.ts";
import type { FrameWish } from "../frame/sheet-frame.ts";
import { aligned } from "./align.ts";
import { boxOf, cover, type Piece, type Size } from "./cover.ts";
import { fitScale } from "./fit-scale.ts";
import type { LayoutWish } from "./sheet-plan.ts";
import { type PathPiece, planeOf, zoneFor } from "./walk-path.ts";

export const OVERLAP_MM = 15;
/** More sheets than anyone carries: the scale is not meant. */
const MOST_SHEETS = 200;
/** Sheets are taken this share smaller, for the point scale that changes a little from one to the next. */
const SLACK = 1e-4;
/** Least of a sheet that is not overlap, millimetres. */
const LEAST_MM = 20;

export interface Wanted {
  readonly wish: FrameWish;
  /** Legs it is for; null for whatever falls on it. */
  readonly legs: readonly number[] | null;
}

export interface Found {
  readonly wanted: readonly Wanted[];
  readonly scale: number;
  readonly notes: readonly string[];
}

/**
 * Frames of all sheets.
 * @param middle of the walk, or the place of a sheet without one
 * @param zone the walk's own; null with a grid of the user's
 * @throws as `layOutSheets`
 */
export function wantedSheets(
  path: readonly PathPiece[],
  middle: LonLat,
  zone: UtmZone | null,
  wish: LayoutWish,
): Found {
  const { way, map, grid } = wish;
  const overlapMm = wish.overlapMm ?? OVERLAP_MM;
  const inner: Size = { width: map.width - overlapMm, height: map.height - overlapMm };
  if (!(overlapMm >= 0 && inner.width >= LEAST_MM && inner.height >= LEAST_MM))
    throw new Fault(
      "bad-argument",
      `An overlap of ${overlapMm} mm leaves nothing of a sheet.`,
      null,
      "Choose a smaller one or larger paper.",
    );
  const base = { map, ...(grid && { grid }) };
  const at = (centre: LonLat, scale: number, used: UtmZone | null, turnDeg = 0): FrameWish => ({
    ...base,
    centre,
    scale,
    // Zone 0 is the polar grid, which follows from the place.
    ...(used && { zone: used }),
    ...(turnDeg !== 0 && { turnDeg }),
  });
  if (way.kind === "placed" && way.frames.length > 0)
    return {
      wanted: way.frames.map(({ centre, scale = wish.scale, turnDeg }) => ({
        wish: at(centre, scale, zone === null ? null : zoneFor(centre, zone), turnDeg),
        legs: null,
      })),
      scale: way.frames[0]?.scale ?? wish.scale,
      notes: [],
    };
  if (path.length === 0)
    return {
      wanted: [{ wish: at(middle, wish.scale, zone), legs: null }],
      scale: wish.scale,
      notes: ["There is no leg to print: the sheet shows the ground around its centre."],
    };
  const groups = byZone(path, zone, grid?.projection ?? null);
  if (way.kind === "fit") return fitted(groups, path, middle, zone, wish, inner, at);
  const size = (plane: Plane): Size => inGrid(inner, wish.scale, plane);
  const wanted: Wanted[] = [];
  if (way.kind === "strips") {
    for (const leg of new Set(path.map((piece) => piece.leg))) {
      const plane = groups.find(({ pieces }) => pieces.some((p) => p.leg === leg)) as Plane;
      wanted.push(...strip(leg, path, plane, size(plane), way.up, wish.scale, at));
    }
  } else {
    const found = groups.flatMap((plane) => {
      const placed = cover(
        plane.pieces.map(({ piece }) => piece),
        size(plane),
        MOST_SHEETS,
      );
      if (!placed) throw tooMany(wish.scale);
      const { width, height } = size(plane);
      return aligned(placed, { width, height }).map(({ x, y, pieces }) => ({
        first: Math.min(...pieces.map(({ order }) => order)),
        wish: at(plane.projection.inverse([x + width / 2, y + height / 2]), wish.scale, plane.zone),
      }));
    });
    found.sort((a, b) => a.first - b.first);
    wanted.push(...found.map((sheet) => ({ wish: sheet.wish, legs: null })));
  }
  if (wanted.length > MOST_SHEETS && way.kind !== "strips") throw tooMany(wish.scale);
  return { wanted, scale: wish.scale, notes: [] };
}

type FrameAt = (centre: LonLat, scale: number, zone: UtmZone | null, turnDeg?: number) => FrameWish;

const tooMany = (scale: number): Fault =>
  new Fault(
    "bad-argument",
    `At 1:${scale} the walk takes more than ${MOST_SHEETS} sheets.`,
    null,
    "Choose a smaller scale or larger paper.",
  );

/** Pieces laid out together, in the grid of one zone. */
interface Plane {
  readonly zone: UtmZone | null;
  readonly projection: Projection;
  readonly pieces: readonly { readonly leg: number; readonly piece: Piece }[];
  /** Least length in the grid for a length on the ground, on the walk. */
  readonly leastScale: number;
}

function byZone(path: readonly PathPiece[], zone: UtmZone | null, own: Projection | null): Plane[] {
  const groups = new Map<UtmZone | null, { leg: number; piece: Piece }[]>();
  const scales = new Map<UtmZone | null, number>();
  const projections = new Map<UtmZone | null, Projection>();
  path.forEach(({ leg, from, to }, order) => {
    const used = zone === null ? null : zoneFor(from, zone);
    const projection = projections.get(used) ?? own ?? planeOf(used ?? 0, from);
    projections.set(used, projection);
    const [[ax, ay], [bx, by]] = [projection.forward(from), projection.forward(to)];
    const pieces = groups.get(used) ?? [];
    groups.set(used, pieces);
    pieces.push({ leg, piece: { ax, ay, bx, by, order, span: 1 } });
    scales.set(used, Math.min(scales.get(used) ?? Infinity, gridFactors(projection, from).scale));
  });
  return Array.from(groups, ([used, pieces]) => ({
    zone: used,
    projection: projections.get(used) as Projection,
    pieces,
    leastScale: scales.get(used) as number,
  }));
}

/** A size on paper in metres of the grid, a little less. */
const inGrid = ({ width, height }: Size, scale: number, { leastScale }: Plane): Size => {
  const m = (scale / 1000) * leastScale * (1 - SLACK);
  return { width: width * m, height: height * m };
};

function fitted(
  groups: readonly Plane[],
  path: readonly PathPiece[],
  middle: LonLat,
  zone: UtmZone | null,
  wish: LayoutWish,
  inner: Size,
  at: FrameAt,
): Found {
  // One page has one grid, however far it is carried.
  const plane =
    groups.length === 1
      ? (groups[0] as Plane)
      : (() => {
          const projection = planeOf(zone ?? 0, middle);
          return { ...(byZone(path, null, projection)[0] as Plane), zone };
        })();
  const box = boxOf(plane.pieces.map(({ piece }) => piece));
  const unit = inGrid(inner, 1, plane);
  const needed = Math.max((box.east - box.west) / unit.width, (box.north - box.south) / unit.height);
  if (needed === 0)
    return {
      wanted: [{ wish: at(middle, wish.scale, zone), legs: null }],
      scale: wish.scale,
      notes: ["The walk has no length: the scale asked for is kept."],
    };
  const { scale, note } = fitScale(needed, wish.way.kind === "fit" && wish.way.exact === true);
  const centre = plane.projection.inverse([(box.west + box.east) / 2, (box.south + box.north) / 2]);
  return { wanted: [{ wish: at(centre, scale, plane.zone), legs: null }], scale, notes: [note] };
}

/** One leg on as many sheets as it needs, each with an equal part of it in its middle. */
function strip(
  leg: number,
  path: readonly PathPiece[],
  { projection, zone }: Plane,
  size: Size,
  up: "leg" | "north",
  scale: number,
  at: FrameAt,
): Wanted[] {
  const pieces = path.filter((piece) => piece.leg === leg);
  const [ax, ay] = projection.forward((pieces[0] as PathPiece).from);
  const [bx, by] = projection.forward((pieces.at(-1) as PathPiece).to);
  const [dx, dy] = [bx - ax, by - ay];
  const count = Math.max(
    1,
    up === "leg"
      ? Math.ceil(Math.hypot(dx, dy) / size.height)
      : Math.max(Math.ceil(Math.abs(dx) / size.width), Math.ceil(Math.abs(dy) / size.height)),
  );
  if (count > MOST_SHEETS) throw tooMany(scale);
  const turn = up === "leg" && (dx !== 0 || dy !== 0) ? normalise360(Math.atan2(dx, dy) / DEG) : 0;
  return Array.from({ length: count }, (_, i) => {
    const share = (i + 0.5) / count;
    const centre = projection.inverse([ax + dx * share, ay + dy * share]);
    return { wish: at(centre, scale, zone, turn), legs: [leg] };
  });
}
