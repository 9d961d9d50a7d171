/** What a fix says to a person: warnings, reasons and cautions, as sentences. */
import { formatBearing, formatNumber, formatShare, type LengthUnit } from "../units/format.ts";
import { normalise360 } from "../units/angle.ts";
import { lengthInNote, plainSpaces } from "../legs/leg-words.ts";
import { kindAndName } from "../legs/line-kinds.ts";
import type { LineFeature } from "../map/features.ts";
import type { ErrorEllipse } from "./ellipse.ts";
import { NARROW_DEG } from "./judge.ts";

/** What stands beside every position worked out from bearings, paces or lines. */
export const FIX_CAUTIONS: readonly string[] = [
  "A position from bearings is only as good as the bearings: be sure that what you sight is what you think it is.",
  "Keep iron, phones, cars and power lines away from the compass; take each bearing twice.",
  "The ellipse holds the place 95 times in 100 only if the errors are as stated and nothing was mistaken.",
  "Look round: does the ground agree with the map there? If it does not, the position is wrong, however neat it looks.",
  "Do not walk on towards steep ground, water or the dark on the strength of a position alone; in doubt go back the way you came.",
];

const list = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;

const orList = (names: readonly string[]): string => names.join(" or ");

export const twoOnlyWords = (): string =>
  "Two bearings always meet somewhere: nothing checks them. Take a third, across the others.";

export const narrowWords = (crossingDeg: number): string =>
  `No two bearings cross at more than ${formatNumber(crossingDeg)}°: a small error moves the place far along them. Take one that crosses at ${NARROW_DEG}° to ${180 - NARROW_DEG}°, best near 90°.`;

export const elongatedWords = (ellipse: ErrorEllipse, unit: LengthUnit): string =>
  plainSpaces(
    `The place is known ${formatNumber(ellipse.semiMajorM / ellipse.semiMinorM, 1)} times better across than along ${formatBearing(ellipse.bearing)} or ${formatBearing(normalise360(ellipse.bearing + 180))} true: ${lengthInNote(ellipse.semiMajorM, unit)} along, ${lengthInNote(ellipse.semiMinorM, unit)} across.`,
  );

export const roughWords = (ellipse: ErrorEllipse, unit: LengthUnit): string =>
  `The place may be ${lengthInNote(ellipse.semiMajorM, unit)} off, much against the distance of the nearest known point: the ellipse is only a rough one, and the place may lie beyond it.`;

export const nearKnownWords = (name: string, distanceM: number, unit: LengthUnit): string =>
  `The place lies ${lengthInNote(distanceM, unit)} from ${name}, within reach of the error: so near, that bearing turns with every step and says little.`;

export const beyondWords = (names: readonly string[]): string =>
  `The place lies on the wrong side of ${list(names)}: ${names.length > 1 ? "those bearings point" : "that bearing points"} away from it. A back bearing may have been taken for a bearing, or the wrong thing sighted.`;

export const inconsistentWords = (chance: number, many: boolean): string =>
  plainSpaces(
    `The bearings disagree by more than their errors: that happens ${chance < 0.001 ? "less than once in 1000 times" : `in ${formatShare(chance, 1)} of cases`} when nothing is wrong. Take them again.${many ? "" : " Which one is wrong cannot be told from three: a fourth would show it."}`,
  );

export const suspectWords = (
  name: string,
  residualDeg: number,
  movedM: number | null,
  unit: LengthUnit,
): string =>
  `${name} looks wrong: it is ${formatNumber(Math.abs(residualDeg), 1)}° ${residualDeg < 0 ? "less" : "more"} than the others would have it.${movedM === null ? "" : ` Without it the place lies ${lengthInNote(movedM, unit)} away.`}`;

/** Where the rest agree without either of some bearings. */
export const eitherWords = (
  those: readonly { readonly name: string; readonly movedM: number }[],
  unit: LengthUnit,
): string =>
  `Either ${orList(those.map(({ name }) => name))} is wrong: without either the others agree. ${those
    .map(({ name, movedM }) => `Without ${name} the place lies ${lengthInNote(movedM, unit)} away`)
    .join("; ")}. A further bearing would show which.`;

export const leaveOutWords = (names: readonly string[]): string =>
  names.length === 1
    ? `${names[0]} looks wrong: without it the others agree. Leave it out, and take it again.`
    : `Either ${orList(names)} looks wrong: without it the others agree. Leave one out, and take a further bearing.`;

export const reversedWords = (name: string): string =>
  `Turned round by 180°, ${name} agrees with the others: it may have been read at the wrong end of the needle, or be a back bearing.`;

