/** What differs between two states of a walk, as far as a person would say it. */
import { inverse } from "../geodesy/geodesic.ts";
import type { Walk, WalkPoint } from "./walk.ts";

export interface WalkDifference {
  /** Points that only the one has, by their ids, and those that lie or are called otherwise. */
  readonly added: number;
  readonly gone: number;
  readonly moved: number;
  readonly renamed: number;
  /** Of the second walk. */
  readonly legs: number;
  /** How many legs the second has more; negative for fewer. */
  readonly legsMore: number;
  /** Sum of the second's legs along the ellipsoid, and how much longer that is, metres. */
  readonly lengthM: number;
  readonly longerM: number;
  /** Something else: notes, day, pace, instructions … */
  readonly other: boolean;
}

const legsOf = ({ points }: Walk): number => Math.max(0, points.length - 1);

/** Sum of a walk's legs along the ellipsoid, metres. */
export function walkLength({ points }: Walk): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++)
    sum += inverse((points[i - 1] as WalkPoint).lonLat, (points[i] as WalkPoint).lonLat).distanceM;
  return sum;
}

export function compareWalks(first: Walk, second: Walk): WalkDifference {
  const before = new Map(first.points.map((point) => [point.id, point]));
  const both = second.points.flatMap((point) => {
    const old = before.get(point.id);
    return old ? [[old, point] as const] : [];
  });
  const ids = new Set(both.map(([{ id }]) => id));
  const lengthM = walkLength(second);
  return {
    added: second.points.length - both.length,
    gone: first.points.length - both.length,
    moved: both.filter(([old, now]) => old.lonLat.some((value, i) => value !== now.lonLat[i])).length,
    renamed: both.filter(([old, now]) => old.name !== now.name).length,
    legs: legsOf(second),
    legsMore: legsOf(second) - legsOf(first),
    lengthM,
    longerM: lengthM - walkLength(first),
    other: otherParts(first, ids) !== otherParts(second, ids),
  };
}

/** All but where the points of both lie and what they are called; the map is the window's choice. */
function otherParts({ points, mapId: _mapId, ...walk }: Walk, ids: ReadonlySet<string>): string {
  const common = points.filter(({ id }) => ids.has(id));
  const parts = common.map(({ id, note, aimOff, instruction }) => ({ id, note, aimOff, instruction }));
  return JSON.stringify([walk, parts.sort((a, b) => (a.id < b.id ? -1 : 1))]);
}
