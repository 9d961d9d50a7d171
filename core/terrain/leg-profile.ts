/** The ground along a leg, from terrain tiles where there are any, else from contours alone. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import { crossingsOf } from "../map/crossings.ts";
import type { MapFeatures } from "../map/features.ts";
import type { Kind } from "../map/kinds.ts";
import { type Bbox, bboxOf, growBbox } from "../units/position.ts";
import { contourProfile } from "./contour-profile.ts";
import type { ElevationModel } from "./elevation.ts";
import type { Ground } from "./ground.ts";
import { blindStretches, type Profile } from "./profile.ts";

const CONTOURS: ReadonlySet<Kind> = new Set<Kind>(["contour"]);
/** A leg of 40 km over samples 10 m apart. */
const MOST_STEPS = 8192;

/**
 * Heights along a leg. From terrain tiles: evenly spaced at half the spacing of the samples or closer (up to 8192
 * steps), and at every contour crossed. From contours: see `contourProfile`. Never longer or shorter than the leg.
 * The ground must have been prepared for the leg's box; where it was not, heights are missing.
 */
export function profileOf(ground: Ground, frame: LegFrame): Profile {
  const { map, elevation } = ground;
  if (elevation) {
    const profile = terrainProfile(map, elevation, frame);
    // Terrain tiles that cover nothing of the leg leave it to the contours.
    if (profile.from) return profile;
  }
  return contourProfile(map, frame);
}

function terrainProfile(map: MapFeatures, elevation: ElevationModel, frame: LegFrame): Profile {
  const { lengthM } = frame;
  const stepM = elevation.spacingM(Math.max(Math.abs(frame.from[1]), Math.abs(frame.to[1]))) / 2;
  const steps = Math.max(1, Math.min(MOST_STEPS, Math.ceil(lengthM / stepM)));
  const at = new Set<number>();
  for (let i = 0; i <= steps; i++) at.add((lengthM * i) / steps);
  for (const d of contoursCrossedAt(map, frame)) at.add(d);
  const distanceM = Float64Array.from(at).sort();
  const elevationM = distanceM.map((d) =>
    elevation.at(d === 0 ? frame.from : d === lengthM ? frame.to : frame.toLonLat(d, 0)),
  );
  return {
    from: elevationM.some((h) => !Number.isNaN(h)) ? "terrain" : null,
    distanceM,
    elevationM,
    errorM: null,
    blind: blindStretches(distanceM, elevationM),
  };
}

function contoursCrossedAt(map: MapFeatures, frame: LegFrame): number[] {
  // A leg bows out of the box of its ends by less than this.
  const box = growBbox(bboxOf([frame.from, frame.to]) as Bbox, 1 + frame.lengthM ** 2 / 2e7);
  const prepared = [box, bboxOf([frame.from, frame.to]) as Bbox].find((b) => map.isPrepared(b));
  return prepared ? crossingsOf(frame, map.lines(prepared, CONTOURS)).map((c) => c.atM) : [];
}
