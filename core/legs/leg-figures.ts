/** The figures of one leg. */
import { direct } from "../geodesy/geodesic.ts";
import { legFrame, type LegFrame } from "../geodesy/leg-frame.ts";
import type { Blind, MapFeatures } from "../map/features.ts";
import type { Role } from "../map/kinds.ts";
import { climbOf } from "../terrain/climb.ts";
import type { Ground } from "../terrain/ground.ts";
import { landformsAlong } from "../terrain/landforms/landforms-along.ts";
import { landformsReason } from "../terrain/landforms/landforms-in.ts";
import { profileOf } from "../terrain/leg-profile.ts";
import { sightAlong } from "../terrain/line-of-sight.ts";
import type { Profile } from "../terrain/profile.ts";
import { slopeDistanceOf, steepestOf } from "../terrain/slope.ts";
import type { LengthUnit } from "../units/format.ts";
import { bboxOf, growBbox, type Bbox, type LonLat } from "../units/position.ts";
import { backstopOf } from "./aids/backstop.ts";
import { crossingList } from "./crossing-list.ts";
import type { LegFigures } from "./figures.ts";
import { frameLines } from "./aids/framed-line.ts";
import { groundBackstops } from "./aids/ground-backstop.ts";
import { handrailsOf } from "./aids/handrails.ts";
import type { LegSettings } from "./leg-settings.ts";
import { lengthInNote } from "./leg-words.ts";
import { LEG_LINE_KINDS } from "./line-kinds.ts";
import { northFigures } from "./norths/norths.ts";
import { oneBearing } from "./norths/one-bearing.ts";
import { paceFigures, type PaceFigures } from "./pace-figures.ts";
import { elevationAt } from "./profile-height.ts";
import { legLinesBox } from "./search-box.ts";
import { timeFigures } from "./times/time-figures.ts";

/** One end of a leg. */
export interface LegEnd {
  readonly label: string;
  readonly lonLat: LonLat;
}

export interface Leg {
  /** Place in the walk, from 1. */
  readonly n: number;
  readonly from: LegEnd;
  readonly to: LegEnd;
}

/**
 * All figures of a leg. Synchronous: the ground of `legSearchBox` must have been prepared.
 * Without ground, bearings, distance and paces are still given. What cannot be had is null with a sentence in `notes`.
 * Running totals are those of this leg alone; `withRunningTotals` makes them the walk's, `timetableOf` its arrivals.
 * @throws Fault "bad-argument" for a position, day, pace count, factor or printed declination that cannot be; "internal"
 *   when the ground was not prepared
 */
export function legFigures({ n, from, to }: Leg, ground: Ground | null, settings: LegSettings): LegFigures {
  const frame = frameOf(from.lonLat, to.lonLat);
  const profile = ground ? profileOf(ground, frame) : noProfile(frame);
  const heights = heightFigures(profile, frame.lengthM, settings, ground?.map.info.interval ?? null);
  const middleM = frame.lengthM / 2;
  // By the geodesic, not the frame: a leg without a map may be longer than a frame holds.
  const middle = frame.bearing === null ? from.lonLat : direct(from.lonLat, frame.bearing, middleM);
  const norths = northFigures(
    {
      bearing: frame.bearing,
      from: from.lonLat,
      middle,
      to: to.lonLat,
      heightM: elevationAt(profile, middleM),
    },
    settings,
  );
  const straight = oneBearing(from.lonLat, to.lonLat, frame.bearing, settings.lengthUnit);
  const paces = paceFigures(profile, frame.lengthM, settings);
  const lines = lineFigures(frame, ground, profile, paces, settings);
  return {
    n,
    from: from.label,
    to: to.label,
    fromLonLat: from.lonLat,
    toLonLat: to.lonLat,
    ...norths.figures,
    distanceM: frame.lengthM,
    rhumbOffsetM: straight.rhumbOffsetM,
    ...heights.figures,
    paces: paces.upTo(frame.lengthM),
    pacesOnSlope: paces.onSlope,
    arrival: null,
    runningDistanceM: frame.lengthM,
    runningTimeS: heights.figures.timeS,
    ...lines.figures,
    ...landformFigures(ground, frame, profile),
    sight: sightAlong(profile),
    onTheWay: [],
    notes: [
      ...(frame.bearing === null ? ["Both ends are the same place: there is no bearing."] : []),
      ...norths.notes,
      ...straight.notes,
      ...heights.notes,
      ...paces.notes,
      ...lines.notes,
    ],
    profile,
  };
}

/** Nearer than this two points are one: the bearing would be that of a rounding error. */
const SAME_PLACE_M = 0.001;

function frameOf(from: LonLat, to: LonLat): LegFrame {
  const frame = legFrame(from, to);
  return frame.lengthM < SAME_PLACE_M ? legFrame(from, from) : frame;
}

const noProfile = ({ lengthM }: LegFrame): Profile => ({
  from: null,
  distanceM: Float64Array.of(0, lengthM),
  elevationM: Float64Array.of(NaN, NaN),
  errorM: null,
  blind: [{ fromM: 0, toM: lengthM }],
});

type HeightFigures = Pick<
  LegFigures,
  "slopeDistanceM" | "climbM" | "descentM" | "steepestDeg" | "elevationErrorM" | "timeS" | "timeBackS"
>;

