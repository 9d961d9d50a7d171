/** Edits of a walk: each a pure function from a walk to a walk, knowing nothing of undo or of the screen. */
import { Fault } from "../fault.ts";
import { type TimeFactors, type TimeMethod, withFactors } from "../travel/walking-time.ts";
import type { LonLat } from "../units/position.ts";
import { asItLay, type LegAsItLay } from "./own-instruction.ts";
import {
  type North,
  NOTHING_UNKNOWN,
  type Walk,
  type WalkDeclination,
  type WalkPace,
  type WalkPoint,
} from "./walk.ts";
import {
  checkClock,
  checkDay,
  checkDeclination,
  checkPace,
  checkPointPosition,
  checkTimeZone,
  MAX_POINTS,
  MAX_TEXT,
} from "./walk-rules.ts";

/** A fresh id: one above the highest in use, so that equal edits give equal walks. */
export function nextPointId(walk: Walk): string {
  let highest = 0;
  for (const point of walk.points) {
    const number = /^p(\d{1,9})$/.exec(point.id)?.[1];
    if (number) highest = Math.max(highest, Number(number));
  }
  return `p${highest + 1}`;
}

export function indexOfPoint(walk: Walk, id: string): number {
  const index = walk.points.findIndex((point) => point.id === id);
  if (index < 0) throw new Fault("bad-argument", `The walk has no point with the id ${id}.`);
  return index;
}

const changePoint = (walk: Walk, id: string, change: Partial<WalkPoint>): Walk => {
  const index = indexOfPoint(walk, id);
  return { ...walk, points: walk.points.map((point, i) => (i === index ? { ...point, ...change } : point)) };
};

const shortEnough = (text: string): string => {
  if (text.length > MAX_TEXT)
    throw new Fault("bad-argument", `The text is longer than ${MAX_TEXT} characters.`);
  return text;
};

/**
 * A new point before the one at `index`; `index` = number of points adds it at the end.
 * Inserting between two points splits their leg in two.
 */
export function insertPoint(walk: Walk, index: number, lonLat: LonLat, name: string | null = null): Walk {
  if (!Number.isInteger(index) || index < 0 || index > walk.points.length)
    throw new Fault("bad-argument", `There is no place ${index} in a walk of ${walk.points.length} points.`);
  if (walk.points.length >= MAX_POINTS)
    throw new Fault(
      "bad-argument",
      `A walk holds at most ${MAX_POINTS} points.`,
      null,
      "Split it into several walks.",
    );
  const before = index < walk.points.length ? walk.points[index - 1] : undefined;
  const point: WalkPoint = {
    id: nextPointId(walk),
    name,
    lonLat: checkPointPosition(lonLat),
    note: "",
    unknown: NOTHING_UNKNOWN,
    // One aims off at what the leg ends on: of a leg cut in two the second half does.
    aimOff: before?.aimOff ?? false,
    instruction: null,
    unknownOfLeg: NOTHING_UNKNOWN,
  };
  return {
    ...walk,
    points: before?.aimOff
      ? walk.points.toSpliced(index - 1, 1, { ...before, aimOff: false }, point)
      : walk.points.toSpliced(index, 0, point),
  };
}

export const addPoint = (walk: Walk, lonLat: LonLat, name: string | null = null): Walk =>
  insertPoint(walk, walk.points.length, lonLat, name);

/** Moves a point. Its legs keep what was chosen for them: what no longer fits is said where it shows. */
export const movePoint = (walk: Walk, id: string, lonLat: LonLat): Walk =>
  changePoint(walk, id, { lonLat: checkPointPosition(lonLat) });

/** Takes a point out; the legs on either side become one. */
export function removePoint(walk: Walk, id: string): Walk {
  const index = indexOfPoint(walk, id);
  const { aimOff } = walk.points[index] as WalkPoint;
  const before = walk.points[index - 1];
  return {
    ...walk,
    points: before
      ? walk.points.toSpliced(index - 1, 2, { ...before, aimOff })
      : walk.points.toSpliced(index, 1),
  };
}

/** An empty name gives the point its letter back. */
export const renamePoint = (walk: Walk, id: string, name: string): Walk =>
  changePoint(walk, id, { name: shortEnough(name).trim() || null });

export const setPointNote = (walk: Walk, id: string, note: string): Walk =>
  changePoint(walk, id, { note: shortEnough(note) });

/** Whether the leg that starts at a point is to be walked aiming off. */
export const setAimOff = (walk: Walk, id: string, aimOff: boolean): Walk => changePoint(walk, id, { aimOff });

/**
 * The person's own text for the leg that starts at a point; an empty one takes the program's again.
 * @param leg the leg as it lies while they write
 */
export function setInstruction(walk: Walk, id: string, text: string, leg: LegAsItLay): Walk {
  const own = shortEnough(text).trim();
  return changePoint(walk, id, {
    instruction: own === "" ? null : { text: own, writtenFor: asItLay(leg) },
  });
}

export const setTitle = (walk: Walk, title: string): Walk => ({ ...walk, title: shortEnough(title) });

export const setNotes = (walk: Walk, notes: string): Walk => ({ ...walk, notes: shortEnough(notes) });

export const setDate = (walk: Walk, date: string): Walk => ({ ...walk, date: checkDay(date) });

export const setMap = (walk: Walk, mapId: string | null): Walk => ({ ...walk, mapId });

export const setNorth = (walk: Walk, north: North): Walk => ({ ...walk, north });

export const setPace = (walk: Walk, pace: WalkPace): Walk => ({ ...walk, pace: checkPace(pace) });

export const setTimeMethod = (walk: Walk, timeMethod: TimeMethod): Walk => ({ ...walk, timeMethod });

/** @throws Fault "bad-argument" for a factor or a rest that cannot be */
export function setTimeFactors(walk: Walk, timeFactors: TimeFactors): Walk {
  withFactors(0, timeFactors);
  return { ...walk, timeFactors };
}

/** Clock time of setting out, HH:MM; null clears it. */
export const setStartTime = (walk: Walk, time: string | null): Walk => ({
  ...walk,
  startTime: time === null ? null : checkClock(time),
});

/** Clock time by which to be back, HH:MM; null takes sunset. */
export const setBackBy = (walk: Walk, time: string | null): Walk => ({
  ...walk,
  backBy: time === null ? null : checkClock(time),
});

/** Time zone by its IANA name; null is the computer's. */
export const setTimeZone = (walk: Walk, name: string | null): Walk => ({
  ...walk,
  timeZone: name === null ? null : checkTimeZone(name),
});

export const setDeclination = (walk: Walk, declination: WalkDeclination): Walk => ({
  ...walk,
  declination: checkDeclination(declination),
});

/** The same way walked from the other end. */
export function reverseWalk(walk: Walk): Walk {
  // What belongs to a leg sits on its first point: turned round, that is the point which was its last.
  const points = walk.points.toReversed();
  return {
    ...walk,
    points: points.map((point, i) => ({
      ...point,
      // What one aims off at is the line at the leg's end: turned round, another.
      aimOff: false,
      instruction: points[i + 1]?.instruction ?? null,
      unknownOfLeg: points[i + 1]?.unknownOfLeg ?? NOTHING_UNKNOWN,
    })),
  };
}
