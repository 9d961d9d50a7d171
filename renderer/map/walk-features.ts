/** The walk and the aids of one leg as features for the map. Pure: the same walk gives the same picture. */
import { legFrame } from "../../core/geodesy/leg-frame.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { DEG } from "../../core/units/angle.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { Walk } from "../../core/walk/walk.ts";

export interface WalkPicture {
  readonly walk: Walk;
  /** Leg on the slip, counting from 0. */
  readonly shownLeg: number | null;
  readonly pointedLeg: number | null;
  /** Figures of the shown leg, for its aids. */
  readonly figures: LegFigures | null;
  /** Half-angle of the drift cone, degrees. */
  readonly driftDeg: number;
  /** Where the pointer is while it would add a point; null when it would not. */
  readonly rubberTo: LonLat | null;
}

export type What = "leg" | "picked-leg" | "pointed-leg" | "follow" | "stop" | "drift" | "rubber";

const feature = (what: What, geometry: GeoJSON.Geometry, leg: number | null = null): GeoJSON.Feature => ({
  type: "Feature",
  properties: { what, leg },
  geometry,
});

const lineOf = (positions: readonly LonLat[]): GeoJSON.LineString => ({
  type: "LineString",
  coordinates: positions.map(([lon, lat]) => [lon, lat]),
});

function stretch(flat: Float64Array): GeoJSON.LineString {
  const coordinates: [number, number][] = [];
  for (let i = 0; i + 1 < flat.length; i += 2) coordinates.push([flat[i] as number, flat[i + 1] as number]);
  return { type: "LineString", coordinates };
}

/** How far beyond the target the cone is drawn when nothing stops the walker, as a share of the leg. */
const BEYOND_SHARE = 0.12;

/** Where a walker who drifts may be: a wedge from the start, past the target to what stops them. */
export function driftCone(
  from: LonLat,
  to: LonLat,
  driftDeg: number,
  beyondM: number | null,
): GeoJSON.Polygon | null {
  const frame = legFrame(from, to);
  if (frame.lengthM < 1) return null;
  const reach = frame.lengthM + (beyondM ?? frame.lengthM * BEYOND_SHARE);
  const ring: LonLat[] = [from];
  const steps = 8;
  for (let i = -steps; i <= steps; i++) {
    const angle = (driftDeg * i * DEG) / steps;
    ring.push(frame.toLonLat(reach * Math.cos(angle), reach * Math.sin(angle)));
  }
  ring.push(from);
  return { type: "Polygon", coordinates: [ring.map(([lon, lat]) => [lon, lat])] };
}

export function walkFeatures(picture: WalkPicture): GeoJSON.FeatureCollection {
  const { walk, shownLeg, pointedLeg, figures, driftDeg, rubberTo } = picture;
  const features: GeoJSON.Feature[] = [];
  const at = (i: number): LonLat | undefined => walk.points[i]?.lonLat;

  for (let leg = 0; leg + 1 < walk.points.length; leg++) {
    const [from, to] = [at(leg) as LonLat, at(leg + 1) as LonLat];
    if (leg !== shownLeg)
      features.push(feature(leg === pointedLeg ? "pointed-leg" : "leg", lineOf([from, to]), leg));
  }

  if (shownLeg !== null) {
    const [from, to] = [at(shownLeg), at(shownLeg + 1)];
    if (from && to) {
      const cone = driftCone(from, to, driftDeg, figures?.backstop?.beyondM ?? null);
      if (cone) features.push(feature("drift", cone));
      features.push(feature("picked-leg", lineOf([from, to]), shownLeg));
    }
    for (const rail of figures?.handrails.slice(0, 1) ?? [])
      for (const flat of rail.stretches) features.push(feature("follow", stretch(flat)));
    for (const flat of figures?.backstop?.stretches ?? []) features.push(feature("stop", stretch(flat)));
  }

  const last = walk.points.at(-1)?.lonLat;
  if (last && rubberTo) features.push(feature("rubber", lineOf([last, rubberTo])));
  return { type: "FeatureCollection", features };
}
