/**
 * Aiming off: a target that lies on a line across the way is steered past on purpose, so that on reaching the line one
 * knows which way to turn.
 * Source of the practice: US Army FM 3-21.8, navigation aids (deliberate offset). The offset is the least, in whole
 * degrees, at which the whole drift cone meets the line on the chosen side, 10 m clear of the target or more: on a line
 * square to a leg of length d the inner edge of the cone meets it d·tan(offset − drift) aside, the outer edge
 * d·tan(offset + drift).
 *
 * Sides are weighed by the most one may have to walk along the line, what hinders on the way, whether turning then leads
 * uphill, and whether something stops one who walks past the target. Of a stream's two sides the upper is thus taken:
 * one turns downstream. Common practice, no source.
 */
import { inverse } from "../../geodesy/geodesic.ts";
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { Kind } from "../../map/kinds.ts";
import { DEG, trueBearing, type TrueBearing } from "../../units/angle.ts";
import type { LengthUnit } from "../../units/format.ts";
import type { LonLat } from "../../units/position.ts";
import type { Handrail } from "../line-aids.ts";
import { lengthInNote } from "../leg-words.ts";
import { isGroundShape, kindAndName, STOPPING_KINDS, stopsSurely } from "../line-kinds.ts";
import { aimedAt, MARGIN_M, type Side, type SideInput } from "./aim-off-side.ts";
import { alongAt, angleBetween, castRay, chordAt, isNear, nearestPlace, type St } from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";
import { chainFrom } from "./line-chain.ts";

export interface AimOff {
  /** Which side of the target to steer to. */
  readonly side: "left" | "right";
  readonly offsetDeg: number;
  /** The bearing to walk instead of the leg's. */
  readonly bearingTrueDeg: TrueBearing;
  readonly line: { readonly kind: Kind; readonly name: string | null };
  /** The line through the target to both sides, on through all lines it goes on with, as drawn: longitude, latitude … */
  readonly stretches: readonly Float64Array[];
  /** Which way to turn on reaching the line. */
  readonly turn: "left" | "right";
  /** The most one may have to walk along the line, metres, and what one does who kept the bearing. */
  readonly alongM: number;
  readonly meanAlongM: number;
  /** Where one who keeps the bearing meets the line, and how far that is. */
  readonly meetLonLat: LonLat;
  readonly distanceM: number;
  /** Share of walkers who reach the line on that side; within the drift cone all do. */
  readonly onSideShare: number;
  /** Sentences: why that side, what to do on reaching the line, what to beware of. */
  readonly why: string;
  readonly onReaching: string;
  readonly caution: string | null;
}

export interface AimOffFinding {
  readonly aimOff: AimOff | null;
  /** Why there is none, a sentence; null when there is one. */
  readonly reason: string | null;
}

export interface AimOffInput {
  readonly frame: LegFrame;
  readonly lines: readonly FramedLine[];
  readonly handrails?: readonly Handrail[];
  readonly heightAt?: ((lonLat: LonLat) => number) | null;
}

export interface AimOffSettings {
  readonly driftDeg: number;
  readonly backstopReachM: number;
  /** Offsets are given in steps of this many degrees; 1 when not said. */
  readonly stepDeg?: number;
  readonly lengthUnit?: LengthUnit;
}

/** A target this near a line lies on it, as for backstops. */
const ON_LINE_M = 10;
/** Met at less one walks along the line, not across it. */
const ACROSS_DEG = 30;
/** Half the chord that gives the line's direction at the target. */
const CHORD_M = 15;
/** A handrail that ends this near the target leads to it. */
const LEADS_TO_M = 20;

