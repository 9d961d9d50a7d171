/**
 * Places along a profile where the slope changes so sharply that a walker notices: the ground steepens, eases, levels
 * out, begins to climb or begins to fall.
 *
 * On either side of a place a straight line is fitted to the ground by least squares, so that unevenness smaller than a
 * few paces does not count; the change is the difference of the two slopes. Of changes that run into one another the
 * sharpest stands for all. A rounded top or bottom changes slowly, but is noticed by what lies on its two sides: there
 * the highest or lowest place between a clear climb and a clear fall counts.
 */
import { Fault } from "../fault.ts";
import { DEG } from "../units/angle.ts";
import { turningPlaces } from "./climb.ts";
import { evenRuns, type EvenRun } from "./even-runs.ts";
import type { Profile } from "./profile.ts";

export type SlopeChangeKind = "steeper" | "easier" | "climbs" | "falls" | "levels";

export interface SlopeChange {
  /** Map distance from the leg's start, metres. */
  readonly atM: number;
  readonly kind: SlopeChangeKind;
  /** Slopes on the way to the place and away from it, degrees; up is positive, in the direction of walking. */
  readonly beforeDeg: number;
  readonly afterDeg: number;
}

export interface SlopeChangeSettings {
  /** Length of the ground looked at on either side, metres. */
  readonly overM: number;
  /** The least change that is noticed, degrees; on steep ground it must be half the steeper slope too. */
  readonly leastDeg: number;
  /** A rounded top or bottom counts with at least this slope on both its sides, degrees. */
  readonly turnDeg: number;
  /** Ground less steep than this is level, degrees. */
  readonly levelDeg: number;
}

/** Chosen so that legs over mountains have a few changes in a kilometre and gentle ones none. No source. */
export const SLOPE_CHANGE_SETTINGS: SlopeChangeSettings = {
  overM: 40,
  leastDeg: 8,
  turnDeg: 5,
  levelDeg: 3,
};

/** And the least share of the steeper side's slope: of ground that goes on rising, half. No source. */
const LEAST_SHARE = 0.5;
/** How far the sides of a rounded top or bottom are looked for, as a multiple of `overM`. No source. */
const TURN_REACH = 4;
/** Places looked at within `overM`. */
const STEPS = 10;

/**
 * @returns in order of distance; none within `overM` of an end of the leg or of a stretch without heights
 * @throws Fault "bad-argument" for settings that make no sense
 */
export function slopeChanges(
  profile: Pick<Profile, "distanceM" | "elevationM">,
  settings: Partial<SlopeChangeSettings> = {},
): SlopeChange[] {
  const all = { ...SLOPE_CHANGE_SETTINGS, ...settings };
  if (!(all.overM > 0 && all.overM < Infinity) || !(all.leastDeg > 0 && all.turnDeg > 0 && all.levelDeg >= 0))
    throw new Fault("bad-argument", "Changes of slope need a length and slopes above 0.");
  return evenRuns(profile, all.overM / STEPS).flatMap((run) => changesIn(run, all));
}

function changesIn(run: EvenRun, settings: SlopeChangeSettings): SlopeChange[] {
  const { overM } = settings;
  const sharp = sharpChanges(run, settings);
  // A top or bottom that is sharp has been found already.
  const turns = turnsIn(run, settings).filter(
    ({ atM, kind }) => !sharp.some((c) => c.kind === kind && Math.abs(c.atM - atM) <= TURN_REACH * overM),
  );
  // Beside a rounded top the ground eases and levels, which says less.
  const kept = sharp.filter((c) => {
    const sense = c.afterDeg > c.beforeDeg ? "climbs" : "falls";
    return !turns.some(({ atM, kind }) => kind === sense && Math.abs(c.atM - atM) <= overM);
  });
  return [...kept, ...turns].sort((a, b) => a.atM - b.atM);
}

function sharpChanges(run: EvenRun, { overM, leastDeg, levelDeg }: SlopeChangeSettings): SlopeChange[] {
  const { heightsM, stepM } = run;
  const side = Math.round(overM / stepM);
  const n = heightsM.length;
  const slopes = fittedSlopes(run, side);
  const change = new Float64Array(n);
  for (let i = side; i + side < n; i++) change[i] = (slopes[i] as number) - (slopes[i - side] as number);
  const found: SlopeChange[] = [];
  for (let i = side; i + side < n; i++) {
    const here = change[i] as number;
    const [beforeDeg, afterDeg] = [slopes[i - side] as number, slopes[i] as number];
    const steeperDeg = Math.max(Math.abs(beforeDeg), Math.abs(afterDeg));
    if (Math.abs(here) < Math.max(leastDeg, steeperDeg * LEAST_SHARE) || !sharpest(change, i, side)) continue;
    found.push({
      atM: run.fromM + i * stepM,
      kind: kindOf(beforeDeg, afterDeg, levelDeg),
      beforeDeg,
      afterDeg,
    });
  }
  return found;
}

