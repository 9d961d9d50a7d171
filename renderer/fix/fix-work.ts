/** The worker's part: which line lies at a place, where one may stand on it, and where after a count. */
import { Fault } from "../../core/fault.ts";
import { backOnTrack, backOnTrackBox } from "../../core/fix/back-on-track.ts";
import { fixOnLine } from "../../core/fix/on-line.ts";
import type { LikelyPlace } from "../../core/fix/places-along.ts";
import { legFrame } from "../../core/geodesy/leg-frame.ts";
import { frameLines, nearestOn } from "../../core/legs/aids/framed-line.ts";
import { isGroundShape, kindWord } from "../../core/legs/line-kinds.ts";
import type { LineFeature } from "../../core/map/features.ts";
import type { Kind } from "../../core/map/kinds.ts";
import type { Ground } from "../../core/terrain/ground.ts";
import { growBbox, type LonLat } from "../../core/units/position.ts";
import type { LineNear, OnLineQuestion, Spot, Spots, TrackQuestion } from "./fix-messages.ts";
import { STOOD_AT } from "./stood-at.ts";

/** A line is followed so far from where it was picked; the same reach as on the command line. No source. */
export const LINE_WITHIN_M = 3_000;
/** Farther than the last pixel, and than the rounding of tiles. */
const SAME_PLACE_M = 5;

const KINDS: ReadonlySet<Kind> = new Set(STOOD_AT.flat());

const around = ([lon, lat]: LonLat, reachM: number) => growBbox([lon, lat, lon, lat], reachM);

/** Lines with how far off a place they are, nearest first. */
function linesBy(lines: readonly LineFeature[], at: LonLat) {
  const frame = legFrame(at, at);
  return frameLines(frame, lines)
    .map((framed) => {
      const { place, offM } = nearestOn(framed, 0, 0);
      const vertex = Math.min(framed.count - 2, Math.floor(place));
      const between = (k: number): number =>
        (framed.st[2 * vertex + k] as number) * (1 - place + vertex) +
        (framed.st[2 * vertex + 2 + k] as number) * (place - vertex);
      return { line: framed.line, offM, on: frame.toLonLat(between(0), between(1)) };
    })
    .sort((a, b) => a.offM - b.offM);
}

/** The nearest line within reach that can be told on the ground; the ground's shape alone only where nothing else is. */
export async function lineNear(
  { map }: Ground,
  at: LonLat,
  reachM: number,
  signal: AbortSignal,
): Promise<LineNear | null> {
  const box = around(at, reachM);
  await map.prepare(box, signal);
  const near = linesBy(map.lines(box, KINDS), at).filter(({ offM }) => offM <= reachM);
  const best = near.find(({ line }) => !isGroundShape(line.kind)) ?? near[0];
  return best ? { kind: best.line.kind, name: best.line.name, lonLat: best.on } : null;
}

/** The line meant: all pieces of its name, or the one that runs there. */
function meant(lines: readonly LineFeature[], { name, lonLat }: LineNear): readonly LineFeature[] {
  if (name !== null) return lines.filter((line) => line.name === name);
  return linesBy(lines, lonLat)
    .filter(({ offM }, i) => i === 0 || offM <= SAME_PLACE_M)
    .map(({ line }) => line);
}

export async function spotsOnLine(
  ground: Ground,
  { line, any, clues, settings, unit }: OnLineQuestion,
  signal: AbortSignal,
): Promise<Spots> {
  const { map, elevation } = ground;
  const box = around(line.lonLat, LINE_WITHIN_M);
  await Promise.all([map.prepare(box, signal), elevation?.prepare(box, signal)]);
  const all = map.lines(box, new Set([line.kind]));
  const lines = any ? all : meant(all, line);
  if (lines.length === 0)
    throw new Fault(
      "bad-argument",
      `The map no longer shows this ${kindWord(line.kind)}.`,
      null,
      "Pick it again.",
    );
  const { places, warnings } = fixOnLine(lines, clues, elevation, settings, unit);
  return { spots: places.map((place) => spot(place, place.why, null)), warnings, reckoned: null };
}

export async function spotsAfterWalk(
  ground: Ground,
  { walked, kinds, clues, next, settings, unit }: TrackQuestion,
  signal: AbortSignal,
): Promise<Spots> {
  const { map, elevation } = ground;
  const box = backOnTrackBox(walked, settings);
  await Promise.all([map.prepare(box, signal), elevation?.prepare(box, signal)]);
  const stood = { kinds: new Set(kinds), clues, next };
  const { places, warnings, reckoned } = backOnTrack(walked, stood, ground, settings, unit);
  return { spots: places.map((place) => spot(place, place.why, place.onward)), warnings, reckoned };
}

const spot = ({ at, probability, stretches }: LikelyPlace, why: string, onward: Spot["onward"]): Spot => ({
  at,
  probability,
  stretches,
  why,
  onward,
});
