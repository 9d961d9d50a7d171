/** From a leg's figures to what walkers meet, and the odds of its plan. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { Kind } from "../../map/kinds.ts";
import type { LonLat } from "../../units/position.ts";
import { distanceToLine, type FramedLine } from "../aids/framed-line.ts";
import { CROSSED_KINDS, followedSurely, stopsSurely } from "../line-kinds.ts";
import type { OddsAids, OddsLine, OddsRail } from "./scene.ts";
import { type OddsRun, simulate } from "./simulate.ts";
import { BY_MARKS, type Draw, type OddsSpread, type Steering, UNAIDED, USUAL_SPREAD } from "./spread.ts";

/** A thing of the ground with its stretches as drawn, longitude, latitude …; handrails and backstops are such. */
export interface DrawnAid {
  readonly kind: Kind;
  readonly name: string | null;
  readonly stretches: readonly Float64Array[];
}

/** The bearing turned aside from a target on a line. */
export interface AimOffPlan {
  readonly side: "left" | "right";
  readonly offsetDeg: number;
  readonly line: { readonly kind: Kind; readonly name: string | null };
  /** The line to both sides of the target, as drawn, when it goes on through lines of other names or of none. */
  readonly stretches?: readonly Float64Array[];
  /** The most one may have to walk along the line, metres. */
  readonly alongM: number;
}

/** An attack point, as a place to go to first. */
export interface AttackPointPlan {
  readonly lonLat: LonLat;
  /** What stops those who walk past it; null when nothing does. */
  readonly backstop?: DrawnAid | null;
  /** From how far off it is seen, metres; the usual sight distance when left out. */
  readonly sightM?: number;
}

/** How a leg is to be walked. */
export interface LegPlan {
  readonly steering: "marks" | "unaided";
  /** Best first, as `handrailsOf` gives them; only those that are to be followed. */
  readonly handrails: readonly DrawnAid[];
  readonly backstop: DrawnAid | null;
  readonly aimOff: AimOffPlan | null;
  readonly attackPoint: AttackPointPlan | null;
}

/** The settings of the odds. */
export interface OddsSettings extends Omit<OddsSpread, "steering"> {
  readonly marks: Steering;
  readonly unaided: Steering;
}

const { paceError, sightM, walkOnM, railReachM } = USUAL_SPREAD;
export const USUAL_ODDS: OddsSettings = {
  marks: BY_MARKS,
  unaided: UNAIDED,
  paceError,
  sightM,
  walkOnM,
  railReachM,
};

/** A line drawn on the target lies within this of it: as for the backstop. */
const ON_LINE_M = 10;
/** The stretch of an aid and the line it was cut from agree to less. */
const SAME_M = 1;

/**
 * The odds of a leg walked as planned; null for a leg without length.
 * @param lines the leg's lines in its frame, as for its other figures
 * @throws Fault "bad-argument" for settings or a draw that cannot be
 */
export function oddsOf(
  frame: LegFrame,
  lines: readonly FramedLine[],
  plan: LegPlan,
  settings: OddsSettings = USUAL_ODDS,
  draw: Draw = {},
): OddsRun | null {
  if (frame.bearing === null) return null;
  const { marks, unaided, ...rest } = settings;
  const steering = plan.steering === "marks" ? marks : unaided;
  return simulate(
    { lengthM: toMillimetre(frame.lengthM) },
    aidsOf(frame, lines, plan, settings),
    { ...rest, steering },
    draw,
  );
}

/** What walkers of a plan meet, in the leg's frame. */
export function aidsOf(
  frame: LegFrame,
  lines: readonly FramedLine[],
  { handrails, backstop, aimOff, attackPoint }: LegPlan,
  settings: Pick<OddsSettings, "walkOnM" | "sightM"> = USUAL_ODDS,
): OddsAids {
  const far = frame.lengthM + settings.walkOnM;
  const isAimedAt = (kind: Kind, st: ArrayLike<number>): boolean =>
    aimOff !== null && kind === aimOff.line.kind && liesAlong(frame, st, aimOff);
  const collecting = lines
    .filter(
      ({ line: { kind }, st, maxS, minS, maxT, minT }) =>
        CROSSED_KINDS.has(kind) &&
        stopsSurely(kind) > 0 &&
        maxS >= 0 &&
        minS <= frame.lengthM &&
        // Lines that are not crossed by the leg or near it tell nobody how far along it they are.
        minT <= far / 2 &&
        maxT >= -far / 2 &&
        !isAimedAt(kind, st),
    )
    .map(lineOf);
  const rails = handrails.map((aid) => railOf(frame, lines, aid));
  const stop = stopOf(frame, lines, backstop).filter(({ st }) => !backstop || !isAimedAt(backstop.kind, st));
  const via = attackPoint ? frame.toFrame(attackPoint.lonLat) : null;
  return {
    collecting,
    rails,
    stop,
    aimOff: aimOff
      ? {
          line: aimLines(frame, lines, aimOff),
          side: aimOff.side,
          offsetDeg: aimOff.offsetDeg,
          followM: aimOff.alongM,
        }
      : null,
    via:
      via && attackPoint
        ? {
            s: toMillimetre(via[0]),
            t: toMillimetre(via[1]),
            sightM: attackPoint.sightM ?? settings.sightM,
            collecting,
            rails,
            stop: stopOf(frame, lines, attackPoint.backstop ?? null),
          }
        : null,
  };
}

