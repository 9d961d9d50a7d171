/**
 * One way from a known place to a place looked for, made ready for many walkers: the courses they may steer, the handrails
 * as tables, the lines in slabs, and what meeting each line on each course is worth.
 */
import { DEG } from "../../units/angle.ts";
import { aimLine, type AimLine } from "./aim-line.ts";
import { cosine, sine, square } from "./exact-math.ts";
import { railTable, type RailTable } from "./rail-table.ts";
import type { OddsAids, OddsLine } from "./scene.ts";
import { firstMet, type Meeting, type SegmentSlabs, segmentSlabs } from "./segment-slabs.ts";
import { sideSpreadM, type OddsSpread } from "./spread.ts";

export const COLLECTING = 0;
export const STOP = 1;
export const AIM = 2;

/** A straight way by compass and count from a place on the map: the leg itself, or the rest of it from a handrail's end. */
export interface Course {
  readonly s: number;
  readonly t: number;
  /** Its direction: the leg's and rightward part of one metre. */
  readonly cos: number;
  readonly sin: number;
  readonly lengthM: number;
  /** For each thing: how far along the course the map has it; NaN where it says nothing of how far one has come. */
  readonly atM: Float64Array;
  /** For each thing: by how much that place is off for those who have strayed to the side, one standard deviation, metres. */
  readonly doubtM: Float64Array;
}

export interface Stage {
  readonly lengthM: number;
  readonly spread: OddsSpread;
  /** The first is walked from the start, number k + 1 from the end of rail k. */
  readonly courses: readonly Course[];
  readonly rails: readonly RailTable[];
  /** The thing each rail is as a line crossed, −1 when it is none: who walks along it does not count by it. */
  readonly railThing: Int32Array;
  readonly slabs: SegmentSlabs;
  /** Of each thing: COLLECTING, STOP or AIM. */
  readonly role: Uint8Array;
  readonly surely: Float64Array;
  readonly key: Int32Array;
  readonly things: number;
  readonly aim: AimLine | null;
  /** Whether walkers who have counted out go on, because they know of a line ahead. */
  readonly goOn: boolean;
  /** How courses are cut into hops: several short ones are walked as one with the same spread at its end. */
  readonly pieceM: number;
  readonly pieces: number;
  readonly pieceRad: number;
  readonly settingRad: number;
}

/** Stops count from half the way on: nobody takes a line near the start for the one beyond the target. */
export const STOPS_FROM = 0.5;
/** Hardly any walker strays farther, share of the length. */
const EXPECTED_ASIDE = 0.3;
/** Finer steps change where walkers are between their ends by under a metre or two, and cost time. */
const MOST_PIECES = 16;

