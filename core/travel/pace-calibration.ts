/**
 * A walker's own pace count from counted trials over known distances.
 * Source: US Army TC 3-25.26, para 5-20: count over a measured course of 100 m to 600 m on ground like that to be
 * crossed; Soldier's Manual of Common Tasks, task 071-329-1006: over broken ground at least 600 m, averaged to 100 m.
 */
import { Fault } from "../fault.ts";
import { checkPacesPer100m } from "./paces.ts";

/** Ground and circumstances a count is for. */
export type PaceGround = "flat" | "up" | "down" | "rough" | "night" | "load";

export interface PaceTrial {
  readonly distanceM: number;
  readonly paces: number;
  /** Seconds it took; null when it was not timed. */
  readonly seconds?: number | null;
}

export interface PaceCalibration {
  /** Mean paces per 100 m: all paces over all metres. */
  readonly per100m: number;
  /** Standard deviation of the trials' counts per 100 m about their mean (n − 1); null for a single trial. */
  readonly spreadPer100m: number | null;
  /** The spread as a share of the count: what a counted distance is off by, one standard deviation. */
  readonly error: number | null;
  /** Mean speed, m/s, over the timed trials; null when none was. */
  readonly speed: number | null;
  readonly trials: number;
  readonly distanceM: number;
  /** What the manuals would have otherwise, in words; empty when nothing. */
  readonly cautions: readonly string[];
}

/**
 * @param ground decides how long a course the manuals ask for
 * @throws Fault "bad-argument" when there is no trial, or one has a distance, count or time that cannot be
 */
export function calibratePace(trials: readonly PaceTrial[], ground: PaceGround = "flat"): PaceCalibration {
  if (trials.length === 0)
    throw new Fault(
      "bad-argument",
      "A pace count needs at least one trial.",
      null,
      "Walk 100 m and count your paces.",
    );
  const counts = trials.map(({ distanceM, paces, seconds }, i) => {
    const where = `trial ${i + 1}`;
    if (!(distanceM > 0 && distanceM < Infinity))
      throw new Fault("bad-argument", `The distance must be more than 0, not ${distanceM} m.`, where);
    if (seconds !== undefined && seconds !== null && !(seconds > 0 && seconds < Infinity))
      throw new Fault("bad-argument", `The time must be more than 0, not ${seconds} s.`, where);
    return checkPacesPer100m((paces / distanceM) * 100);
  });
  const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
  const distanceM = sum(trials.map((trial) => trial.distanceM));
  const per100m = (sum(trials.map((trial) => trial.paces)) / distanceM) * 100;
  const mean = sum(counts) / counts.length;
  const spreadPer100m =
    counts.length < 2 ? null : Math.sqrt(sum(counts.map((c) => (c - mean) ** 2)) / (counts.length - 1));
  const timed = trials.filter(({ seconds }) => seconds !== undefined && seconds !== null);
  const cautions: string[] = [];
  if (trials.some((trial) => trial.distanceM < 100))
    cautions.push("A course shorter than 100 m says little.");
  if (ground !== "flat" && distanceM < 600)
    cautions.push("Over broken ground the manuals ask for 600 m at least.");
  if (trials.length < 3) cautions.push("Fewer than three trials do not show the spread.");
  return {
    per100m,
    spreadPer100m,
    error: spreadPer100m === null ? null : spreadPer100m / mean,
    speed:
      timed.length === 0
        ? null
        : sum(timed.map((trial) => trial.distanceM)) / sum(timed.map((trial) => trial.seconds as number)),
    trials: trials.length,
    distanceM,
    cautions,
  };
}
