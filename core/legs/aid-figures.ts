/** What an instructor would say of a leg besides its lines: attack points, aiming off, dangers, marks to steer and to tick off by. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import type { Kind } from "../map/kinds.ts";
import type { Ground } from "../terrain/ground.ts";
import type { LegLandform } from "../terrain/landforms/landforms-along.ts";
import { landformsIn } from "../terrain/landforms/landforms-in.ts";
import type { Profile } from "../terrain/profile.ts";
import { pacesFor } from "../travel/paces.ts";
import type { MagneticBearing, TrueBearing } from "../units/angle.ts";
import { bboxOf, growBbox, type Bbox } from "../units/position.ts";
import { aimOffOf } from "./aids/aim-off.ts";
import { attackBox, attackPointsOf, landformsBox } from "./aids/attack-points.ts";
import { frameAreas } from "./aids/framed-area.ts";
import type { FramedLine } from "./aids/framed-line.ts";
import { HAZARD_AREA_KINDS } from "./aids/hazards-kinds.ts";
import { hazardsOf } from "./aids/hazards.ts";
import { steeringMarksOf } from "./aids/steering-marks.ts";
import { tickMarksOf } from "./aids/tick-marks.ts";
import type { AidFigures, LegFigures } from "./figures.ts";
import type { LegSettings } from "./leg-settings.ts";
import type { PaceFigures } from "./pace-figures.ts";
import { legLinesBox } from "./search-box.ts";
import { stretchesWithin } from "./stretches.ts";

const PLACES: ReadonlySet<Kind> = new Set<Kind>(["peak", "spotHeight", "building"]);
const PLACE_AREAS: ReadonlySet<Kind> = new Set<Kind>(["building", "water"]);
const WOODS: ReadonlySet<Kind> = new Set<Kind>(["wood"]);

/** What the aids of a leg are worked out from. */
export interface AidGround {
  /** Null without a map: then only the marks to steer by are counted. */
  readonly ground: Ground | null;
  /** Those of `legLinesBox` and of `attackBox` around the target. */
  readonly lines: readonly FramedLine[];
  readonly profile: Profile;
  readonly landforms: readonly LegLandform[];
  readonly crossings: LegFigures["crossings"];
  readonly handrails: LegFigures["handrails"];
  readonly backstop: LegFigures["backstop"];
  readonly paces: PaceFigures;
  /** From a true bearing at the leg; null when there is no declination. */
  readonly magnetic: (bearing: TrueBearing) => MagneticBearing | null;
}

/** The aids of a leg on a map; the ground of `legSearchBox` must have been prepared. */
export function aidFigures(
  frame: LegFrame,
  of: AidGround,
  settings: LegSettings,
): {
  readonly figures: AidFigures;
  readonly notes: readonly string[];
  /** Why one cannot aim off; null where one can. */
  readonly noAimOff: string | null;
} {
  const { ground, lines, profile, landforms, crossings, handrails, backstop, paces, magnetic } = of;
  const tickMarks = tickMarksOf(crossings, landforms, frame.lengthM, paces.upTo);
  const marks = { hopM: settings.hopM, openHopM: settings.openHopM };
  if (!ground)
    return {
      figures: {
        attackPoints: [],
        targetIsHard: null,
        aimOff: null,
        hazards: [],
        hazardNotes: [],
        steering: steeringMarksOf(frame.lengthM, profile, null, marks),
        tickMarks,
      },
      notes: [],
      noAimOff: "there is no map.",
    };
  const { map, elevation } = ground;
  const heightAt = elevation ? elevation.at.bind(elevation) : null;
  const target = attackBox(frame.to);
  const attack = attackPointsOf(
    {
      frame,
      lines,
      points: map.points(target, PLACES),
      areas: map.areas(target, PLACE_AREAS),
      handrails,
      heightAt,
      landformsAround: elevation && (() => landformsIn(ground, landformsBox(frame.to))),
    },
    settings,
  );
  const aim = aimOffOf(
    { frame, lines, handrails, heightAt },
    { ...settings, stepDeg: Math.max(1, Math.round(settings.graduationDeg)) },
  );
  const box = legLinesBox(frame.from, frame.to, settings);
  const dangers = hazardsOf(
    frame,
    {
      lines,
      areas: frameAreas(frame, map.areas(box, HAZARD_AREA_KINDS)),
      elevation,
      roles: map.info.roles,
    },
    // What lies before the backstop one may still walk into.
    { ...settings, hazardBeyondM: Math.max(settings.hazardBeyondM, backstop?.beyondM ?? 0) },
  );
  return {
    figures: {
      attackPoints: attack.points.map((point) => ({
        ...point,
        bearingMagneticDeg: magnetic(point.bearingTrueDeg),
        // The last leg is counted as flat: its own slope is not looked at.
        paces: pacesFor(point.distanceM, settings.pacesPer100m),
      })),
      targetIsHard: frame.bearing === null ? null : { hard: attack.hard, because: attack.because },
      aimOff: aim.aimOff && { ...aim.aimOff, bearingMagneticDeg: magnetic(aim.aimOff.bearingTrueDeg) },
      hazards: dangers.hazards,
      hazardNotes: dangers.notes,
      // Where the map shows no woods at all it is not known what is wooded.
      steering: steeringMarksOf(
        frame.lengthM,
        profile,
        map.info.roles.wood ? stretchesWithin(frame, map.areas(legBox(frame), WOODS)) : null,
        marks,
      ),
      tickMarks,
    },
    notes: attack.reason === null ? [] : [attack.reason],
    noAimOff: aim.reason,
  };
}

const legBox = ({ from, to }: LegFrame): Bbox => growBbox(bboxOf([from, to]) as Bbox, 1);
