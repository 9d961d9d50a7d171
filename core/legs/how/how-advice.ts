/** How attack points, aiming off, dangers, odds and the way out were found: every assumption, with its source or without. */
import { formatAngle, formatNumber, formatShare } from "../../units/format.ts";
import type { LegAdvice } from "../advice/advice.ts";
import type { AdviceSettings } from "../advice/advice-settings.ts";
import { HAZARD_CAUTION } from "../aids/hazards.ts";
import type { LegFigures } from "../figures.ts";
import { formatAlong } from "../leg-words.ts";
import { kindAndName } from "../line-kinds.ts";
import { UNAIDED } from "../odds/spread.ts";
import { type HowAbout, unitOf } from "./how-about.ts";

/** What can be asked of advice, with the words it is called by. */
export const HOW_ADVICE = {
  attackPoints: "Go by",
  aimOff: "Aim off",
  steering: "Steering marks",
  hazards: "Mind",
  odds: "Odds",
  route: "Another way",
  escape: "Way out",
} as const;
export type HowAdviceFigure = keyof typeof HOW_ADVICE;

/** Which part of the advice is at hand. */
export interface HowAdviceOf {
  readonly advice: LegAdvice | null;
  readonly settings: AdviceSettings;
}

const NO_MAP = "There is no map here to look on.";
const NO_SOURCE = "common practice, no source";

/** @returns sentences in the order they are to be read; at least one */
export function howAdviceOf(
  figure: HowAdviceFigure,
  leg: LegFigures,
  about: HowAbout,
  of: HowAdviceOf,
): readonly string[] {
  if (!about.map) return [NO_MAP];
  switch (figure) {
    case "attackPoints":
      return howAttack(leg, about);
    case "aimOff":
      return howAimOff(leg, about);
    case "steering":
      return howSteering(leg, about);
    case "hazards":
      return howHazards(leg, about);
    case "odds":
      return howOdds(leg, about, of);
    case "route":
      return howRoute(about, of);
    case "escape":
      return howEscape(about, of);
  }
}

const degrees = (value: number): string => `${formatNumber(value, Number.isInteger(value) ? 0 : 1)}°`;

function howAttack({ targetIsHard, attackPoints }: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  return [
    ...(targetIsHard ? [targetIsHard.because] : []),
    `A target is hard when no line lies within ${formatAlong(15, unit)} of it and no junction, bend, summit or building within ${formatAlong(30, unit)} (no source).`,
    `Looked for within ${formatAlong(400, unit)}: junctions, confluences, sharp bends, summits, buildings, corners of woods and lakes, ends of spurs. The best is easily found and leaves a short last leg.`,
    ...attackPoints.map(({ why }) => why),
    "The paces from there are counted as on the flat.",
    "The practice: US Army TC 3-25.26, attack points. Found by computer from map data: look before you rely on it.",
  ];
}

function howAimOff({ aimOff, notes }: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  const { driftDeg } = about.settings;
  const rule = `The angle is the least, in steps of the compass’s marks, at which one who drifts as much as ${degrees(driftDeg)} still meets the line on the chosen side, ${formatAlong(10, unit)} clear of the target. The practice: US Army FM 3-21.8, deliberate offset.`;
  if (!aimOff) {
    const why = notes.filter((note) => /aim/i.test(note));
    return [...(why.length > 0 ? why : ["The target lies on no line that could be met aside of it."]), rule];
  }
  return [
    aimOff.why,
    rule,
    `Who keeps the bearing walks ${formatAlong(aimOff.meanAlongM, unit)} along the ${kindAndName(aimOff.line.kind, aimOff.line.name)}, at most ${formatAlong(aimOff.alongM, unit)}; ${formatShare(aimOff.onSideShare)} of walkers meet it on that side.`,
    `The side is chosen by the longest walk along the line, what hinders on the way, whether turning leads uphill, and what stops one who walks past the target (${NO_SOURCE}).`,
    ...(aimOff.caution === null ? [] : [aimOff.caution]),
  ];
}

function howSteering({ steering }: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  const { hopM, openHopM } = about.settings;
  return [
    `A mark is sighted up to ${formatAlong(hopM, unit)} ahead${openHopM === null ? "" : `, ${formatAlong(openHopM, unit)} in the open`} (${NO_SOURCE}: 50 to 60 yards in woods), no farther than the bare ground lets one see, and not through the edge of a wood.`,
    `That makes ${formatNumber(steering.hops.length)} ${steering.hops.length === 1 ? "hop" : "hops"}; the last is to the target itself.`,
    "To tick off are kept, of all the leg meets, at most eight things that are surely noticed, met well across the way, and some way apart (no source).",
    ...steering.notes,
  ];
}

