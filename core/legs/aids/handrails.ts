/**
 * Handrails: lines on the ground about parallel to the leg and close enough to follow.
 *
 * Stretches beside the leg (see beside.ts) are split where the line changes sides, then joined over gaps of up to
 * 30 m when they are parts of one line, of a line that goes on where another of its kind ends, or of two that run side
 * by side within 15 m (the two halves of a dual road). A line that weaves within 10 m of the leg has not changed sides:
 * such a stretch counts where most of it lies. Of a valley line and the stream in it only the stream is given.
 */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { Kind } from "../../map/kinds.ts";
import { stretchesBeside, type Stretch, type StretchPoint } from "./beside.ts";
import type { Handrail } from "../line-aids.ts";
import { sliceLine, type FramedLine } from "./framed-line.ts";
import type { LegSettings } from "../leg-settings.ts";
import { FOLLOWED_KINDS, followedSurely } from "../line-kinds.ts";

/** How many are shown before the rest is asked for. */
export const SHOWN_HANDRAILS = 3;

/** A gap a walker crosses without losing the line. */
const GAP_M = 30;
/** Nearer than this one walks on the line rather than beside it, on whichever side. */
const ON_M = 10;
/** Two lines of one kind and name this close are one to the walker. */
const DUAL_M = 15;

/** One stretch on one side. Offsets are metres from the leg, always positive. */
interface SideStretch {
  readonly framed: FramedLine;
  readonly points: Stretch;
  readonly side: "left" | "right";
  readonly fromM: number;
  readonly toM: number;
  readonly meanOffsetM: number;
}

type Wanted = Pick<LegSettings, "handrailOffsetM" | "handrailToleranceDeg" | "handrailMinM">;

/**
 * All handrails of a leg, best first: by share of the leg covered, times closeness (1 on the leg, ½ at the widest
 * offset), times how surely such a line is followed. Show the first `SHOWN_HANDRAILS`.
 * A leg without length has none.
 */
export function handrailsOf(frame: LegFrame, lines: readonly FramedLine[], wanted: Wanted): Handrail[] {
  if (frame.bearing === null) return [];
  const beside = { offsetM: wanted.handrailOffsetM, toleranceDeg: wanted.handrailToleranceDeg };
  const stretches = lines
    .filter(({ line }) => FOLLOWED_KINDS.has(line.kind))
    .flatMap((framed) =>
      stretchesBeside(framed, frame.lengthM, beside).flatMap((points) => bySide(framed, points)),
    );
  const handrails = joined(stretches)
    .map((group) => handrailFrom(group, frame.lengthM))
    .filter((handrail) => handrail.coverage * frame.lengthM >= wanted.handrailMinM);
  const worth = (h: Handrail): number =>
    h.coverage * (1 - (0.5 * h.meanOffsetM) / Math.max(1, wanted.handrailOffsetM)) * followedSurely(h.kind);
  return handrails
    .filter((handrail) => !isValleyOfStream(handrail, handrails))
    .sort((a, b) => worth(b) - worth(a) || a.fromM - b.fromM || a.kind.localeCompare(b.kind));
}

/** Cuts a stretch where the line crosses to the other side of the leg for good. */
function bySide(framed: FramedLine, stretch: Stretch): SideStretch[] {
  const parts: StretchPoint[][] = [];
  let part: StretchPoint[] = [];
  for (const point of stretch) {
    const before = part.at(-1);
    if (before && before.t * point.t < 0) {
      const f = before.t / (before.t - point.t);
      const crossing = {
        place: before.place + f * (point.place - before.place),
        s: before.s + f * (point.s - before.s),
        t: 0,
      };
      parts.push([...part, crossing]);
      part = [crossing];
    }
    part.push(point);
    if (point.t === 0 && part.length > 1) {
      parts.push(part);
      part = [point];
    }
  }
  if (part.length > 1) parts.push(part);

  const clear = (points: readonly StretchPoint[]): number => {
    const furthest = points.reduce((most, { t }) => (Math.abs(t) > Math.abs(most) ? t : most), 0);
    return Math.abs(furthest) > ON_M ? Math.sign(furthest) : 0;
  };
  const merged: { points: StretchPoint[]; side: number }[] = [];
  for (const points of parts) {
    const side = clear(points);
    const last = merged.at(-1);
    if (last && (side === 0 || last.side === 0 || side === last.side)) {
      last.points.push(...points.slice(1));
      last.side ||= side;
    } else merged.push({ points, side });
  }
  return merged.map(({ points }) => sideStretch(framed, points));
}

