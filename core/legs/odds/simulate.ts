/** The odds of a leg from many simulated walkers: how many find the target, are stopped by a line they know, or miss it. */
import { Fault } from "../../fault.ts";
import { turnedAids, turnedFrame, type OddsAids, type OddsVia } from "./scene.ts";
import { checkDraw, checkSpread, type Draw, type OddsSpread, USUAL_SPREAD, within } from "./spread.ts";
import { stageOf } from "./stage.ts";
import { FOUND, sendWalkers, STOPPED, type WalkerRun } from "./walkers.ts";

/** The odds as they stand in the table: shares of all walkers, adding up to 1. */
export interface Odds {
  /** See the target. */
  readonly find: number;
  /** Do not see it, but stand at a line they know, from which they can find out where they are. */
  readonly stopped: number;
  /** Neither. */
  readonly missed: number;
  readonly walkers: number;
  readonly seed: number;
}

export interface OddsRun extends Odds {
  /** Where each walker ends: s, t in the leg's frame, metres. */
  readonly ends: Float32Array;
  /** MISSED, STOPPED or FOUND for each walker. */
  readonly outcome: Uint8Array;
}

/**
 * Sends walkers along a leg. Pure: the same leg, aids, spread, number and seed give the same run, on any machine.
 * @param leg length in metres
 * @param aids what the walkers meet, in the leg's frame
 * @throws Fault "bad-argument" for a length, spread or draw that cannot be
 */
export function simulate(
  leg: { readonly lengthM: number },
  aids: OddsAids = {},
  spread: OddsSpread = USUAL_SPREAD,
  draw: Draw = {},
): OddsRun {
  const { walkers, seed } = checkDraw(draw);
  checkSpread(spread);
  within("The length of a leg", leg.lengthM, 0, 1_000_000, " m");
  checkAids(aids);
  const run = aids.via
    ? byWayOf(aids.via, leg.lengthM, aids, spread, walkers, seed)
    : sendWalkers(stageOf(leg.lengthM, aids, spread), walkers, seed, 0);
  return { ...shares(run.outcome), walkers, seed, ...run };
}

/**
 * First to the attack point, then, for those who found it, on from there. Who is stopped on the first part could start
 * anew, and counts as stopped.
 */
function byWayOf(
  via: OddsVia,
  lengthM: number,
  aids: OddsAids,
  spread: OddsSpread,
  walkers: number,
  seed: number,
): WalkerRun {
  const first = turnedFrame(0, 0, via.s, via.t);
  const second = turnedFrame(via.s, via.t, lengthM, 0);
  const to = sendWalkers(
    stageOf(first.lengthM, turnedAids(via, first), { ...spread, sightM: via.sightM ?? spread.sightM }),
    walkers,
    seed,
    0,
  );
  const sets = to.outcome.map((end) => (end === FOUND ? 1 : 0));
  const { collecting, rails, stop } = aids;
  const on = sendWalkers(
    stageOf(second.lengthM, turnedAids({ collecting, rails, stop } as OddsAids, second), spread),
    walkers,
    seed,
    1,
    sets,
  );
  const ends = new Float32Array(2 * walkers);
  for (let i = 0; i < walkers; i++) {
    const [part, frame] = sets[i] === 1 ? [on, second] : [to, first];
    const [s, t] = frame.back(part.ends[2 * i] as number, part.ends[2 * i + 1] as number);
    ends[2 * i] = s;
    ends[2 * i + 1] = t;
  }
  return { ends, outcome: to.outcome.map((end, i) => (end === FOUND ? (on.outcome[i] as number) : end)) };
}

function shares(outcome: Uint8Array): Pick<Odds, "find" | "stopped" | "missed"> {
  let [found, stopped] = [0, 0];
  for (const end of outcome) {
    if (end === FOUND) found++;
    else if (end === STOPPED) stopped++;
  }
  const all = outcome.length;
  return { find: found / all, stopped: stopped / all, missed: (all - found - stopped) / all };
}

function checkAids({ collecting = [], rails = [], stop = [], aimOff, via }: OddsAids): void {
  const lines = [...collecting, ...stop, ...(aimOff?.line ?? [])];
  const parts = [...lines.map(({ st }) => st), ...rails.flatMap(({ stretches }) => stretches)];
  for (const st of parts) {
    let sum = 0;
    for (let i = 0; i < st.length; i++) sum += st[i] as number;
    if (st.length >= 4 && st.length % 2 === 0 && Number.isFinite(sum)) continue;
    throw new Fault("bad-argument", "A line walkers meet needs two places or more.", null, "Leave it out.");
  }
  for (const { surely } of [...lines, ...rails]) within("How surely a line is noticed", surely, 0, 1, "");
  if (aimOff) {
    within("The angle aimed off", aimOff.offsetDeg, 0, 60, "°");
    within("The distance a line is followed", aimOff.followM, 0, 100_000, " m");
  }
  if (via && !Number.isFinite(via.s + via.t))
    throw new Fault("bad-argument", "The attack point has no place.", null, "Choose another.");
}
