/**
 * Attack points: easy places close to a hard target, from which the last short stretch is walked with care.
 *
 * A target is hard when nothing one could not miss is right by it: no line within 15 m and no junction, bend, summit or
 * building within 30 m. A target that lies on or by such a thing is found by it; where it lies on a line, see aim-off.ts.
 */
import { inverse } from "../../geodesy/geodesic.ts";
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { Kind } from "../../map/kinds.ts";
import type { LengthUnit } from "../../units/format.ts";
import type { TrueBearing } from "../../units/angle.ts";
import type { Landform } from "../../terrain/landforms/landform.ts";
import { growBbox, type Bbox, type LonLat } from "../../units/position.ts";
import type { Handrail } from "../line-aids.ts";
import type { LegSettings } from "../leg-settings.ts";
import { lengthInNote } from "../leg-words.ts";
import { followedSurely, isGroundShape, kindAndName } from "../line-kinds.ts";
import { type Candidate, candidatesNear, type Surroundings } from "./attack-points-candidates.ts";
import { scored, type Scored } from "./attack-points-score.ts";
import { apartM, isNear, nearestPlace, type St } from "./framed-geometry.ts";
import { frameLines } from "./framed-line.ts";

export interface AttackPoint {
  readonly kind: Kind;
  readonly name: string | null;
  readonly lonLat: LonLat;
  /** From there to the target. */
  readonly bearingTrueDeg: TrueBearing;
  readonly distanceM: number;
  /** 0–1: how easily it is found and how good the last leg from it is. */
  readonly score: number;
  /** With its article: "the junction of a path and Moor Road", "where the path crosses the stream". */
  readonly words: string;
  /** A sentence that says what speaks for it, and against. */
  readonly why: string;
}

export interface AttackFinding {
  /** Whether the target is hard; an easy one gets no attack points. */
  readonly hard: boolean;
  /** Why it is hard or easy, a sentence. */
  readonly because: string;
  /** At most three, best first. */
  readonly points: readonly AttackPoint[];
  /** Why there are none though the target is hard; null else. */
  readonly reason: string | null;
}

export interface AttackInput extends Surroundings {
  readonly handrails?: readonly Handrail[];
  /** Height of the ground, metres, NaN where not known; null when there are none. */
  readonly heightAt?: ((lonLat: LonLat) => number) | null;
  /** Landforms of `landformsBox`; asked for only where the map itself shows nothing that would serve. */
  readonly landformsAround?: (() => readonly Landform[]) | null;
}

/** As far as this from the target the map is looked at, metres; prepare and ask for lines, points and areas so far. */
export const ATTACK_REACH_M = 400;
/** The box around a target that holds all candidates. */
export const attackBox = ([lon, lat]: LonLat): Bbox => growBbox([lon, lat, lon, lat], ATTACK_REACH_M);

/** Landforms farther off are never worth it, and cost time: so far they are asked for, metres. */
const LANDFORMS_M = 250;
export const landformsBox = ([lon, lat]: LonLat): Bbox => growBbox([lon, lat, lon, lat], LANDFORMS_M);

/** Nearer than this a place is no place to attack from but the target's own. */
const LEAST_M = 60;
const BY_LINE_M = 15;
const BY_PLACE_M = 30;
/** Of a walk so short the start is the attack point. */
const SHORT_LEG_M = 150;
/** Worth less it is no help. No source. */
const LEAST_SCORE = 0.3;
const SHOWN = 3;
/** So far apart two attack points are two. */
const APART_M = 60;
/** Things of one kind so near each other can be taken for one another. */
const MISTAKEN_M = 80;

type AttackSettings = Pick<LegSettings, "driftDeg"> & { readonly lengthUnit?: LengthUnit };

/** The attack points of a leg's target. */
export function attackPointsOf(input: AttackInput, settings: AttackSettings): AttackFinding {
  const drawn = attackPointsAmong(input, settings);
  const { landformsAround, frame } = input;
  if (!landformsAround || !drawn.hard || drawn.points.length > 0 || isShort(frame)) return drawn;
  const landforms = landformsAround();
  return landforms.length > 0 ? attackPointsAmong({ ...input, landforms }, settings) : drawn;
}

const isShort = ({ bearing, lengthM }: LegFrame): boolean => bearing === null || lengthM < SHORT_LEG_M;

