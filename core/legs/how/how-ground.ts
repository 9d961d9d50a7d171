/** How distance, climb and slope of a leg were worked out. */
import { steepestStretchOf } from "../../terrain/slope.ts";
import { formatAngle, formatHeight, formatNumber } from "../../units/format.ts";
import { formatRatio, slopePercent } from "../../units/slope.ts";
import type { LegFigures } from "../figures.ts";
import { heightsSentence, type HowAbout, unitOf } from "./how-about.ts";
import { climbThresholdM } from "../climb-threshold.ts";
import { formatAlong } from "../leg-words.ts";

export function howDistance(leg: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  const sentences = [
    `${formatAlong(leg.distanceM, unit)} along the shortest line from ${leg.from} to ${leg.to} on the WGS 84 ellipsoid (Karney 2013): to the millimetre for the points as they lie on the map.`,
  ];
  const stray = leg.rhumbOffsetM;
  if (stray !== null && leg.distanceM > 0)
    sentences.push(
      Math.abs(stray) > 1
        ? `The line of one bearing runs up to ${formatAlong(Math.abs(stray), unit)} ${stray < 0 ? "left" : "right"} of it.`
        : "The line of one bearing runs within a metre of it.",
    );
  return sentences;
}

export function howSlopeDistance(leg: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  const heights = heightsSentence(leg, unit);
  if (leg.slopeDistanceM === null) return [heights];
  return [
    `${formatAlong(leg.slopeDistanceM, unit)} over the ground: the straight pieces of the profile added up, ${formatAlong(leg.slopeDistanceM - leg.distanceM, unit)} more than on the map.`,
    heights,
  ];
}

export function howClimb(leg: LegFigures, about: HowAbout, way: "climb" | "descent"): string[] {
  const unit = unitOf(about);
  const sum = way === "climb" ? leg.climbM : leg.descentM;
  const heights = heightsSentence(leg, unit);
  if (sum === null) return [heights];
  const threshold = climbThresholdM(about.settings, about.map?.interval ?? null);
  const why =
    about.settings.climbThresholdM === null
      ? `a tenth of the contour interval, at least ${formatHeight(1, unit)}`
      : "as set";
  return [
    `${formatHeight(sum, unit)}: the ${way === "climb" ? "rises" : "falls"} along the profile added up from one turn to the next.`,
    `Rises and falls under ${formatHeight(threshold, unit)} (${why}) are not counted: they may be noise in the heights.`,
    heights,
  ];
}

export function howSteepest(leg: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  const heights = heightsSentence(leg, unit);
  const steepest = steepestStretchOf(leg.profile);
  if (leg.steepestDeg === null || !steepest) return [heights];
  const { deg, fromM, toM, up } = steepest;
  return [
    `${formatAngle(deg)}, ${formatNumber(slopePercent(deg))} %, ${formatRatio(deg)}: the mean slope of the steepest ${formatAlong(toM - fromM, unit)}, going ${up ? "up" : "down"} from ${formatAlong(fromM, unit)} to ${formatAlong(toM, unit)} along the leg.`,
    "Steeper ground may lie beside the leg, or on it over a shorter stretch.",
    heights,
  ];
}