/** Whether no change of the same sense within reach is sharper; of equal ones the first counts. */
function sharpest(change: Float64Array, i: number, reach: number): boolean {
  const sense = Math.sign(change[i] as number);
  const here = (change[i] as number) * sense;
  const last = Math.min(change.length - 1, i + reach);
  for (let j = Math.max(0, i - reach); j <= last; j++) {
    const there = (change[j] as number) * sense;
    if (there > here || (there === here && j < i)) return false;
  }
  return true;
}

/** Slope in degrees of the line fitted to the heights from each place to `side` places on. */
function fittedSlopes({ heightsM, stepM }: EvenRun, side: number): Float64Array {
  const n = heightsM.length;
  // Running sums of the heights and of the heights times their number, so that any window costs the same.
  const sum = new Float64Array(n + 1);
  const moment = new Float64Array(n + 1);
  const base = heightsM[0] as number;
  for (let i = 0; i < n; i++) {
    const h = (heightsM[i] as number) - base;
    sum[i + 1] = (sum[i] as number) + h;
    moment[i + 1] = (moment[i] as number) + h * i;
  }
  // Σ (k − mean)² for k = 0 … side.
  const spread = (side * (side + 1) * (side + 2)) / 12;
  const slopes = new Float64Array(n);
  for (let i = 0; i + side < n; i++) {
    const heights = (sum[i + side + 1] as number) - (sum[i] as number);
    const moments = (moment[i + side + 1] as number) - (moment[i] as number);
    slopes[i] = Math.atan((moments - (i + side / 2) * heights) / spread / stepM) / DEG;
  }
  return slopes;
}

/** Tops and bottoms between a clear climb and a clear fall, however rounded. */
function turnsIn(run: EvenRun, { overM, turnDeg }: SlopeChangeSettings): SlopeChange[] {
  const { heightsM, stepM } = run;
  const turns = [0, ...(turningPlaces(heightsM, overM * Math.tan(turnDeg * DEG)) ?? []), heightsM.length - 1];
  const reach = Math.round((TURN_REACH * overM) / stepM);
  const least = Math.round(overM / stepM);
  const found: SlopeChange[] = [];
  for (let k = 1; k < turns.length - 1; k++) {
    const at = turns[k] as number;
    const before = Math.min(reach, at - (turns[k - 1] as number));
    const after = Math.min(reach, (turns[k + 1] as number) - at);
    if (before < least || after < least) continue;
    const beforeDeg = -steepestChord(run, at, -1, least, before);
    const afterDeg = steepestChord(run, at, 1, least, after);
    if (Math.min(Math.abs(beforeDeg), Math.abs(afterDeg)) < turnDeg || beforeDeg * afterDeg >= 0) continue;
    found.push({ atM: run.fromM + at * stepM, kind: afterDeg > 0 ? "climbs" : "falls", beforeDeg, afterDeg });
  }
  return found;
}

/** Slope of the steepest straight line from a place to ground between so many and so many steps away, degrees. */
function steepestChord(run: EvenRun, at: number, way: -1 | 1, least: number, most: number): number {
  const { heightsM, stepM } = run;
  const h = heightsM[at] as number;
  let steepest = 0;
  for (let k = least; k <= most; k++) {
    const slope = ((heightsM[at + way * k] as number) - h) / (k * stepM);
    if (Math.abs(slope) > Math.abs(steepest)) steepest = slope;
  }
  return Math.atan(steepest) / DEG;
}

function kindOf(beforeDeg: number, afterDeg: number, levelDeg: number): SlopeChangeKind {
  if (Math.abs(afterDeg) < levelDeg) return "levels";
  if (afterDeg > 0 && beforeDeg < levelDeg) return "climbs";
  if (afterDeg < 0 && beforeDeg > -levelDeg) return "falls";
  return Math.abs(afterDeg) > Math.abs(beforeDeg) ? "steeper" : "easier";
}
