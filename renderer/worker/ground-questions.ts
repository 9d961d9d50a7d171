/** Questions about one place on the open map: what the ground there is, and which landmarks can be seen from it. */
import { Fault } from "../../core/fault.ts";
import type { Ground } from "../../core/terrain/ground.ts";
import { placesInView, sightBox, type PlaceInView } from "../../core/terrain/in-view.ts";
import { LANDFORM_REACH_M } from "../../core/terrain/landforms/landform.ts";
import { type NamedLandform, nameLandformAt } from "../../core/terrain/landforms/name-landform.ts";
import { type GroundSlope, slopeAt } from "../../core/terrain/slope-at.ts";
import { inverse } from "../../core/geodesy/geodesic.ts";
import { growBbox, type LonLat } from "../../core/units/position.ts";
import { type NamedPlace, namedPlaces } from "../find/named-places.ts";

/** Names are looked for this far around; farther off a hill is seldom known for sure. No source. */
export const LANDMARKS_WITHIN_M = 10_000;
/**
 * A summit seen but for so much of it is seen, metres: named at a map's spot, it often lies behind its own crown by less,
 * and the bearing to the crown is the same. No source.
 */
export const CROWN_M = 2;

export interface GroundReading {
  readonly landform: NamedLandform;
  /** Metres above the map's datum; null where not known, or where the map has contours alone. */
  readonly elevationM: number | null;
  readonly slope: GroundSlope | null;
}

export type Landmark = PlaceInView<NamedPlace>;

export interface Landmarks {
  /** Those in view first, then those of which it is not known, then those hidden. */
  readonly found: readonly Landmark[];
  /** How many named summits and spots there were to look at, those left out included. */
  readonly named: number;
}

/** Nearer a bearing says little about where one stands. No source. */
const LANDMARKS_FROM_M = 150;
/** Each costs a line of heights to it. */
const MOST_LANDMARKS = 30;

const boxAround = ([lon, lat]: LonLat, reachM: number) => growBbox([lon, lat, lon, lat], reachM);

export async function groundAt(ground: Ground, lonLat: LonLat, signal: AbortSignal): Promise<GroundReading> {
  const { map, elevation } = ground;
  const box = boxAround(lonLat, LANDFORM_REACH_M + 200);
  await Promise.all([map.prepare(box, signal), elevation?.prepare(box, signal)]);
  const height = elevation?.at(lonLat) ?? Number.NaN;
  return {
    landform: nameLandformAt(ground, lonLat),
    elevationM: Number.isFinite(height) ? height : null,
    slope: elevation && slopeAt(elevation, lonLat),
  };
}

/**
 * Landmarks are what stands where its name is: summits first, then other spots, each the nearest first. What is named over
 * an area or along a line has no one place to take a bearing on.
 */
export async function landmarksFrom(ground: Ground, from: LonLat, signal: AbortSignal): Promise<Landmarks> {
  const { map, elevation } = ground;
  const box = boxAround(from, LANDMARKS_WITHIN_M);
  await map.prepare(box, signal);
  const named = namedPlaces(map, box)
    .filter(({ spot, kind }) => spot && kind !== "place")
    .map((place) => ({ place, farM: inverse(from, place.lonLat).distanceM }))
    .filter(({ farM }) => farM >= LANDMARKS_FROM_M && farM <= LANDMARKS_WITHIN_M)
    .sort((a, b) => rank(a.place) - rank(b.place) || a.farM - b.farM);
  const found: Landmark[] = [];
  for (const { place } of named.slice(0, MOST_LANDMARKS)) {
    // One line at a time: other questions, and giving up, come in between.
    if (elevation) await elevation.prepare(sightBox(from, place.lonLat), signal);
    if (signal.aborted) throw new Fault("cancelled", "Cancelled.");
    found.push(...placesInView(ground, from, [place], { fromM: 0, toM: Infinity, targetM: CROWN_M }));
  }
  const view = ({ sight }: Landmark): number =>
    sight.targetVisible === null ? 1 : sight.targetVisible ? 0 : 2;
  return {
    found: found.sort(
      (a, b) => view(a) - view(b) || rank(a.place) - rank(b.place) || a.distanceM - b.distanceM,
    ),
    named: named.length,
  };
}

const rank = ({ kind }: NamedPlace): number => (kind === "peak" ? 0 : 1);
