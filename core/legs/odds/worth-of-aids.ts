/** What each aid is worth: the odds of a leg's plan, and of the plan with one thing changed, by the same walkers. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { FramedLine } from "../aids/framed-line.ts";
import {
  type AimOffPlan,
  type AttackPointPlan,
  type DrawnAid,
  type LegPlan,
  oddsOf,
  type OddsSettings,
  USUAL_ODDS,
} from "./odds-of.ts";
import type { Odds, OddsRun } from "./simulate.ts";
import type { Draw } from "./spread.ts";

/** One change to a plan. */
export type Change =
  | "withMarks"
  | "withoutMarks"
  | "withHandrail"
  | "withoutHandrail"
  | "withAimOff"
  | "withoutAimOff"
  | "withAttackPoint"
  | "withoutAttackPoint";

export interface Changed {
  readonly change: Change;
  readonly odds: Odds;
  /** Which of the attack points offered, counted from 0; null for other changes. */
  readonly attackPoint: number | null;
}

/** What could be used on a leg, whether the plan uses it or not. */
export interface OfferedAids {
  /** Best first. */
  readonly handrails: readonly DrawnAid[];
  readonly aimOff: AimOffPlan | null;
  readonly attackPoints: readonly AttackPointPlan[];
}

/** Under this a difference may be the draw's: 10,000 walkers hold a share to half a percentage point. */
export const NOISE = 0.005;

export interface Worth {
  /** The plan's own. */
  readonly run: OddsRun;
  /** Every single change, the one that helps most first; the last may make things worse. */
  readonly changes: readonly Changed[];
  /** Those that help by more than the noise. */
  readonly better: readonly Changed[];
}

/**
 * The odds of a plan and of each single change to it. More found comes first; among changes that find as many, fewer missed.
 * @returns null for a leg without length
 * @throws Fault "bad-argument" for settings or a draw that cannot be
 */
export function worthOfAids(
  frame: LegFrame,
  lines: readonly FramedLine[],
  plan: LegPlan,
  offered: OfferedAids,
  settings: OddsSettings = USUAL_ODDS,
  draw: Draw = {},
): Worth | null {
  const run = oddsOf(frame, lines, plan, settings, draw);
  if (!run) return null;
  const changed = (change: Change, by: Partial<LegPlan>, attackPoint: number | null = null): Changed[] => {
    const other = oddsOf(frame, lines, { ...plan, ...by }, settings, draw);
    return other ? [{ change, odds: oddsAlone(other), attackPoint }] : [];
  };
  const { handrails, aimOff, attackPoints } = offered;
  const changes = [
    ...(plan.steering === "marks"
      ? changed("withoutMarks", { steering: "unaided" })
      : changed("withMarks", { steering: "marks" })),
    ...(plan.handrails.length > 0
      ? changed("withoutHandrail", { handrails: [] })
      : handrails.length > 0
        ? changed("withHandrail", { handrails })
        : []),
    // An aim-off belongs to the whole leg, not to a way by an attack point: the one takes the other's place.
    ...(plan.aimOff
      ? changed("withoutAimOff", { aimOff: null })
      : aimOff
        ? changed("withAimOff", { aimOff, attackPoint: null })
        : []),
    ...(plan.attackPoint
      ? changed("withoutAttackPoint", { attackPoint: null })
      : attackPoints.flatMap((attackPoint, i) =>
          changed("withAttackPoint", { attackPoint, aimOff: null }, i),
        )),
  ].sort((a, b) => b.odds.find - a.odds.find || a.odds.missed - b.odds.missed);
  return { run, changes, better: changes.filter(({ odds }) => helps(run, odds)) };
}

/** More are found, or as many and fewer lost, by more than the noise. */
export const helps = (before: Odds, after: Odds): boolean =>
  after.find - before.find > NOISE ||
  (after.find >= before.find - NOISE && before.missed - after.missed > NOISE);

/** The shares alone, as the table has them. */
export const oddsAlone = ({ find, stopped, missed, walkers, seed }: Odds): Odds => ({
  find,
  stopped,
  missed,
  walkers,
  seed,
});
