/**
 * Back on track: "I walked so many paces on this bearing and stand at a stream". Likely places on the map's lines of that kind,
 * by the spread of dead reckoning, and the bearing to the next point from each.
 */
import { Fault } from "../fault.ts";
import { inverse } from "../geodesy/geodesic.ts";
import { legFrame } from "../geodesy/leg-frame.ts";
import { kindWord, LEG_LINE_KINDS } from "../legs/line-kinds.ts";
import type { Kind } from "../map/kinds.ts";
import type { Ground } from "../terrain/ground.ts";
import { DEG, type TrueBearing } from "../units/angle.ts";
import type { LengthUnit } from "../units/format.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../units/position.ts";
import { type Clue, cluesDensity, evenNorths } from "./clues.ts";
import {
  deadReckon,
  type ReckonedLeg,
  type ReckonedPlace,
  type ReckoningSettings,
} from "./dead-reckoning.ts";
import { alongCovariance, addCovariances, CHI_SQUARE_95 } from "./ellipse.ts";
import { DISAGREES } from "./on-line.ts";
import { type LikelyPlace, placesAlong } from "./places-along.ts";
import { offset } from "./rays.ts";
import { northsOf } from "./sighting.ts";
import { endDensity } from "./start-stretch.ts";
import * as words from "./words.ts";

export interface WalkedFrom {
  /** Where one set out; a stretch when it was somewhere between two places. */
  readonly from: LonLat;
  readonly orUpTo: LonLat | null;
  readonly legs: readonly ReckonedLeg[];
}

export interface StoodAt {
  /** What one stands at. */
  readonly kinds: ReadonlySet<Kind>;
  /** What else is seen from there. */
  readonly clues: readonly Clue[];
  /** Where to go on to; null when it is not asked. */
  readonly next: LonLat | null;
}

export interface TrackPlace extends LikelyPlace {
  /** Beyond the end of the count along the last leg, and to the right of it, metres; from the start that fits best. */
  readonly beyondM: number;
  readonly rightM: number;
  /** Standard deviations off the end of the count. */
  readonly deviations: number;
  /** Metres along the stretch from which the count fits best; null for a start that is one place. */
  readonly startedM: number | null;
  /** To the next point, true, and how far, metres; null without one, or on it. */
  readonly onward: { readonly bearing: TrueBearing; readonly distanceM: number } | null;
  /** A sentence. */
  readonly why: string;
}

export interface BackOnTrack {
  /** The end of the count when started at `from`. */
  readonly reckoned: ReckonedPlace;
  /** Most likely first; the probabilities are of the map's lines of these kinds within reach alone. */
  readonly places: readonly TrackPlace[];
  /** Sentences. */
  readonly warnings: readonly string[];
}

/** Lines are looked for within so many standard deviations of the end of the count. No source: beyond are 4 in a million. */
const REACH = 5;
/** How exactly a map shows where a line runs, one standard deviation, metres. No source: 0.2 mm at 1:25,000 is 5 m. */
const LINE_M = 5;
const AS_LIKELY = 0.5;

/**
 * The box of the map to be prepared before `backOnTrack` is asked.
 * @throws Fault as `deadReckon` does
 */
export function backOnTrackBox(walked: WalkedFrom, settings: ReckoningSettings): Bbox {
  const ends = [walked.from, ...(walked.orUpTo ? [walked.orUpTo] : [])].map(
    (start) => deadReckon(start, walked.legs, settings).end,
  );
  const reachM = Math.max(
    ...ends.map(({ ellipse95 }) => (REACH * ellipse95.semiMajorM) / Math.sqrt(CHI_SQUARE_95)),
  );
  return growBbox(bboxOf(ends.map(({ at }) => at)) as Bbox, reachM + REACH * LINE_M);
}

/**
 * @param ground prepared for `backOnTrackBox`; heights are needed for clues of height and slope alone
 * @throws Fault "bad-argument" for a kind that is no line, a leg or a clue that cannot be; "out-of-range" when there is no
 *   declination for the day; "internal" when the ground was not prepared
 */
