/**
 * Walkers sent along one stage, each on its own luck. What every one of them does:
 *
 * - steers a course piece by piece, each off by its own setting error and a fresh error a piece, and counts paces, wrongly
 *   by one share throughout;
 * - on coming within reach of a handrail it follows it, if it notices it, and changes to one that leads further; leaves
 *   it where the count says so with a bearing taken anew to the goal, or sees the target from it;
 * - on meeting a line that tells how far it has come, and notices it, counts on from there, unless the count is surer;
 * - on meeting the line aimed at, turns the known way and follows it;
 * - on meeting the stop before the count is out, looks, finishes the count, and is stopped if the target is not in sight then;
 * - when the count is out, looks; if it knows of a line ahead, goes straight on to it, looking on the way.
 *
 * Common practice, no source. No walker sees the target before it looks for it, which makes the odds a little low.
 */
import {
  evenDeviate,
  evenlySpread,
  mixed,
  normalDeviate,
  normalQuantile,
  STEPS,
  walkerBase,
} from "./deviates.ts";
import { cosine, sine, square } from "./exact-math.ts";
import { drawSteering, steeringLuck, turnPieces } from "./steering-luck.ts";
import { followed, nearSegment } from "./looking.ts";
import { railAt, type RailTable } from "./rail-table.ts";
import { firstMet, type Meeting } from "./segment-slabs.ts";
import { COLLECTING, type Course, type Stage, STOP, STOPS_FROM } from "./stage.ts";

export const MISSED = 0;
export const STOPPED = 1;
export const FOUND = 2;

export interface WalkerRun {
  /** Where each walker ends, s and t in the stage's frame, metres. */
  readonly ends: Float32Array;
  /** MISSED, STOPPED or FOUND. */
  readonly outcome: Uint8Array;
}

const STRAIGHT = 0;
const ON_RAIL = 1;
const GOING_ON = 2;

/** Purposes of deviates: hops come first, up to 63. */
const LEAVING = 64;
const NOTICING = 128;
/** Under a hundredth of a millimetre nothing is left to walk. */
const NOTHING_M = 1e-5;

/**
 * @param part 0 for the first stage of a way, 1 for the second: its steering is new luck, the pace error the same
 * @param sets which walkers set out, when not all: those whose entry is 1
 */
