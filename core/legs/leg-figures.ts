/** The figures of one leg. */
import { direct } from "../geodesy/geodesic.ts";
import { legFrame, type LegFrame } from "../geodesy/leg-frame.ts";
import { climbOf } from "../terrain/climb.ts";
import type { Ground } from "../terrain/ground.ts";
import { landformsAlong } from "../terrain/landforms/landforms-along.ts";
import { landformsReason } from "../terrain/landforms/landforms-in.ts";
import { profileOf } from "../terrain/leg-profile.ts";
import { sightAlong } from "../terrain/line-of-sight.ts";
import type { Profile } from "../terrain/profile.ts";
import { slopeDistanceOf, steepestOf } from "../terrain/slope.ts";
import { trueToMagnetic } from "../units/angle.ts";
import type { LengthUnit } from "../units/format.ts";
import type { LonLat } from "../units/position.ts";
import { aidFigures } from "./aid-figures.ts";
import { climbThresholdM } from "./climb-threshold.ts";
import type { LegFigures } from "./figures.ts";
import type { LegSettings } from "./leg-settings.ts";
import { describeLeg } from "./description/describe-leg.ts";
import { filledNotes } from "./filled-heights.ts";
import { lengthInNote } from "./leg-words.ts";
import { lineFigures } from "./line-figures.ts";
import { northFigures } from "./norths/norths.ts";
import { oneBearing } from "./norths/one-bearing.ts";
import { paceFigures } from "./pace-figures.ts";
import { elevationAt } from "./profile-height.ts";
import { timeFigures } from "./times/time-figures.ts";

/** One end of a leg. */
export interface LegEnd {
  readonly label: string;
  readonly lonLat: LonLat;
  /** The leg that starts here is to be walked aiming off, where that can be done. */
  readonly aimOff?: boolean;
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
  const landforms = landformFigures(ground, frame, profile);
  const lines = lineFigures(frame, ground, profile, landforms.landforms, paces, settings);
  const { declinationDeg } = norths.figures;
  const aids = aidFigures(
    frame,
    {
      ground,
      lines: lines.framed,
      profile,
      landforms: landforms.landforms,
      ...lines.figures,
      paces,
      magnetic: (bearing) => (declinationDeg === null ? null : trueToMagnetic(bearing, declinationDeg)),
    },
    settings,
  );
  const figures: LegFigures = {
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
    ...landforms,
    ...aids.figures,
    aimsOff: from.aimOff === true && aids.figures.aimOff !== null,
    sight: sightAlong(profile),
    onTheWay: [],
    notes: [
      ...(frame.bearing === null ? ["Both ends are the same place: there is no bearing."] : []),
      ...norths.notes,
      ...straight.notes,
      ...heights.notes,
      ...(ground ? filledNotes(frame, ground.map, settings.lengthUnit) : []),
      ...paces.notes,
      ...lines.notes,
      ...aids.notes,
      ...(from.aimOff && !aids.figures.aimOff
        ? [`The leg was to be walked aiming off, which cannot be done here: ${aids.noAimOff}`]
        : []),
    ],
    profile,
  };
  return { ...figures, onTheWay: describeLeg(figures, settings) };
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
  errorsM: null,
  blind: [{ fromM: 0, toM: lengthM }],
});

type HeightFigures = Pick<
  LegFigures,
  "slopeDistanceM" | "climbM" | "descentM" | "steepestDeg" | "elevationErrorM" | "timeS" | "timeBackS"
>;

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
