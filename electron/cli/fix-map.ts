/** `fix on-line` and `fix back-on-track`: likely places on the map's lines. */
import { Fault } from "../../core/fault.ts";
import { backOnTrack, backOnTrackBox, type TrackPlace } from "../../core/fix/back-on-track.ts";
import type { Clue } from "../../core/fix/clues.ts";
import { type ReckoningSettings, USUAL_RECKONING } from "../../core/fix/dead-reckoning.ts";
import { fixOnLine } from "../../core/fix/on-line.ts";
import type { LikelyPlace } from "../../core/fix/places-along.ts";
import { type FixSettings, HAND_COMPASS_DEG, northsOf } from "../../core/fix/sighting.ts";
import { FIX_CAUTIONS } from "../../core/fix/words.ts";
import { formatPosition } from "../../core/geodesy/format-position.ts";
import { INVENTED } from "../../core/legs/cautions.ts";
import { DEFAULT_LEG_SETTINGS } from "../../core/legs/leg-settings.ts";
import { kindWord, LEG_LINE_KINDS } from "../../core/legs/line-kinds.ts";
import type { Kind } from "../../core/map/kinds.ts";
import { type Ground, prepareGround } from "../../core/terrain/ground.ts";
import { trueBearing, trueToMagnetic } from "../../core/units/angle.ts";
import { formatBearing, formatLength, formatShare } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import { growBbox, type LonLat } from "../../core/units/position.ts";
import {
  type FixOptions,
  fixSettingsOf,
  nearOf,
  numberOf,
  placeOf,
  readFacing,
  readLeg,
  readSighting,
} from "./fix-read.ts";
import { openGroundAt } from "./map-files.ts";
import { deliver } from "./product.ts";
import { row } from "./rows.ts";

interface OnMapOptions extends FixOptions {
  readonly map: string;
  readonly at: readonly string[];
  readonly bearing?: readonly string[];
  readonly error?: string;
  readonly elevation?: string;
  readonly slope?: string;
  readonly facing?: string;
}

export interface OnLineOptions extends OnMapOptions {
  readonly around: string;
  readonly within?: string;
}

/** `fix on-line`: the place on a line of the map, from one bearing or a height. */
export async function fixOnMapLine(options: OnLineOptions): Promise<void> {
  const around = placeOf(options.around, nearOf(options));
  const kinds = kindsOf(options.at);
  const settings = await fixSettingsOf(options, around);
  const clues = cluesOf(options, around);
  const reachM = parseLength(options.within ?? "3km");
  const ground = await openGroundAt(options.map);
  const box = growBbox([around[0], around[1], around[0], around[1]], reachM);
  await prepareGround(ground, box);
  const lines = ground.map.lines(box, kinds);
  if (lines.length === 0)
    throw new Fault(
      "bad-argument",
      `The map shows no ${[...kinds].map(kindWord).join(" or ")} within ${formatLength(reachM)}.`,
      null,
      "Look farther with --within, or choose another line.",
    );
  const { places, warnings } = fixOnLine(lines, clues, ground.elevation, settings);
  const told = places.map((place) => ({ ...told1(place), sight: place.sight, why: place.why }));
  await report(options, settings, ground, told, warnings, []);
}

export interface BackOnTrackOptions extends OnMapOptions {
  readonly from: string;
  readonly orUpTo?: string;
  readonly leg: readonly string[];
  readonly pace?: string;
  readonly next?: string;
}

/** `fix back-on-track`: "I walked so many paces on this bearing and stand at a stream". */
export async function fixBackOnTrack(options: BackOnTrackOptions): Promise<void> {
  const near = nearOf(options);
  const from = placeOf(options.from, near);
  const walked = {
    from,
    orUpTo: options.orUpTo === undefined ? null : placeOf(options.orUpTo, from),
    legs: options.leg.map(readLeg),
  };
  const stood = {
    kinds: kindsOf(options.at),
    clues: cluesOf(options, from),
    next: options.next === undefined ? null : placeOf(options.next, from),
  };
  const settings: ReckoningSettings = {
    ...(await fixSettingsOf(options, from)),
    spread: USUAL_RECKONING,
    pacesPer100m: numberOf(options.pace, DEFAULT_LEG_SETTINGS.pacesPer100m, "--pace"),
  };
  const ground = await openGroundAt(options.map);
  await prepareGround(ground, backOnTrackBox(walked, settings));
  const { places, warnings, reckoned } = backOnTrack(walked, stood, ground, settings);
  const told = places.map((place) => ({
    ...told1(place),
    beyondM: place.beyondM,
    rightM: place.rightM,
    deviations: place.deviations,
    startedM: place.startedM,
    onward: onwardOf(place, settings),
    why: place.why,
  }));
  await report(options, settings, ground, told, warnings, [
    row("Count ends at", formatPosition(reckoned.at, "dd")),
  ]);
}