export function sendWalkers(
  stage: Stage,
  walkers: number,
  seed: number,
  part: 0 | 1,
  sets?: Uint8Array,
): WalkerRun {
  const { spread, courses, rails, railThing, slabs, role, surely, key, pieceM, settingRad } = stage;
  const { paceError, sightM, walkOnM, railReachM } = spread;
  const { aim, lengthM, goOn } = stage;
  const main = courses[0] as Course;
  const ends = new Float32Array(2 * walkers);
  const outcome = new Uint8Array(walkers);
  const meeting: Meeting = { segment: -1, at: 0 };
  const skip = new Int32Array(stage.things);
  const luck = steeringLuck(stage);
  const last = luck.cos.length - 1;
  const sightSquare = sightM * sightM;
  const stopsFromS = lengthM * STOPS_FROM;
  const salt = part === 0 ? seed : seed ^ 0x5bd1e995;
  const [paceShift, sideShift] = [walkerBase(seed, -2), walkerBase(salt, -3)];
  const sideStep = STEPS[part === 0 ? 1 : 2];

  for (let i = 0; i < walkers; i++) {
    if (sets && sets[i] !== 1) continue;
    const stamp = i + 1;
    const base = walkerBase(salt, i);
    const scale = Math.max(0.2, 1 + paceError * normalQuantile(evenlySpread(i, STEPS[0], paceShift)));
    drawSteering(luck, base, normalQuantile(evenlySpread(i, sideStep, sideShift)));
    turnPieces(luck, 1, settingRad * (luck.deviates[0] as number));

    let course = main;
    let courseNumber = 0;
    let [s, t] = [0, 0];
    let left = course.lengthM;
    let setting = settingRad * (luck.deviates[0] as number);
    let hop = 0;
    let pieceLeft = 0;
    let [dirS, dirT] = [1, 0];
    let mode = STRAIGHT;
    let rail: RailTable | null = null;
    let used = 0;
    // Along the rail, by the count; and what is known of how far the count is off: its square at a place counted from.
    let counted = 0;
    let [doubt, since] = [0, 0];
    let [known, knownS, knownT] = [false, 0, 0];
    let result = MISSED;

    walking: for (;;) {
      if (mode !== GOING_ON) {
        for (let j = 0; j < rails.length; j++) {
          if (used & (1 << j)) continue;
          const other = rails[j] as RailTable;
          if (s < other.fromS - NOTHING_M || s > other.toS - NOTHING_M) continue;
          if (rail && other.seenFromS >= rail.seenFromS && other.toS <= rail.toS) continue;
          if (Math.abs(railAt(other, s) - t) > railReachM) continue;
          used |= 1 << j;
          if (evenDeviate(base, NOTICING + other.key) >= other.surely) continue;
          const soFar = course.lengthM - left;
          if (mode === STRAIGHT) {
            doubt += square(paceError * (soFar - since));
            counted = course.s + soFar * course.cos;
            since = counted;
          }
          const own = railThing[j] as number;
          if (own >= 0) skip[own] = stamp;
          mode = ON_RAIL;
          rail = other;
          courseNumber = j + 1;
          t = railAt(other, s);
        }
      }
      let d = 0;
      let toS = s;
      let toT = t;
      let seen = false;
      if (mode === ON_RAIL && rail) {
        const leads = rail.seenFromS !== Infinity;
        d = leads ? pieceM : Math.min(pieceM, rail.toS - counted);
        if (d <= NOTHING_M) {
          doubt += square(paceError * (rail.toS - since));
          since = 0;
          course = courses[courseNumber] as Course;
          left = course.lengthM;
          setting =
            settingRad *
            (part === 0
              ? normalQuantile(evenlySpread(i, STEPS[3], mixed(sideShift + courseNumber)))
              : normalDeviate(base, LEAVING + courseNumber));
          turnPieces(luck, hop + 1, setting);
          [mode, rail, pieceLeft] = [STRAIGHT, null, 0];
          continue;
        }
        toS = s + d * scale;
        if (toS >= rail.seenFromS) [toS, seen] = [Math.max(s, rail.seenFromS), true];
        toT = railAt(rail, toS);
      } else if (mode === STRAIGHT) {
        if (left <= NOTHING_M) {
          if (square(s - lengthM) + t * t <= sightSquare) result = FOUND;
          else if (known) [result, s, t] = [STOPPED, knownS, knownT];
          else if (goOn) {
            mode = GOING_ON;
            const [c, e] = [cosine(setting), sine(setting)];
            [dirS, dirT] = [course.cos * c - course.sin * e, course.sin * c + course.cos * e];
            continue;
          }
          break;
        }
        if (pieceLeft <= NOTHING_M) {
          if (hop < last) hop++;
          const c = luck.cos[hop] as number;
          const e = luck.sin[hop] as number;
          dirS = course.cos * c - course.sin * e;
          dirT = course.sin * c + course.cos * e;
          pieceLeft = pieceM;
        }
        d = pieceLeft < left ? pieceLeft : left;
        for (let j = 0; j < rails.length; j++) {
          const { fromS } = rails[j] as RailTable;
          if (!(used & (1 << j)) && fromS > s + NOTHING_M && s + d * scale * dirS > fromS)
            d = (fromS - s) / (scale * dirS);
        }
        toS = s + d * scale * dirS;
        toT = t + d * scale * dirT;
      } else [toS, toT] = [s + walkOnM * dirS, t + walkOnM * dirT];

      let fromS = s;
      let fromT = t;
      for (;;) {
        firstMet(slabs, fromS, fromT, toS, toT, skip, stamp, meeting);
        if (meeting.segment < 0) break;
        const thing = slabs.thing[meeting.segment] as number;
        const stepS = toS - fromS;
        const stepT = toT - fromT;
        const metS = fromS + meeting.at * stepS;
        const metT = fromT + meeting.at * stepT;
        if (role[thing] !== COLLECTING && metS < stopsFromS) {
          // Too early to be the stop: over it, and on.
          const nudge = meeting.at + NOTHING_M / Math.sqrt(stepS * stepS + stepT * stepT);
          if (!(nudge < 1)) break;
          [fromS, fromT] = [fromS + nudge * stepS, fromT + nudge * stepT];
          continue;
        }
        skip[thing] = stamp;
        if (evenDeviate(base, NOTICING + (key[thing] as number)) >= (surely[thing] as number)) continue;
        if (role[thing] === COLLECTING) {
          if (mode === GOING_ON) continue;
          if (mode === ON_RAIL && rail) {
            // Where a line on the map crosses the rail is a known place.
            [s, t, counted, since, doubt] = [metS, railAt(rail, metS), metS, metS, 0];
            continue walking;
          }
          const at = course.atM[thing] as number;
          const off = square(course.doubtM[thing] as number);
          if (!(off < doubt + square(paceError * (at - since)))) continue;
          pieceLeft -= Math.sqrt(square(metS - s) + square(metT - t)) / scale;
          [s, t, left, since, doubt] = [metS, metT, course.lengthM - at, at, off];
          continue walking;
        }
        if (mode === GOING_ON && nearSegment(s, t, metS, metT, lengthM, 0) <= sightSquare) {
          [result, s, t] = [FOUND, lengthM, 0];
          break walking;
        }
        if (role[thing] === STOP) {
          if (square(metS - lengthM) + metT * metT <= sightSquare) [result, s, t] = [FOUND, metS, metT];
          else if (mode === GOING_ON) [result, s, t] = [STOPPED, metS, metT];
          else {
            if (!known) [known, knownS, knownT] = [true, metS, metT];
            continue;
          }
          break walking;
        }
        if (!aim) continue;
        const [end, endS, endT] = followed(aim, slabs.ends, meeting.segment, metS, metT, lengthM, sightM);
        [result, s, t] = [end ? FOUND : STOPPED, endS, endT];
        break walking;
      }

      if (mode === GOING_ON) {
        // Who sees the target in passing it goes to it, and not on.
        if (nearSegment(s, t, toS, toT, lengthM, 0) <= sightSquare) [result, s, t] = [FOUND, lengthM, 0];
        else [s, t] = [toS, toT];
        break;
      }
      s = toS;
      t = toT;
      if (seen) {
        result = FOUND;
        break;
      }
      if (mode === ON_RAIL) counted += d;
      else {
        left -= d;
        pieceLeft -= d;
      }
    }
    ends[2 * i] = s;
    ends[2 * i + 1] = t;
    outcome[i] = result;
  }
  return { ends, outcome };
}