/** Whether and how to aim off on a leg. */
export function aimOffOf(
  { frame, lines, handrails = [], heightAt = null }: AimOffInput,
  { driftDeg, backstopReachM, stepDeg = 1, lengthUnit = "metric" }: AimOffSettings,
): AimOffFinding {
  const none = (reason: string): AimOffFinding => ({ aimOff: null, reason });
  const { lengthM, bearing } = frame;
  if (bearing === null) return none("The leg has no length.");
  const target: St = { s: lengthM, t: 0 };
  const on = lines.flatMap((line) => {
    const { kind } = line.line;
    if (!STOPPING_KINDS.has(kind) || isGroundShape(kind) || !isNear(line, target, ON_LINE_M)) return [];
    const { place, offM } = nearestPlace(line, target);
    if (offM > ON_LINE_M) return [];
    const across = angleBetween(chordAt(line, alongAt(line, place), CHORD_M), { s: 1, t: 0 });
    return [{ line, place, across }];
  });
  if (on.length === 0) return none("The target does not lie on a line.");
  const across = on
    .filter((l) => l.across >= ACROSS_DEG)
    .sort((a, b) => stopsSurely(b.line.line.kind) - stopsSurely(a.line.line.kind) || b.across - a.across);
  const calledOf = ({ line: { line } }: (typeof on)[number]): string => kindAndName(line.kind, line.name);
  if (across.length === 0)
    return none(
      `The ${calledOf(on[0] as (typeof on)[number])} at the target runs along the way, not across it.`,
    );
  if (lengthM * Math.tan(driftDeg * DEG) <= MARGIN_M)
    return none(
      `Over ${lengthInNote(lengthM, lengthUnit)} drift stays within ${lengthInNote(MARGIN_M, lengthUnit)}: walk straight to the target.`,
    );
  const leading = handrails.find(
    (h) =>
      h.toM >= lengthM - LEADS_TO_M &&
      h.toM - h.fromM >= 0.5 * lengthM &&
      h.minOffsetM <= ON_LINE_M &&
      !isGroundShape(h.kind) &&
      endsAt(h, frame),
  );
  if (leading)
    return none(
      `The ${kindAndName(leading.kind, leading.name)} leads to the target: follow it, without aiming off.`,
    );

  const height = heightAt && ((at: St) => heightAt(frame.toLonLat(at.s, at.t)));
  const tried = across.map((on1) =>
    bothSides(on1, { lengthM, driftDeg, stepDeg, reachM: backstopReachM }, lines, height),
  );
  // The line that stops one most surely, unless one cannot aim off on it.
  const chosen = tried.find(({ sides }) => sides[0].offsetDeg !== null) ?? tried[0];
  if (!chosen) return none("The target does not lie on a line.");
  const { line, others } = chosen;
  const [one, other] = chosen.sides;
  if (one.offsetDeg === null)
    return none(
      `One cannot aim off: ${one.side === "left" ? one.bar : other.bar}, and ${one.side === "left" ? other.bar : one.bar}.`,
    );
  const { kind, name } = line.line;
  const called = kindAndName(kind, name);
  const turn = one.side === "left" ? "right" : "left";
  const meetLonLat = frame.toLonLat(one.meet.s, one.meet.t);
  const { distanceM } = inverse(frame.from, meetLonLat);
  return {
    reason: null,
    aimOff: {
      side: one.side,
      offsetDeg: one.offsetDeg,
      bearingTrueDeg: trueBearing(bearing + (one.side === "left" ? -1 : 1) * one.offsetDeg),
      line: { kind, name },
      stretches: [onMap(frame, chosen.through)],
      turn,
      alongM: one.alongM,
      meanAlongM: one.meanAlongM,
      meetLonLat,
      distanceM,
      onSideShare: one.share,
      why: whySide(one, other, lengthUnit),
      onReaching: `On reaching the ${called} after about ${lengthInNote(distanceM, lengthUnit)}, turn ${turn} and follow it to the target: about ${lengthInNote(one.meanAlongM, lengthUnit)}, at most ${lengthInNote(one.alongM, lengthUnit)}.${
        one.stop
          ? ` Who comes to the ${one.stop.called} has passed the target by ${lengthInNote(one.stop.beyondM, lengthUnit)}.`
          : ""
      }`,
      caution: cautionOn(one, line, others, lengthM, lengthUnit),
    },
  };
}

interface OnLine {
  readonly line: FramedLine;
  readonly place: number;
}