function attackPointsAmong(
  input: AttackInput,
  { driftDeg, lengthUnit = "metric" }: AttackSettings,
): AttackFinding {
  const { frame, lines, handrails = [], heightAt = null } = input;
  const target = { s: frame.lengthM, t: 0 };
  const near = lines.filter((line) => isNear(line, target, ATTACK_REACH_M));
  const candidates = candidatesNear({ ...input, lines: near }, target, ATTACK_REACH_M);
  const easy = byWhat(input, candidates, target);
  if (easy) return { hard: false, because: easy, points: [], reason: null };
  const because = `Nothing that cannot be missed is right by the target: no line within ${lengthInNote(BY_LINE_M, lengthUnit)}, no junction, bend, summit or building within ${lengthInNote(BY_PLACE_M, lengthUnit)}.`;
  const none = (reason: string): AttackFinding => ({ hard: true, because, points: [], reason });
  if (isShort(frame)) return none("The leg is so short that its start serves as the attack point.");
  const ways = handrails
    .filter(({ kind }) => followedSurely(kind) >= 0.7)
    .flatMap(({ kind, name, fromM, stretches }) =>
      frameLines(
        frame,
        stretches.map((coords) => ({ kind, name, elevationM: NaN, index: false, coords, attributes: {} })),
      ).map((stretch) => ({ called: kindAndName(kind, name), fromM, stretch })),
    );
  const best = candidates
    .filter((c) => {
      const farM = apartM(c, target);
      const fromStartM = Math.hypot(c.s, c.t);
      return farM >= LEAST_M && farM <= 0.6 * frame.lengthM && fromStartM >= LEAST_M;
    })
    .flatMap((c) => {
      const similar = candidates.filter(
        (o) => o !== c && o.kind === c.kind && apartM(o, c) <= MISTAKEN_M,
      ).length;
      const candidate = { ...c, distinct: c.distinct / (1 + 0.4 * similar) };
      return (
        scored(candidate, {
          lengthM: frame.lengthM,
          driftDeg,
          lines: near,
          handrails: ways,
          heightAt: heightAt && ((at) => heightAt(frame.toLonLat(at.s, at.t))),
        }) ?? []
      );
    })
    .filter(({ score }) => score >= LEAST_SCORE)
    .sort((a, b) => b.score - a.score);
  const chosen: Scored[] = [];
  for (const next of best) {
    if (chosen.length === SHOWN) break;
    if (chosen.every((other) => apartM(other.candidate, next.candidate) >= APART_M)) chosen.push(next);
  }
  if (chosen.length === 0)
    return none(
      `Within ${lengthInNote(ATTACK_REACH_M, lengthUnit)} of the target the map shows nothing easy to find with a clear last leg from it.`,
    );
  return {
    hard: true,
    because,
    points: chosen.map((one) => attackPoint(one, frame, lengthUnit)),
    reason: null,
  };
}

/** What makes a target easy, as a sentence; null for a hard one. */
function byWhat({ lines }: AttackInput, candidates: readonly Candidate[], target: St): string | null {
  const place = candidates.find((c) => apartM(c, target) <= BY_PLACE_M && c.distinct >= 0.5);
  if (place)
    return `The target is ${place.words.startsWith("where ") ? "" : "at "}${place.words}, easy to find in itself.`;
  let nearest: { offM: number; called: string } | null = null;
  for (const framed of lines) {
    const { kind, name } = framed.line;
    if (followedSurely(kind) === 0 || isGroundShape(kind) || !isNear(framed, target, BY_LINE_M)) continue;
    const { offM } = nearestPlace(framed, target);
    if (offM <= BY_LINE_M && (!nearest || offM < nearest.offM))
      nearest = { offM, called: kindAndName(kind, name) };
  }
  return nearest && `The target lies by the ${nearest.called}.`;
}

function attackPoint(
  { candidate, distanceM, score, handrail, stop, riseM, crosses }: Scored,
  frame: LegFrame,
  unit: LengthUnit,
): AttackPoint {
  const { kind, name, s, t, words } = candidate;
  const lonLat = frame.toLonLat(s, t);
  const length = lengthInNote(distanceM, unit);
  const finding = [
    ...(handrail ? [`the ${handrail} leads there`] : []),
    ...(stop && stop !== handrail ? [`the ${stop} stops one there`] : []),
  ];
  const slope =
    riseM === null || Math.abs(riseM) < 0.05 * distanceM
      ? ""
      : `, ${lengthInNote(Math.abs(riseM), unit)} ${riseM > 0 ? "up" : "down"}`;
  const across = crosses.length > 0 ? `, over the ${crosses.join(" and the ")}` : ", nothing in the way";
  return {
    kind,
    name,
    lonLat,
    bearingTrueDeg: inverse(lonLat, frame.to).bearing,
    distanceM,
    score,
    words,
    why: `${words.charAt(0).toUpperCase()}${words.slice(1)}: ${finding.length > 0 ? `${finding.join(", ")}; ` : ""}from there ${length} to the target${slope}${across}.`,
  };
}
