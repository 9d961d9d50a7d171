/** How crossings, handrails and the backstop of a leg were found. */
import { formatAngle, formatNumber, formatShare } from "../../units/format.ts";
import { NEARLY_ALL } from "../aids/backstop-words.ts";
import type { LegFigures } from "../figures.ts";
import { type HowAbout, unitOf } from "./how-about.ts";
import { formatAlong, handrailWords } from "../leg-words.ts";
import { kindAndName } from "../line-kinds.ts";

const LOOK = "Found by computer from map data: look at it on the ground before trusting it.";
const NO_MAP = "There is no map here to look on.";

/** Read from the shape of the ground; ridge and valley lines may come from either, and without an angle they do. */
const SLOPES: ReadonlySet<string> = new Set(["rise", "drop", "steep"]);

export function howCrossings(leg: LegFigures, { map }: HowAbout): string[] {
  if (!map) return [NO_MAP];
  const contours = leg.crossings.filter(({ kind }) => kind === "contour").length;
  const slopes = leg.crossings.filter(({ kind }) => SLOPES.has(kind)).length;
  const lines = leg.crossings.filter(({ crossingDeg }) => crossingDeg !== null).length - contours;
  const forms = leg.crossings.length - contours - slopes - lines;
  const ground = [
    ...(forms > 0
      ? [`${formatNumber(forms)} ${forms === 1 ? "crest or trough" : "crests and troughs"}`]
      : []),
    ...(slopes > 0 ? [`${formatNumber(slopes)} sharp ${slopes === 1 ? "change" : "changes"} of slope`] : []),
  ];
  return [
    `${lines === 0 ? "No line of the map meets" : `${formatNumber(lines)} ${lines === 1 ? "line of the map meets" : "lines of the map meet"}`} the straight leg from ${leg.from} to ${leg.to}, by exact intersection.`,
    "A line drawn twice and the two halves of a dual road count once; of a valley and its stream only the stream is named. What a line is like, such as its width, is as the map says.",
    ...(ground.length === 0
      ? []
      : [`Read from the heights and not drawn on the map: ${ground.join(" and ")}.`]),
    ...(contours === 0
      ? []
      : [
          `${contours === 1 ? "One index contour is" : `${formatNumber(contours)} index contours are`} crossed: not listed, as nobody sees one on the ground.`,
        ]),
    ...leg.notes.filter((note) => note.endsWith("what is there is not known.")),
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
