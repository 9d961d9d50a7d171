/** What the landforms and the sight of a leg rest on. */
import { CLIFF_DEG, LEAST_SIDE_RELIEF_M, SIDE_M } from "../../terrain/landforms/landform.ts";
import { BARE_EARTH, SIGHT_SETTINGS } from "../../terrain/line-of-sight.ts";
import { formatHeight, formatNumber } from "../../units/format.ts";
import type { LegFigures } from "../figures.ts";
import { formatAlong, landformWords, sightWords } from "../leg-words.ts";
import { type HowAbout, heightsSentence, unitOf } from "./how-about.ts";

export function howLandforms(leg: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  const { landforms, landformsReason } = leg;
  if (landforms.length === 0 && landformsReason !== null) return [landformsReason];
  return [
    landforms.length === 0
      ? "The leg meets no landform that stands out."
      : `${landforms.map((landform) => landformWords(landform, unit)).join("; ")}.`,
    `A crest counts when it stands ${formatHeight(LEAST_SIDE_RELIEF_M, unit)} over the ground ${formatAlong(SIDE_M, unit)} to either side, a trough when it lies as deep below it; ground of ${CLIFF_DEG}° or steeper is called a cliff.`,
    "Found by computer from the heights: a form smaller than their spacing is not seen, and a cliff lower than it neither.",
    ...(landformsReason === null ? [] : [landformsReason]),
    heightsSentence(leg, unit),
  ];
}

export function howSight(leg: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  const { eyeM, targetM } = SIGHT_SETTINGS;
  const words = sightWords(leg, unit);
  const { reason } = leg.sight;
  const height = (metres: number): string =>
    formatHeight(metres, unit) === formatHeight(Math.round(metres), unit)
      ? `${formatNumber(metres, 1)}\u00a0m`
      : formatHeight(metres, unit);
  return [
    ...(words === "" ? [] : [`${words}.`]),
    ...(reason === null ? [] : [reason]),
    `From an eye ${height(eyeM)} above the ground at ${leg.from} to ${height(targetM)} above the ground on the leg, with the earth’s curvature and the usual bending of light.`,
    BARE_EARTH,
    heightsSentence(leg, unit),
  ];
}
