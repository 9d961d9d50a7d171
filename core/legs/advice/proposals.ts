/** Changes that help, in words, ready to be made by one click. */
import type { LonLat } from "../../units/position.ts";
import type { LegFigures } from "../figures.ts";
import { kindAndName } from "../line-kinds.ts";
import type { AttackPointPlan } from "../odds/odds-of.ts";
import type { Changed } from "../odds/worth-of-aids.ts";
import type { Proposal } from "./advice.ts";

/** A place that may be gone by. */
export interface Via extends AttackPointPlan {
  readonly change: "attackPoint" | "split";
  readonly lonLat: LonLat;
  readonly words: string;
}

/** More would be a list to search, not advice. */
const SHOWN = 3;

/** @param better changes that help, the best first */
export function proposalsFrom(
  better: readonly Changed[],
  ways: readonly Via[],
  leg: Pick<LegFigures, "aimOff">,
): Proposal[] {
  const all = better.flatMap((change) => proposalFrom(change, ways, leg));
  // Of two places told in the same words the better.
  return all.filter((one, i) => all.findIndex(({ words }) => words === one.words) === i).slice(0, SHOWN);
}

function proposalFrom(
  { change, odds, attackPoint }: Changed,
  ways: readonly Via[],
  { aimOff }: Pick<LegFigures, "aimOff">,
): Proposal[] {
  switch (change) {
    case "withMarks":
      return [{ change: "marks", odds, words: "Sight along steering marks all the way." }];
    case "withHandrail":
      return [{ change: "handrail", odds, words: "Follow the handrail while it lasts." }];
    case "withAimOff":
      if (!aimOff) return [];
      return [
        {
          change: "aimOff",
          odds,
          words: `Aim off ${aimOff.offsetDeg}° to the ${aimOff.side}, then turn ${aimOff.turn} along the ${kindAndName(aimOff.line.kind, aimOff.line.name)}.`,
        },
      ];
    case "withAttackPoint": {
      const way = ways[attackPoint ?? -1];
      if (!way) return [];
      const words =
        way.change === "attackPoint"
          ? `Go first to ${way.words}, and from there to the target.`
          : `Cut the leg in two at ${way.words}.`;
      return [{ change: way.change, lonLat: way.lonLat, place: way.words, odds, words }];
    }
    // What would be left out is no advice, even if the draw has it a little better.
    default:
      return [];
  }
}