/** Millimetres: finer digits depend on the machine's sines. */
const toMillimetre = (m: number): number => Math.round(m * 1000) / 1000;
const rounded = (st: ArrayLike<number>): Float64Array => Float64Array.from(st, toMillimetre);

const lineOf = ({ line: { kind, name }, st }: FramedLine): OddsLine => {
  const places = rounded(st);
  return { st: places, surely: stopsSurely(kind), key: keyOf(kind, name, places) };
};

function inFrame(frame: LegFrame, stretch: Float64Array): Float64Array {
  const st = new Float64Array(stretch.length);
  frame.project(stretch, 0, stretch.length >> 1, st);
  return st.map(toMillimetre);
}

function railOf(frame: LegFrame, lines: readonly FramedLine[], aid: DrawnAid): OddsRail {
  const stretches = aid.stretches.map((stretch) => inFrame(frame, stretch));
  return {
    stretches,
    surely: followedSurely(aid.kind),
    key: keyOfAid(aid, stretches, cutFrom(lines, aid, stretches)),
  };
}

/**
 * A backstop's whole lines: its figure holds only what lies in the drift cone, and walkers stray further. A rise or drop of
 * the ground, which is no line of the map, stands as drawn.
 */
function stopOf(frame: LegFrame, lines: readonly FramedLine[], aid: DrawnAid | null): OddsLine[] {
  if (!aid) return [];
  const stretches = aid.stretches.map((stretch) => inFrame(frame, stretch));
  const own = cutFrom(lines, aid, stretches);
  const parts = own.length > 0 ? own.map(({ st }) => rounded(st)) : stretches;
  // One thing, noticed or overlooked as one.
  const key = keyOfAid(aid, stretches, own);
  return parts.map((st) => ({ st, surely: stopsSurely(aid.kind), key }));
}

/** The lines of the map an aid's stretches were cut from. */
const cutFrom = (
  lines: readonly FramedLine[],
  { kind, name }: DrawnAid,
  stretches: readonly Float64Array[],
): FramedLine[] =>
  lines.filter(
    (framed) =>
      framed.line.kind === kind &&
      framed.line.name === name &&
      stretches.some((st) => distanceToLine(framed, st[0] as number, st[1] as number) <= SAME_M),
  );

const keyOfAid = (
  { kind, name }: DrawnAid,
  stretches: readonly Float64Array[],
  own: readonly FramedLine[],
): number => (own[0] ? lineOf(own[0]).key : keyOf(kind, name, stretches[0] ?? new Float64Array(2)));

/** The line aimed at: as it runs on to both sides of the target, else the parts of that name on which the target may lie. */
function aimLines(
  frame: LegFrame,
  lines: readonly FramedLine[],
  { line, stretches = [] }: AimOffPlan,
): OddsLine[] {
  const near = lines.filter(
    (framed) =>
      framed.line.kind === line.kind &&
      framed.line.name === line.name &&
      distanceToLine(framed, frame.lengthM, 0) <= ON_LINE_M,
  );
  if (stretches.length === 0) return near.map(lineOf);
  const drawn = stretches.map((stretch) => inFrame(frame, stretch));
  const key = near[0] ? lineOf(near[0]).key : keyOf(line.kind, line.name, drawn[0] as Float64Array);
  return drawn.map((st) => ({ st, surely: stopsSurely(line.kind), key }));
}

/** Whether a segment of a line lies on the line aimed at: then it is a part of it, and nothing else besides. */
function liesAlong(frame: LegFrame, st: ArrayLike<number>, { stretches = [] }: AimOffPlan): boolean {
  const along = stretches.map((stretch) => inFrame(frame, stretch));
  for (let i = 0; i + 3 < st.length; i += 2) {
    const s = ((st[i] as number) + (st[i + 2] as number)) / 2;
    const t = ((st[i + 1] as number) + (st[i + 3] as number)) / 2;
    if (along.some((line) => distanceToLine({ st: line, count: line.length >> 1 }, s, t) <= SAME_M))
      return true;
  }
  return false;
}

/** 32 bits from what a thing is: its name when it has one, else where it begins (FNV-1a, public domain). */
function keyOf(kind: Kind, name: string | null, st: ArrayLike<number>): number {
  const text = `${kind}|${name ?? `${st[0]},${st[1]}`}`;
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash | 0;
}