export const turnedWords = (deg: number, proven: boolean): string =>
  `Turned together by ${formatNumber(Math.abs(deg))}° ${deg < 0 ? "to the left" : "to the right"}, the bearings ${proven ? "agree" : "would agree too"}: was the declination left out or taken twice, the wrong north meant, or iron near the compass?`;

/** Why two or more bearings give no place. */
export const noMeeting = {
  parallel: {
    what: "The bearings run side by side: they meet nowhere that could be told.",
    remedy: "Take a bearing to something well to one side.",
  },
  apart: {
    what: "The bearings meet nowhere: they draw apart, or meet only behind a known point or hundreds of kilometres off.",
    remedy:
      "See that no bearing was turned round, that its north is right, and that the known points are the ones sighted.",
  },
  restless: {
    what: "No place fits these bearings better than those around it.",
    remedy: "Take them again, with one across the others.",
  },
} as const;

/** Distances of less are not told a side. */
const HERE_M = 1;

const lineWords = ({ kind, name }: Pick<LineFeature, "kind" | "name">): string => kindAndName(kind, name);

/** "The bearing to Knott crosses the stream Fern Beck here at 67°; about 12 m either way along it." */
export function sightReason(
  line: Pick<LineFeature, "kind" | "name">,
  sight: { readonly name: string; readonly crossingDeg: number; readonly residualDeg: number },
  alongSdM: number,
  unit: LengthUnit,
): string {
  const meets = Math.abs(sight.residualDeg) < 0.05;
  const how = meets
    ? `The bearing to ${sight.name} crosses the ${lineWords(line)} here at ${formatNumber(sight.crossingDeg)}°`
    : `The ${lineWords(line)} comes nearest to the bearing to ${sight.name} here, ${formatNumber(Math.abs(sight.residualDeg), 1)}° off`;
  return `${how}: ${eitherWay(alongSdM, unit)}.`;
}

/** "The stream Fern Beck goes best with what you see here: about 40 m either way along it." */
export const clueReason = (
  line: Pick<LineFeature, "kind" | "name">,
  alongSdM: number,
  unit: LengthUnit,
): string => `The ${lineWords(line)} goes best with what you see here: ${eitherWay(alongSdM, unit)}.`;

const eitherWay = (sdM: number, unit: LengthUnit): string =>
  `${lengthInNote(2 * sdM, unit)} either way along it, 19 times in 20`;

/**
 * "The stream Fern Beck lies 40 m beyond the end of your count, 15 m to the right of your bearing: 1.2 times the usual error."
 * @param beyondM along the last leg, beyond the end of the count; rightM to the right of it
 */
export function trackReason(
  line: Pick<LineFeature, "kind" | "name">,
  beyondM: number,
  rightM: number,
  deviations: number,
  startedM: number | null,
  unit: LengthUnit,
): string {
  const along =
    Math.abs(beyondM) < HERE_M
      ? "where your count ends"
      : `${lengthInNote(Math.abs(beyondM), unit)} ${beyondM > 0 ? "beyond" : "short of"} the end of your count`;
  const side =
    Math.abs(rightM) < HERE_M
      ? "on your bearing"
      : `${lengthInNote(Math.abs(rightM), unit)} to the ${rightM > 0 ? "right" : "left"} of it`;
  const start =
    startedM === null ? "" : `, if you left the leg some ${lengthInNote(startedM, unit)} along it`;
  return `The ${lineWords(line)} lies ${along}, ${side}${start}: ${formatNumber(deviations, 1)} times the usual error.`;
}

export const nothingThere = (kinds: readonly string[]): string =>
  `The map shows no ${kinds.join(" or ")} within reach of your count. It may not be on the map, or you are farther off than usual: stop, and look for what the map does show.`;

export const farOffWords = (kinds: readonly string[], deviations: number): string =>
  `Even the likeliest place lies ${formatNumber(deviations, 1)} times the usual error off: a ${kinds.join(" or ")} the map does not show is as likely. Check the bearing, the count and the start.`;

export const disagreesWords = (what: string, deviations: number): string =>
  `Even the likeliest place does not go with the ${what}: ${formatNumber(deviations, 1)} times its error off. Check it, and whether this is the right line.`;

export const blindWords =
  "Part of the ground within reach of your count is not on this map: you may be there.";

export const severalWords = (many: number): string =>
  `${many} places are about as likely: take another bearing, a height, or walk along the line to something the map shows.`;

export const grazingWords = (crossingDeg: number): string =>
  `The bearing crosses the line at only ${formatNumber(crossingDeg)}°: a small error moves the place far along it.`;

export const clueWord = {
  sight: "bearing",
  height: "height",
  slope: "slope",
  facing: "way the ground faces",
} as const;