function sideStretch(framed: FramedLine, points: Stretch): SideStretch {
  const { meanOffsetM, balance } = offsets([points]);
  const along = points.map(({ s }) => s);
  return {
    framed,
    points,
    side: balance < 0 ? "left" : "right",
    fromM: Math.min(...along),
    toM: Math.max(...along),
    meanOffsetM,
  };
}

/** Offsets weighed by length along the leg; `balance` is positive when more of the line lies to the right. */
function offsets(stretches: readonly Stretch[]): {
  meanOffsetM: number;
  minOffsetM: number;
  maxOffsetM: number;
  balance: number;
} {
  let [area, balance, length, min, max] = [0, 0, 0, Infinity, 0];
  for (const points of stretches) {
    for (let i = 0; i < points.length; i++) {
      const { s, t } = points[i] as StretchPoint;
      min = Math.min(min, Math.abs(t));
      max = Math.max(max, Math.abs(t));
      const next = points[i + 1];
      if (!next) continue;
      const ds = Math.abs(next.s - s);
      length += ds;
      balance += ds * (t + next.t);
      if (t * next.t >= 0) area += (ds * Math.abs(t + next.t)) / 2;
      else {
        // Two triangles, one on each side.
        area += (ds * (t * t + next.t * next.t)) / (2 * Math.abs(next.t - t));
        min = 0;
      }
    }
  }
  return { meanOffsetM: length > 0 ? area / length : min, minOffsetM: min, maxOffsetM: max, balance };
}

function joined(stretches: readonly SideStretch[]): SideStretch[][] {
  const groups: SideStretch[][] = [];
  for (const next of [...stretches].sort((a, b) => a.fromM - b.fromM)) {
    const own = groups.filter((group) => group.some((other) => goOn(other, next)));
    for (const group of own) groups.splice(groups.indexOf(group), 1);
    groups.push([...own.flat(), next]);
  }
  return groups;
}

/** Whether two stretches are one handrail. */
function goOn(a: SideStretch, b: SideStretch): boolean {
  const [one, other] = [a.framed.line, b.framed.line];
  if (a.side !== b.side || one.kind !== other.kind || one.name !== other.name) return false;
  const gap = Math.max(a.fromM, b.fromM) - Math.min(a.toM, b.toM);
  if (gap > GAP_M) return false;
  if (a.framed === b.framed) return true;
  if (gap < 0 && Math.abs(a.meanOffsetM - b.meanOffsetM) <= DUAL_M) return true;
  return ends(a.points).some((p) => ends(b.points).some((q) => Math.hypot(p.s - q.s, p.t - q.t) <= GAP_M));
}

const ends = (points: Stretch): readonly StretchPoint[] => [
  points[0] as StretchPoint,
  points.at(-1) as StretchPoint,
];

function handrailFrom(group: readonly SideStretch[], lengthM: number): Handrail {
  const { line } = (group[0] as SideStretch).framed;
  const { meanOffsetM, minOffsetM, maxOffsetM } = offsets(group.map(({ points }) => points));
  // The union of the stretches: where a line doubles back it is not counted twice.
  let [covered, reached] = [0, -Infinity];
  for (const { fromM, toM } of [...group].sort((a, b) => a.fromM - b.fromM)) {
    covered += Math.max(0, toM - Math.max(fromM, reached));
    reached = Math.max(reached, toM);
  }
  return {
    kind: line.kind,
    name: line.name,
    side: (group[0] as SideStretch).side,
    fromM: Math.min(...group.map(({ fromM }) => fromM)),
    toM: reached,
    meanOffsetM,
    minOffsetM,
    maxOffsetM,
    coverage: Math.min(1, covered / lengthM),
    stretches: group.map(({ framed, points }) => {
      const [first, last] = ends(points);
      return sliceLine(framed, (first as StretchPoint).place, (last as StretchPoint).place);
    }),
  };
}

const WATER_COURSES: ReadonlySet<Kind> = new Set<Kind>(["stream", "river"]);

/** A valley line says nothing more where a stream runs down it: most of it beside the stream, as far off as the stream. */
function isValleyOfStream(handrail: Handrail, all: readonly Handrail[]): boolean {
  if (handrail.kind !== "valley") return false;
  return all.some(({ kind, fromM, toM, meanOffsetM }) => {
    const shared = Math.min(toM, handrail.toM) - Math.max(fromM, handrail.fromM);
    return (
      WATER_COURSES.has(kind) &&
      shared >= 0.7 * (handrail.toM - handrail.fromM) &&
      Math.abs(meanOffsetM - handrail.meanOffsetM) <= GAP_M
    );
  });
}