export function backOnTrack(
  walked: WalkedFrom,
  { kinds, clues, next }: StoodAt,
  ground: Ground,
  settings: ReckoningSettings,
  unit: LengthUnit = "metric",
): BackOnTrack {
  checkKinds(kinds);
  const reckoning = deadReckon(walked.from, walked.legs, settings);
  const { end } = reckoning;
  const frame = legFrame(end.at, end.at);
  const stretch: readonly [number, number] = walked.orUpTo ? offset(walked.from, walked.orUpTo) : [0, 0];
  const stretchM = Math.hypot(...stretch);
  const covariance = [end.covariance, alongCovariance(1, 0, LINE_M), alongCovariance(0, 1, LINE_M)].reduce(
    addCovariances,
  );
  const density = endDensity(covariance, [0, 0], stretch);
  const norths = evenNorths(
    northsOf(
      settings,
      clues.map((clue) =>
        clue.what === "sight" ? clue.sighting.north : clue.what === "facing" ? clue.north : "true",
      ),
      end.at,
    ),
    end.at,
  );
  const seen = cluesDensity(clues, ground.elevation, norths);
  const box = backOnTrackBox(walked, settings);
  const lines = ground.map.lines(box, kinds);
  const found = placesAlong(lines, frame, (place) => {
    const squared = density.squared(place.eastM, place.northM);
    // Clues cost more than the count, and out of its reach they do not matter.
    return squared > REACH * REACH ? -Infinity : density.log(place.eastM, place.northM) + seen.all(place);
  });
  const last = (reckoning.legs.at(-1) as (typeof reckoning.legs)[number]).bearing * DEG;
  const places = found.map((place): TrackPlace => {
    const share = density.share(place.eastM, place.northM);
    const [e, n] = [place.eastM - share * stretch[0], place.northM - share * stretch[1]];
    const beyondM = e * Math.sin(last) + n * Math.cos(last);
    const rightM = e * Math.cos(last) - n * Math.sin(last);
    const deviations = Math.sqrt(density.squared(place.eastM, place.northM));
    const startedM = stretchM > 0 ? share * stretchM : null;
    const why = words.trackReason(place.line, beyondM, rightM, deviations, startedM, unit);
    return { ...place, beyondM, rightM, deviations, startedM, onward: onwardFrom(place.at, next), why };
  });
  const names = [...kinds].map(kindWord);
  return {
    reckoned: end,
    places,
    warnings: [
      ...warningsOf(places, clues, seen.deviations, names),
      ...(ground.map.blind(box).length > 0 ? [words.blindWords] : []),
      ...reckoning.notes,
    ],
  };
}

function onwardFrom(at: LonLat, next: LonLat | null): TrackPlace["onward"] {
  if (!next) return null;
  const { bearing, distanceM } = inverse(at, next);
  return distanceM > 0 ? { bearing, distanceM } : null;
}

function warningsOf(
  places: readonly TrackPlace[],
  clues: readonly Clue[],
  deviationsAt: (place: LikelyPlace) => number[],
  names: readonly string[],
): string[] {
  const [best] = places;
  if (!best) return [words.nothingThere(names)];
  const found: string[] = [];
  if (best.deviations > DISAGREES) found.push(words.farOffWords(names, best.deviations));
  deviationsAt(best).forEach((deviations, i) => {
    if (deviations > DISAGREES)
      found.push(words.disagreesWords(words.clueWord[(clues[i] as Clue).what], deviations));
  });
  const alike = places.filter(({ probability }) => probability >= AS_LIKELY * best.probability).length;
  if (alike > 1) found.push(words.severalWords(alike));
  return found;
}

function checkKinds(kinds: ReadonlySet<Kind>): void {
  const odd = [...kinds].find((kind) => !LEG_LINE_KINDS.has(kind));
  if (kinds.size > 0 && odd === undefined) return;
  throw new Fault(
    "bad-argument",
    odd === undefined
      ? "Nothing was said of what you stand at."
      : `A ${kindWord(odd)} is no line to stand at.`,
    null,
    "Choose a line that can be told on the ground, such as a stream, a path or a wall.",
  );
}