/** A place without its line's coordinates. */
const told1 = ({ at, line, probability, alongSdM, from, to }: LikelyPlace) => ({
  at,
  kind: line.kind,
  name: line.name,
  probability,
  alongSdM,
  from,
  to,
});

function onwardOf({ at, onward }: TrackPlace, settings: FixSettings): Onward | null {
  if (!onward) return null;
  const { declinationDeg } = northsOf(settings, ["magnetic"], at)(at);
  return {
    bearingTrueDeg: onward.bearing,
    bearingMagneticDeg: trueToMagnetic(trueBearing(onward.bearing), declinationDeg),
    distanceM: onward.distanceM,
  };
}

interface Onward {
  readonly bearingTrueDeg: number;
  readonly bearingMagneticDeg: number;
  readonly distanceM: number;
}

interface Told extends ReturnType<typeof told1> {
  readonly why: string;
  readonly onward?: Onward | null;
}

async function report(
  { format }: FixOptions,
  { date }: FixSettings,
  ground: Ground,
  places: readonly Told[],
  warnings: readonly string[],
  first: readonly string[],
): Promise<void> {
  const { title, invented } = ground.map.info;
  const cautions = [...(invented ? [INVENTED] : []), ...FIX_CAUTIONS];
  if (format === "json") {
    await deliver(
      `${JSON.stringify({ date, map: { title, invented }, places, warnings, cautions }, null, 2)}\n`,
      undefined,
    );
    return;
  }
  const rows = [
    row("Day", date),
    row("Map", title),
    ...first,
    ...places.flatMap(({ at, probability, why, onward }, i) => [
      row(
        `Place ${i + 1}`,
        `${formatPosition(at, "dd")}, ${formatPosition(at, "mgrs")}: ${formatShare(probability)} of the chance on these lines`,
      ),
      row("", why),
      ...(onward
        ? [
            row(
              "",
              `From there ${formatBearing(onward.bearingMagneticDeg)} magnetic (${formatBearing(onward.bearingTrueDeg)} true), ${formatLength(onward.distanceM)}, to the next point.`,
            ),
          ]
        : []),
    ]),
    ...warnings.map((warning) => row("Warning", warning)),
    ...cautions.map((caution) => row("Caution", caution)),
  ];
  await deliver(rows.map((line) => `${line}\n`).join(""), undefined);
}

function cluesOf(
  { bearing = [], error, elevation, slope, facing, ...options }: OnMapOptions,
  near: LonLat,
): Clue[] {
  const errorDeg = numberOf(error, HAND_COMPASS_DEG, "--error");
  return [
    ...bearing.map((text): Clue => ({
      what: "sight",
      sighting: readSighting(text, "to", errorDeg, nearOf(options) ?? near),
    })),
    ...(elevation === undefined ? [] : [{ what: "height", elevationM: parseLength(elevation) } as const]),
    ...(slope === undefined ? [] : [{ what: "slope", deg: numberOf(slope, 0, "--slope") } as const]),
    ...(facing === undefined ? [] : [{ what: "facing", ...readFacing(facing) } as const]),
  ];
}

/** "stream", "wood edge", "woodEdge" @throws Fault "bad-argument" for what is no line */
function kindsOf(texts: readonly string[]): ReadonlySet<Kind> {
  return new Set(
    texts.map((text) => {
      const asked = text.trim().toLowerCase();
      const kind = [...LEG_LINE_KINDS].find((k) => k.toLowerCase() === asked || kindWord(k) === asked);
      if (kind) return kind;
      throw new Fault(
        "bad-argument",
        `“${text}” is no line to stand at.`,
        null,
        `Name one of ${[...LEG_LINE_KINDS].map(kindWord).join(", ")}.`,
      );
    }),
  );
}