function howHazards({ hazards, hazardNotes }: LegFigures, about: HowAbout): string[] {
  const unit = unitOf(about);
  const { driftDeg, hazardBeyondM, steepDeg } = about.settings;
  return [
    `Looked for in all the ground where one may be who drifts up to ${degrees(driftDeg)}, and ${formatAlong(hazardBeyondM, unit)} beyond the target or to what stops one there.`,
    `Dangers are cliffs, ground of ${steepDeg.map(degrees).join(", ")} and more, open water, wetland, streams and rivers, railways, roads, restricted areas, and what lies below cliffs and steep ground.`,
    ...(hazards.length === 0 ? ["None was found."] : []),
    ...hazardNotes,
    HAZARD_CAUTION,
  ];
}

function howOdds(leg: LegFigures, about: HowAbout, { advice, settings }: HowAdviceOf): string[] {
  const unit = unitOf(about);
  const { walkers, steering, settingDeg, hopDeg, unaidedSettingDeg, unaidedHopDeg, unaidedHopM } = settings;
  const byMarks = steering === "marks";
  if (advice && !advice.odds) return advice.notes.length > 0 ? [...advice.notes] : [NO_MAP];
  return [
    `By chance, ${formatNumber(walkers)} walkers are sent from ${leg.from} to ${leg.to}, the same ones each time (seed ${settings.seed}), so that two ways can be compared. The draw itself leaves about half of one in a hundred uncertain.`,
    byMarks
      ? `They sight from mark to mark, ${formatAlong(about.settings.hopM, unit)} apart: one error for the whole leg, ${degrees(settingDeg)}, and a fresh one of ${degrees(hopDeg)} for each hop; both are standard deviations (${NO_SOURCE}).`
      : `They keep the compass in hand and look at it every ${formatAlong(unaidedHopM, unit)}: one error for the whole leg, ${degrees(unaidedSettingDeg)}, and a fresh one of ${degrees(unaidedHopDeg)} each time (${NO_SOURCE}; with ${degrees(UNAIDED.settingDeg)} and ${degrees(UNAIDED.hopDeg)} half of them are 5 to 10 yards aside after 50 to 100).`,
    `They miscount the distance by ${formatShare(settings.paceError)} (standard deviation), and find the target when they look for it from within ${formatAlong(settings.sightM, unit)} (${NO_SOURCE}).`,
    "They follow a handrail while it lasts and as surely as such a line is followed, may correct their count where they notice what they cross, and go on to a line they know to be beyond, which stops most of them.",
    "“Find it” are those who see the target; “stopped” stand at a line they know and can find out where they are; “pass by” have neither.",
    `A leg is marked when fewer than ${formatNumber(Math.round(settings.flagBelow * 100))} of 100 find it (no source).`,
    "It compares ways. It does not promise: ground, weather, tiredness and company are not in it.",
  ];
}

function howRoute(about: HowAbout, { advice }: HowAdviceOf): string[] {
  const unit = unitOf(about);
  return [
    ...(advice?.route ? [advice.route.why] : []),
    ...(advice?.routeReason ? [advice.routeReason] : []),
    `Sought is the way along lines that meet, at most twice as long as the leg, with at most half as much without a line to follow; every metre farther has to save nearly as much (${NO_SOURCE}).`,
    ...(advice?.route
      ? [
          `Without a line: ${formatAlong(advice.route.unaidedM, unit)}, in one stretch ${formatAlong(advice.route.longestUnaidedM, unit)}; on the straight leg ${formatAlong(advice.route.straightUnaidedM, unit)}.`,
          "Its odds: each straight part by walkers of its own; who loses a line or walks past one counts as passing by.",
        ]
      : []),
    "Found by computer from map data: whether one may and can walk along a line is not known.",
  ];
}

function howEscape(about: HowAbout, { advice, settings }: HowAdviceOf): string[] {
  const unit = unitOf(about);
  const escape = advice?.escape ?? null;
  return [
    `Of all whole degrees that one is taken on which, from anywhere on the leg, a road, river or wide track is met within ${formatAlong(settings.escapeReachM, unit)}, with no cliff, open water or ground of ${formatAngle(Math.min(...about.settings.steepDeg))} and more on the way, and the farthest one may have to walk is least.`,
    `Preferred are bearings that still serve who strays by ${degrees(about.settings.driftDeg)} to either side (${NO_SOURCE}).`,
    ...(escape?.worstDriftedM
      ? [`Straying so, the farthest is ${formatAlong(escape.worstDriftedM, unit)}.`]
      : []),
    ...(advice?.notes ?? []),
    "It is walked straight, as the compass points. Found by computer from map data: look before you rely on it; who can stay safely where they are and call for help does so.",
  ];
}