/** Reversals smaller than this are not climbed: as set, else a tenth of the contour interval, at least 1 m. */
export function climbThresholdM(
  settings: Pick<LegSettings, "climbThresholdM">,
  interval: { readonly value: number; readonly unit: "m" | "ft" } | null,
): number {
  const intervalM = interval ? interval.value * (interval.unit === "ft" ? 0.3048 : 1) : 0;
  return settings.climbThresholdM ?? Math.max(1, intervalM / 10);
}

function heightFigures(
  profile: Profile,
  lengthM: number,
  settings: LegSettings,
  interval: { readonly value: number; readonly unit: "m" | "ft" } | null,
): { readonly figures: HeightFigures; readonly notes: readonly string[] } {
  const climb = climbOf(profile, climbThresholdM(settings, interval));
  const slopeDistanceM = slopeDistanceOf(profile);
  const steepestDeg = steepestOf(profile);
  const climbM = climb?.climbM ?? null;
  const descentM = climb?.descentM ?? null;
  const figures: HeightFigures = {
    slopeDistanceM,
    climbM,
    descentM,
    steepestDeg,
    elevationErrorM: profile.errorM,
    ...timeFigures({ distanceM: lengthM, climbM, descentM, profile }, settings),
  };
  return { figures, notes: heightNotes(profile, lengthM, figures, settings.lengthUnit) };
}

function heightNotes(
  profile: Profile,
  lengthM: number,
  { climbM, steepestDeg }: HeightFigures,
  unit: LengthUnit,
): string[] {
  if (climbM !== null)
    return steepestDeg === null && lengthM > 0 ? ["The leg is too short for a steepest stretch."] : [];
  const without = "so climb, descent, slope distance, steepest stretch and walking time are left out";
  if (profile.from === null)
    return [`There are no heights here, ${without}; declination is taken at sea level.`];
  const blindM = profile.blind.reduce((sum, { fromM, toM }) => sum + toM - fromM, 0);
  return [`Heights are missing on ${lengthInNote(Math.max(1, blindM), unit)} of the leg, ${without}.`];
}

/** Landforms on the way, and why there are none where they cannot be told. */
function landformFigures(
  ground: Ground | null,
  frame: LegFrame,
  { from }: Profile,
): Pick<LegFigures, "landforms" | "landformsReason"> {
  if (!ground)
    return { landforms: [], landformsReason: "There is no map here: landforms cannot be read from it." };
  if (ground.elevation && from !== "terrain")
    return {
      landforms: [],
      landformsReason: "The terrain tiles do not reach here: landforms cannot be read from them.",
    };
  return { landforms: landformsAlong(ground, frame), landformsReason: landformsReason(ground) };
}

type LineFigures = Pick<LegFigures, "crossings" | "handrails" | "backstop">;

function lineFigures(
  frame: LegFrame,
  ground: Ground | null,
  profile: Profile,
  paces: PaceFigures,
  settings: LegSettings,
): { readonly figures: LineFigures; readonly notes: readonly string[] } {
  if (!ground)
    return {
      figures: { crossings: [], handrails: [], backstop: null },
      notes: ["There is no map here: crossings, handrails and a backstop cannot be found."],
    };
  const { map, elevation } = ground;
  const box = legLinesBox(frame.from, frame.to, settings);
  const lines = map.lines(box, LEG_LINE_KINDS);
  const framed = frameLines(frame, lines);
  const { backstop, notes } = backstopOf(frame, framed, settings, () =>
    elevation ? groundBackstops(frame, elevation, settings) : [],
  );
  return {
    figures: {
      crossings: crossingList(frame, lines, profile, paces.upTo),
      handrails: handrailsOf(frame, framed, settings),
      backstop,
    },
    notes: [
      ...blindNotes(map.blind(legBox(frame))),
      ...(backstop ? notes : (reasonForNone(frame, map, settings) ?? notes)),
    ],
  };
}

/** Roles that give lines to cross, follow or be stopped by. */
const LINE_ROLES: readonly Role[] = [
  "stream",
  "water",
  "path",
  "road",
  "rail",
  "wall",
  "fence",
  "powerLine",
  "wood",
  "ridge",
  "valley",
];

/** Why no backstop was found when the map could not have shown one; null when it could. */
function reasonForNone(frame: LegFrame, map: MapFeatures, settings: LegSettings): string[] | null {
  if (frame.bearing === null) return null;
  if (!LINE_ROLES.some((role) => map.info.roles[role]))
    return ["This map shows no lines: crossings, handrails and a backstop cannot be found on it."];
  const beyond = growBbox(
    bboxOf([frame.to, frame.toLonLat(frame.lengthM + settings.backstopReachM, 0)]) as Bbox,
    1,
  );
  if (map.blind(beyond).length === 0) return null;
  return [
    `No backstop was found; the map does not show all of the ${lengthInNote(settings.backstopReachM, settings.lengthUnit)} beyond the target.`,
  ];
}

/** The box of the leg itself. */
const legBox = ({ from, to }: LegFrame): Bbox => growBbox(bboxOf([from, to]) as Bbox, 1);

function blindNotes(blind: readonly Blind[]): string[] {
  const because: Record<Blind["reason"], string> = {
    outside: "Part of the leg lies outside the map: what is there is not known.",
    missing: "The map has no data for part of the leg: what is there is not known.",
    damaged: "Part of the map near the leg is damaged and could not be read: what is there is not known.",
  };
  return [...new Set(blind.map(({ reason }) => because[reason]))];
}
