/** How crossings, handrails and the backstop of a leg were found. */
import { formatAngle, formatNumber, formatShare } from "../../units/format.ts";
import { NEARLY_ALL } from "../aids/backstop.ts";
import type { LegFigures } from "../figures.ts";
import { type HowAbout, unitOf } from "./how-about.ts";
import { formatAlong, handrailWords } from "../leg-words.ts";
import { kindAndName } from "../line-kinds.ts";

const LOOK = "Found by computer from map data: look at it on the ground before trusting it.";
const NO_MAP = "There is no map here to look on.";

export function howCrossings(leg: LegFigures, { map }: HowAbout): string[] {
  if (!map) return [NO_MAP];
  const { length } = leg.crossings;
  return [
    `${length === 0 ? "No line of the map meets" : `${formatNumber(length)} ${length === 1 ? "line of the map meets" : "lines of the map meet"}`} the straight leg from ${leg.from} to ${leg.to}, by exact intersection.`,
    "A line drawn twice and the two halves of a dual road count once; contours are not listed.",
    LOOK,
  ];
}

export function howHandrail(leg: LegFigures, about: HowAbout): string[] {
  const { handrailOffsetM, handrailToleranceDeg, handrailMinM } = about.settings;
  const unit = unitOf(about);
  if (!about.map) return [NO_MAP];
  const looked = `Looked for: lines within ${formatAlong(handrailOffsetM, unit)} of the leg whose direction is within ${formatNumber(handrailToleranceDeg)}° of it, for ${formatAlong(handrailMinM, unit)} at least.`;
  const best = leg.handrails[0];
  if (!best) return [looked, "There is none."];
  return [
    looked,
    `Best: ${handrailWords(best, unit, leg.distanceM)}, beside ${formatShare(best.coverage)} of the leg.`,
    "Ranked by the share of the leg, by closeness, and by how surely such a line is followed (common practice).",
    LOOK,
  ];
}

export function howBackstop(leg: LegFigures, about: HowAbout): string[] {
  const { driftDeg, backstopReachM } = about.settings;
  const unit = unitOf(about);
  if (!about.map) return [NO_MAP];
  const looked = `Walkers were sent out from ${leg.from} in a fan of ${formatNumber(driftDeg, 1).replace(/\.0$/, "")}° to either side and followed to ${formatAlong(backstopReachM, unit)} beyond ${leg.to}.`;
  if (!leg.backstop) return [looked, ...leg.notes.filter((note) => /backstop|Nothing within/.test(note))];
  const { kind, name, beyondM, crossingDeg, stoppedShare } = leg.backstop;
  return [
    looked,
    `The ${kindAndName(kind, name)} stops ${formatShare(stoppedShare)} of them, ${beyondM === 0 ? `at ${leg.to} itself` : `${formatAlong(beyondM, unit)} beyond it`}, met at ${formatAngle(crossingDeg)} on average.`,
    `Taken is the nearest line that stops ${formatShare(NEARLY_ALL)}, else the one that stops most.`,
    LOOK,
  ];
}
