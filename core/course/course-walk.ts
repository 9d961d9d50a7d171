/**
 * A course as a walk: drawn, printed, saved and changed by hand like any other. The walk file carries what was asked for in a
 * member of its own, so that the rules can be checked again after a change.
 */
import * as v from "valibot";
import { Fault } from "../fault.ts";
import { inverse } from "../geodesy/geodesic.ts";
import type { LonLat } from "../units/position.ts";
import { emptyWalk, NOTHING_UNKNOWN, type Walk, type WalkPoint } from "../walk/walk.ts";
import {
  type Course,
  COURSE_KINDS,
  type CourseKind,
  type CoursePoint,
  type CourseRules,
  type CourseWish,
} from "./course.ts";

/** Member of the walk file. */
const MEMBER = "course";
const START = "Start";

/** What the file keeps: the start and the number of points are in the walk itself. */
export interface CourseMember extends CourseRules {
  readonly kind: CourseKind;
  readonly seed: number;
}

const range = v.pipe(v.tuple([v.number(), v.number()]), v.readonly());
const memberSchema = v.object({
  kind: v.picklist(COURSE_KINDS),
  seed: v.pipe(v.number(), v.safeInteger()),
  legM: range,
  totalM: v.nullable(range),
  climbM: v.nullable(range),
  on: v.picklist(["found", "bare"]),
  backstops: v.boolean(),
  oddsAtLeast: v.nullable(v.number()),
  clearOf: v.picklist(["line", "cone"]),
  apartM: v.number(),
});

/** Points in the order in which they are walked; a star and a scatter course come back to the start in between. */
function inOrder({
  wish: { kind },
  points,
}: Pick<Course, "wish" | "points">): readonly (readonly [number, CoursePoint])[] {
  const [start, ...targets] = points.map((point, i) => [i, point] as const);
  if (!start) return [];
  if (kind === "line") return [start, ...targets];
  if (kind === "round") return [start, ...targets, start];
  return [start, ...targets.flatMap((target) => [target, start])];
}

/**
 * @param like a walk whose day, pace, norths and map the course takes over
 * @param title of the course
 */
export function walkOfCourse(course: Course, like: Walk | string, title: string): Walk {
  const base =
    typeof like === "string"
      ? emptyWalk(like)
      : { ...like, notes: "", unknown: emptyWalk(like.date).unknown };
  const points = inOrder(course).map(([n, { lonLat, words }], i): WalkPoint => ({
    id: `p${i + 1}`,
    name: n === 0 ? START : String(n),
    lonLat,
    note: n === 0 ? "" : words,
    unknown: NOTHING_UNKNOWN,
    aimOff: false,
    instruction: null,
    unknownOfLeg: NOTHING_UNKNOWN,
  }));
  const { start: _start, points: _points, ...member } = course.wish;
  return { ...base, title, points, unknown: { ...base.unknown, walk: { [MEMBER]: member } } };
}

/** What was asked of the course that a walk is; null when it is none. @throws Fault "bad-walk" for a member that cannot be read */
export function courseMemberOf(walk: Pick<Walk, "unknown">): CourseMember | null {
  const value = walk.unknown.walk[MEMBER];
  if (value === undefined) return null;
  const read = v.safeParse(memberSchema, value);
  if (read.success) return read.output;
  const [issue] = read.issues;
  throw new Fault(
    "bad-walk",
    "What the walk says of the course it was set as cannot be read.",
    `${MEMBER}.${issue.path?.map(({ key }) => String(key)).join(".") ?? ""}: ${issue.message}`,
    "Set the course anew.",
  );
}

/** Nearer than this to the start a point of the walk is the start, metres. */
const SAME_M = 1;

/**
 * The course a walk is now, for `checkCourse`: points moved, added or taken out by hand count.
 * @returns null when the walk is no course
 * @throws Fault "bad-walk" as `courseMemberOf`; "bad-argument" when the walk no longer has the shape of its kind
 */
export function courseOfWalk(
  walk: Pick<Walk, "points" | "unknown">,
): { readonly wish: CourseWish; readonly points: readonly CoursePoint[] } | null {
  const member = courseMemberOf(walk);
  const start = walk.points[0];
  if (!member || !start) return null;
  const isStart = ({ lonLat }: { readonly lonLat: LonLat }): boolean =>
    inverse(lonLat, start.lonLat).distanceM < SAME_M;
  const rest = walk.points.slice(1);
  const comesBack = member.kind !== "line";
  if (comesBack && rest.length > 0 && !isStart(rest.at(-1) as WalkPoint)) throw notShaped(member.kind);
  const between = member.kind === "star" || member.kind === "scatter";
  if (between && rest.some((point, i) => isStart(point) !== (i % 2 === 1))) throw notShaped(member.kind);
  const targets = between ? rest.filter((_, i) => i % 2 === 0) : comesBack ? rest.slice(0, -1) : rest;
  const points = [start, ...targets].map(({ lonLat, note }): CoursePoint => ({
    lonLat,
    kind: null,
    name: null,
    words: note,
  }));
  return { wish: { ...member, start: start.lonLat, points: targets.length }, points };
}

const notShaped = (kind: CourseKind): Fault =>
  new Fault(
    "bad-argument",
    kind === "round"
      ? "This walk was set as a round and no longer ends where it starts."
      : "This walk was set as a course around its start and no longer comes back to it after every point.",
    null,
    "Bring it back by undo, or set the course anew.",
  );