export function stageOf(lengthM: number, aids: OddsAids, spread: OddsSpread): Stage {
  const { steering, sightM, walkOnM } = spread;
  const aim = aids.aimOff ? aimLine(aids.aimOff, lengthM, sightM) : null;
  const byKey = new Map<number, { role: number; line: OddsLine; parts: ArrayLike<number>[] }>();
  const take = (lines: readonly OddsLine[], role: number): void => {
    for (const line of lines) {
      const known = byKey.get(line.key);
      if (!known) byKey.set(line.key, { role, line, parts: [line.st] });
      else if (known.role === role) known.parts.push(line.st);
    }
  };
  // One thing has one use: the line aimed at before the stop, the stop before what is only counted.
  if (aim && aids.aimOff) take([{ ...aids.aimOff.line[aim.part], st: aim.st } as OddsLine], AIM);
  take(aids.stop ?? [], STOP);
  take(aids.collecting ?? [], COLLECTING);
  const things = [...byKey.values()];
  const slabs = segmentSlabs(
    things.flatMap(({ parts }, thing) => parts.map((st) => ({ st, thing }))),
    {
      minS: -0.1 * lengthM,
      maxS: lengthM + walkOnM,
      minT: -EXPECTED_ASIDE * lengthM,
      maxT: EXPECTED_ASIDE * lengthM,
    },
  );

  const hops = Math.max(1, lengthM / steering.hopM);
  const pieces = Math.ceil(hops / Math.ceil(hops / MOST_PIECES));
  const rails = (aids.rails ?? [])
    .slice(0, 30)
    .map((rail) => railTable(rail, lengthM, sightM))
    .filter((rail) => rail !== null);

  const courseTo = (s: number, t: number, toS: number, toT: number): Course => {
    const length = Math.sqrt(square(toS - s) + square(toT - t));
    return length > 0
      ? courseOf(s, t, (toS - s) / length, (toT - t) / length, length)
      : courseOf(s, t, 1, 0, 0);
  };
  const courseOf = (s: number, t: number, cos: number, sin: number, length: number): Course => {
    const course = { s, t, cos, sin, lengthM: length };
    return { ...course, ...worthOfMeeting(course, slabs, things, spread) };
  };
  /** The way on to the target from a place on the map; aiming off, turned by the same angle, as far as the line. */
  const courseOn = (s: number, t: number): Course => {
    if (!aim || !aids.aimOff) return courseTo(s, t, lengthM, 0);
    const farM = Math.sqrt(square(lengthM - s) + t * t);
    if (!(farM > 0)) return courseOf(s, t, 1, 0, 0);
    const [toS, toT] = [(lengthM - s) / farM, -t / farM];
    const angle = aids.aimOff.offsetDeg * DEG * (aids.aimOff.side === "left" ? -1 : 1);
    const [turnS, turnT] = [cosine(angle), sine(angle)];
    const [cos, sin] = [toS * turnS - toT * turnT, toT * turnS + toS * turnT];
    // Counted to where the map has the turned bearing meet the line; across the target's height where it does not.
    const onLine =
      aim.metOn(s, t, cos, sin, farM * STOPS_FROM, farM + walkOnM) ?? farM / Math.max(0.2, turnS);
    return courseOf(s, t, cos, sin, onLine);
  };
  const main = courseOn(0, 0);
  return {
    lengthM,
    spread,
    courses: [main, ...rails.map((rail) => courseOn(rail.toS, rail.offsets.at(-1) as number))],
    rails,
    railThing: Int32Array.from(rails, ({ key }) =>
      things.findIndex(({ role, line }) => role === COLLECTING && line.key === key),
    ),
    slabs,
    role: Uint8Array.from(things, ({ role }) => role),
    surely: Float64Array.from(things, ({ line }) => line.surely),
    key: Int32Array.from(things, ({ line }) => line.key),
    things: things.length,
    aim,
    goOn: things.some(({ role }) => role !== COLLECTING),
    pieceM: Math.max(1e-6, main.lengthM / pieces),
    pieces,
    pieceRad: steering.hopDeg * DEG * Math.sqrt(pieces / hops),
    settingRad: steering.settingDeg * DEG,
  };
}

/**
 * Where the map has each thing along a course, and how far off that is one standard deviation to either side. A thing met
 * twice, or not met by those who have strayed, does not tell how far one has come.
 */
function worthOfMeeting(
  course: Pick<Course, "s" | "t" | "cos" | "sin" | "lengthM">,
  slabs: SegmentSlabs,
  things: readonly { readonly role: number }[],
  spread: OddsSpread,
): Pick<Course, "atM" | "doubtM"> {
  const atM = new Float64Array(things.length).fill(NaN);
  const doubtM = new Float64Array(things.length);
  const meeting: Meeting = { segment: -1, at: 0 };
  const skip = new Int32Array(things.length).fill(1);
  const { s, t, cos, sin, lengthM } = course;
  const meetings = (aside: number, fromM: number, toM: number): number[] => {
    const found: number[] = [];
    for (let from = fromM; from < toM && found.length < 2;) {
      const [oS, oT] = [s - aside * sin, t + aside * cos];
      firstMet(slabs, oS + from * cos, oT + from * sin, oS + toM * cos, oT + toM * sin, skip, 1, meeting);
      if (meeting.segment < 0) break;
      from += meeting.at * (toM - from);
      // A bend exactly on the course ends one segment and begins the next: one meeting.
      if (found.length === 0 || from - (found[0] as number) > 0.01) found.push(from);
      from += 0.005;
    }
    return found;
  };
  for (const [thing, { role }] of things.entries()) {
    if (role !== COLLECTING) continue;
    // All but this one are walked over.
    skip.fill(1);
    skip[thing] = 0;
    const [at, again] = meetings(0, 0, lengthM);
    if (at === undefined || again !== undefined || at <= 0) continue;
    const aside = sideSpreadM(spread.steering, at);
    const reach = 3 * aside + 1;
    const sides = [-aside, aside].map((side) => meetings(side, at - reach, at + reach));
    if (sides.some(({ length }) => length !== 1)) continue;
    atM[thing] = at;
    doubtM[thing] = Math.max(...sides.map(([met]) => Math.abs((met as number) - at)));
  }
  return { atM, doubtM };
}
