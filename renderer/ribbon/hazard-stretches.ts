/** Stretches of the walk beside or on which there is danger, each once, with the gravest in a word and its side. Pure. */
import type { Hazard } from "../../core/legs/aids/hazards.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { kindWord } from "../../core/legs/line-kinds.ts";
import { gravestFirst } from "../advice/hazard-order.ts";

export interface HazardStretch {
  readonly leg: number;
  /** Metres from the start of the walk. */
  readonly fromM: number;
  readonly toM: number;
  /** "cliff left"; longest first, to fit. */
  readonly versions: readonly string[];
}

/** Dangers beyond the target lie on no stretch of the walk. */
export function hazardStretches(
  legs: readonly Pick<LegFigures, "hazards" | "distanceM">[],
  sides: Readonly<Record<Hazard["side"], string>>,
): readonly HazardStretch[] {
  const all: HazardStretch[] = [];
  let startM = 0;
  for (const [leg, { hazards, distanceM }] of legs.entries()) {
    const onLeg = hazards
      .filter(({ fromM, toM }) => fromM < distanceM && toM > fromM)
      .toSorted((a, b) => a.fromM - b.fromM);
    let group: Hazard[] = [];
    let endM = -Infinity;
    const close = (): void => {
      const first = group[0];
      const worst = gravestFirst(group)[0];
      if (!first || !worst) return;
      const word = kindWord(worst.kind);
      all.push({
        leg,
        fromM: startM + first.fromM,
        toM: startM + Math.min(distanceM, endM),
        versions: [`${word} ${sides[worst.side]}`, word],
      });
    };
    for (const hazard of onLeg) {
      if (hazard.fromM > endM) {
        close();
        group = [];
      }
      group.push(hazard);
      endM = Math.max(endM, hazard.toM);
    }
    close();
    startM += distanceM;
  }
  return all;
}
