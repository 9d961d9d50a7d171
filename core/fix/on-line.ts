/**
 * One known line and one bearing, or another clue: the place on a stream, path or wall from where a summit stands on a bearing,
 * an altimeter shows a height, or the ground falls one way.
 */
import { Fault } from "../fault.ts";
import { legFrame } from "../geodesy/leg-frame.ts";
import type { LineFeature } from "../map/features.ts";
import type { ElevationModel } from "../terrain/elevation.ts";
import { DEG } from "../units/angle.ts";
import type { LengthUnit } from "../units/format.ts";
import type { LonLat } from "../units/position.ts";
import { type Clue, cluesDensity, evenNorths, sightOff } from "./clues.ts";
import { NARROW_DEG } from "./judge.ts";
import { type LikelyPlace, placesAlong } from "./places-along.ts";
import { fromKnown } from "./rays.ts";
import { type FixSettings, nameOf, northsOf, trueOf } from "./sighting.ts";
import * as words from "./words.ts";

export interface LinePlace extends LikelyPlace {
  /** The bearing, if one was given: how far it is off here, and at what angle its line crosses, 0–90°. */
  readonly sight: {
    readonly residualDeg: number;
    readonly distanceM: number;
    readonly crossingDeg: number;
  } | null;
  /** How many standard deviations each clue is off here, in the order given. */
  readonly deviations: readonly number[];
  /** A sentence. */
  readonly why: string;
}

export interface LineFix {
  /** Most likely first; the probabilities are of the lines given alone. Empty when the clues go with none: see `warnings`. */
  readonly places: readonly LinePlace[];
  /** Sentences. */
  readonly warnings: readonly string[];
}

/** A clue this many standard deviations off at the best place goes with none. No source. */
export const DISAGREES = 3;
/** A place that a clue is so many standard deviations off is not told at all. No source. */
const CANNOT_BE = 5;
/** Places at least this share as likely as the first are said to be about as likely. No source. */
const AS_LIKELY = 0.5;

/**
 * Likely places on lines, by what is seen from there. Candidates are where the back bearing meets a line; a line it only comes
 * near to counts by how near. Error along the line: the bearing's error times the distance over the sine of the crossing angle.
 * @param lines those one may be standing on
 * @param clues at least one; all must hold together
 * @param elevation for heights and slopes; null when there is none
 * @throws Fault "bad-argument" for no line, no clue, or a clue that cannot be; "out-of-range" when there is no declination
 *   for the day
 */
export function fixOnLine(
  lines: readonly LineFeature[],
  clues: readonly Clue[],
  elevation: ElevationModel | null,
  settings: FixSettings,
  unit: LengthUnit = "metric",
): LineFix {
  const middle = middleOf(lines);
  if (!middle)
    throw new Fault("bad-argument", "There is no line to stand on.", null, "Choose a line on the map.");
  if (clues.length === 0)
    throw new Fault(
      "bad-argument",
      "A line alone gives no place.",
      null,
      "Take a bearing to something known, or read an altimeter.",
    );
  const norths = evenNorths(northsOf(settings, clues.map(northOf), middle), middle);
  const density = cluesDensity(clues, elevation, norths);
  const sighting = clues.find((clue) => clue.what === "sight")?.sighting ?? null;
  const places = placesAlong(lines, legFrame(middle, middle), density.all).map((place): LinePlace => {
    const deviations = density.deviations(place);
    if (!sighting)
      return { ...place, deviations, sight: null, why: words.clueReason(place.line, place.alongSdM, unit) };
    const there = norths(place.at);
    const { residualDeg, distanceM } = sightOff(sighting, there, place.at);
    const ray = {
      known: sighting.known,
      from: "place",
      observed: trueOf(sighting, there),
      errorDeg: 1,
      commonErrorDeg: 0,
    } as const;
    const crossingDeg = Math.asin(Math.abs(Math.sin((fromKnown(ray) - place.lineBearing) * DEG))) / DEG;
    const sight = { residualDeg, distanceM, crossingDeg };
    const why = words.sightReason(
      place.line,
      { name: nameOf(sighting, 0), crossingDeg, residualDeg },
      place.alongSdM,
      unit,
    );
    return { ...place, deviations, sight, why };
  });
  return {
    places: places.filter(({ deviations }) => Math.max(...deviations) <= CANNOT_BE),
    warnings: warningsOf(places, clues),
  };
}

const northOf = (clue: Clue): "magnetic" | "grid" | "true" =>
  clue.what === "sight" ? clue.sighting.north : clue.what === "facing" ? clue.north : "true";

/** Half way along the longest line: a middle near enough to all that one may stand on. */
function middleOf(lines: readonly LineFeature[]): LonLat | null {
  const longest = lines.reduce<LineFeature | null>(
    (most, line) => (line.coords.length > (most?.coords.length ?? 3) ? line : most),
    null,
  );
  if (!longest) return null;
  const vertex = longest.coords.length >> 2;
  return [longest.coords[2 * vertex] as number, longest.coords[2 * vertex + 1] as number];
}

function warningsOf(places: readonly LinePlace[], clues: readonly Clue[]): string[] {
  const [best] = places;
  if (!best) return [];
  const found: string[] = [];
  best.deviations.forEach((deviations, i) => {
    if (deviations > DISAGREES)
      found.push(words.disagreesWords(words.clueWord[(clues[i] as Clue).what], deviations));
  });
  if (best.sight && best.sight.crossingDeg < NARROW_DEG)
    found.push(words.grazingWords(best.sight.crossingDeg));
  const alike = places.filter(({ probability }) => probability >= AS_LIKELY * best.probability).length;
  if (alike > 1) found.push(words.severalWords(alike));
  return found;
}