/** What aiming off to either side would come to, the better side first. */
function bothSides(
  { line, place }: OnLine,
  common: Pick<SideInput, "lengthM" | "driftDeg" | "stepDeg" | "reachM">,
  lines: readonly FramedLine[],
  heightAt: ((at: St) => number) | null,
): {
  readonly line: FramedLine;
  readonly others: readonly FramedLine[];
  /** s, t … of the line through the target, to both sides. */
  readonly through: readonly number[];
  readonly sides: readonly [Side, Side];
} {
  const farM = (common.lengthM + common.reachM) * 1.2;
  const forwards = chainFrom(line, place, true, lines, farM);
  const backwards = chainFrom(line, place, false, lines, farM);
  const chord = chordAt(line, alongAt(line, place), CHORD_M);
  const [right, left] = chord.t > 0 ? [forwards, backwards] : [backwards, forwards];
  const others = lines.filter((l) => !forwards.parts.has(l) && !backwards.parts.has(l) && !isPartOf(l, line));
  const given = { ...common, others, heightAt };
  const one = aimedAt("left", { ...given, chain: left.way, other: right.way });
  const other = aimedAt("right", { ...given, chain: right.way, other: left.way });
  const through = [...reversed(backwards.way.st), ...forwards.way.st.subarray(2)];
  return { line, others, through, sides: one.cost <= other.cost ? [one, other] : [other, one] };
}

function reversed(st: Float64Array): number[] {
  const out: number[] = [];
  for (let i = st.length - 2; i >= 0; i -= 2) out.push(st[i] as number, st[i + 1] as number);
  return out;
}

function onMap(frame: LegFrame, st: readonly number[]): Float64Array {
  const out = new Float64Array(st.length);
  for (let i = 0; i < st.length; i += 2) out.set(frame.toLonLat(st[i] as number, st[i + 1] as number), i);
  return out;
}

/** Whether the nearest stretch of a handrail comes to the target itself. */
function endsAt({ stretches }: Handrail, frame: LegFrame): boolean {
  return stretches.some((stretch) =>
    [0, stretch.length - 2].some((i) => {
      const [s, t] = frame.toFrame([stretch[i] as number, stretch[i + 1] as number]);
      return Math.hypot(s - frame.lengthM, t) <= LEADS_TO_M;
    }),
  );
}

/** Another part of the same line: it can neither hinder nor stop, nor be mistaken for it. */
const isPartOf = (a: FramedLine, b: FramedLine): boolean =>
  a.line.kind === b.line.kind && a.line.name !== null && a.line.name === b.line.name;

function whySide(one: Side, other: Side, unit: LengthUnit): string {
  const side = `${one.side.charAt(0).toUpperCase()}${one.side.slice(1)}`;
  if (other.bar) return `${side} because ${other.bar}.`;
  const reasons: string[] = [];
  if (other.hinders && other.hinders !== one.hinders)
    reasons.push(`on the ${other.side} the ${other.hinders} hinders some on the way`);
  const [rise, otherRise] = [one.riseM, other.riseM];
  if (rise !== null && otherRise !== null && Math.abs(rise - otherRise) >= 2)
    reasons.push(rise < 0 ? "turning then leads downhill" : "turning then leads less uphill");
  if (other.alongM - one.alongM >= 0.1 * one.alongM)
    reasons.push(
      `the line slants back that way: at most ${lengthInNote(one.alongM, unit)} along it, not ${lengthInNote(other.alongM, unit)}`,
    );
  if (one.stop && !other.stop) reasons.push(`the ${one.stop.called} stops one who walks past the target`);
  return reasons.length > 0
    ? `${side} because ${reasons.join(", and ")}.`
    : `${side}; the other side is as good.`;
}

function cautionOn(
  one: Side,
  line: FramedLine,
  others: readonly FramedLine[],
  lengthM: number,
  unit: LengthUnit,
): string | null {
  const cautions: string[] = [];
  if (one.hinders) cautions.push(`The ${one.hinders} lies across the way of some.`);
  const farM = Math.hypot(one.meet.s, one.meet.t);
  const [cos, sin] = [one.meet.s / farM, one.meet.t / farM];
  const before = others.flatMap((l) => {
    if (l.line.kind !== line.line.kind) return [];
    const hit = castRay(l, { s: 0, t: 0 }, cos, sin, lengthM / 2, farM - MARGIN_M);
    return hit ? [hit.distanceM] : [];
  });
  if (before.length > 0)
    cautions.push(
      `Another ${kindAndName(line.line.kind, null)} is crossed before it, at ${lengthInNote(Math.max(...before), unit)}: go on over that one.`,
    );
  return cautions.length > 0 ? cautions.join(" ") : null;
}
