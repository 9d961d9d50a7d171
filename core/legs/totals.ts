import type { LegFigures, Totals } from "./figures.ts";

/** A sum that is absent when any part is: half a walk's climb is not its climb. */
const sum = (values: readonly (number | null)[]): number | null =>
  values.reduce<number | null>(
    (total, value) => (total === null || value === null ? null : total + value),
    0,
  );

/** Sums over the legs; a figure any leg lacks is null. */
export function totalsOf(legs: readonly LegFigures[]): Totals {
  return {
    distanceM: legs.reduce((total, { distanceM }) => total + distanceM, 0),
    slopeDistanceM: sum(legs.map((leg) => leg.slopeDistanceM)),
    climbM: sum(legs.map((leg) => leg.climbM)),
    descentM: sum(legs.map((leg) => leg.descentM)),
    paces: sum(legs.map((leg) => leg.paces)),
    timeS: sum(legs.map((leg) => leg.timeS)),
  };
}

/** The legs with distance and time summed up to the end of each; time is null from the first leg without one on. */
export function withRunningTotals(legs: readonly LegFigures[]): LegFigures[] {
  let distanceM = 0;
  let timeS: number | null = 0;
  return legs.map((leg) => {
    distanceM += leg.distanceM;
    timeS = timeS === null || leg.timeS === null ? null : timeS + leg.timeS;
    return { ...leg, runningDistanceM: distanceM, runningTimeS: timeS };
  });
}

const TOTAL_WORDS = {
  slopeDistanceM: "slope distance",
  climbM: "climb",
  descentM: "descent",
  paces: "paces",
  timeS: "walking time",
} as const;

/** Which totals are absent and because of which legs, in a sentence; none when all are there. */
export function missingFromTotals(legs: readonly LegFigures[], totals: Totals): string[] {
  const figures = (Object.keys(TOTAL_WORDS) as (keyof typeof TOTAL_WORDS)[]).filter(
    (figure) => totals[figure] === null,
  );
  if (figures.length === 0) return [];
  const lacking = legs.filter((leg) => figures.some((figure) => leg[figure] === null)).map(({ n }) => n);
  const which =
    lacking.length === legs.length
      ? "its legs lack"
      : `leg${lacking.length > 1 ? "s" : ""} ${lacking.join(", ")} lack${lacking.length > 1 ? "" : "s"}`;
  return [
    `The walk has no total for ${figures.map((figure) => TOTAL_WORDS[figure]).join(", ")}, because ${which} it.`,
  ];
}
