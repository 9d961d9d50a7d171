/** What a map says of itself, in its archives' metadata. */
import { ROLES, type Role } from "../map/kinds.ts";
import type { RoleBinding } from "../map/metadata.ts";
import type { ModelGrid } from "../terrain/model-cells.ts";
import type { Bbox } from "../units/position.ts";
import { CONTOUR_LABELS } from "./contour-tiles.ts";
import { DATA_EDGE } from "./data-edge.ts";
import type { FeatureStore, Fields } from "./feature-store.ts";
import type { HeightSource } from "./height-source.ts";
import type { Interval } from "./interval.ts";
import { FILLED } from "./tile-feature.ts";

/** Fields of the contour layer. */
export const contourFields = (): Fields => ({ ele: "Number", index: "Boolean", depression: "Boolean" });

/** Which fields our layers have. Source of the shape: TileJSON 3.0.0, vector_layers. */
export function vectorLayers(
  given: FeatureStore["layers"],
  contour: Fields | null,
): { id: string; fields: Fields }[] {
  const layers = new Map<string, Fields>(contour ? [["contour", contour]] : []);
  for (const [role, { fields }] of given) layers.set(role, { ...layers.get(role), ...fields });
  return ROLES.filter((role) => layers.has(role)).map((id) => ({ id, fields: layers.get(id) ?? {} }));
}

/** Layers that play no role of things on the ground. */
export const extraLayers = (contours: boolean, filled: boolean): { id: string; fields: Fields }[] => [
  ...(contours ? [{ id: CONTOUR_LABELS, fields: { ele: "Number", angle: "Number" } }] : []),
  { id: DATA_EDGE, fields: { kind: "String" } },
  ...(filled ? [{ id: FILLED, fields: { kind: "String" } }] : []),
];

export function bindings(
  layers: ReturnType<typeof vectorLayers>,
  unit: Interval["unit"],
): Partial<Record<Role, RoleBinding>> {
  const roles: Partial<Record<Role, RoleBinding>> = {};
  for (const { id, fields } of layers)
    roles[id as Role] = {
      layer: id,
      ...("name" in fields && { name: "name" }),
      ...("ele" in fields && { elevation: "ele", unit }),
      ...("index" in fields && { index: "index" }),
    };
  return roles;
}

/** A short name for equal inputs. FNV-1a, 32 bits, twice. */
export function madeId(text: string): string {
  let a = 0x811c9dc5;
  let b = 0x01234567;
  for (let i = 0; i < text.length; i++) {
    a = Math.imul(a ^ text.charCodeAt(i), 0x01000193);
    b = Math.imul(b ^ text.charCodeAt(i), 0x85ebca6b);
  }
  return [a, b].map((n) => (n >>> 0).toString(16).padStart(8, "0")).join("");
}

/** The grid as `ModelGrid` of the terrain reader wants it. */
export const gridMember = ({ crs, origin, step, columns, rows }: HeightSource): ModelGrid => ({
  proj: crs.proj,
  origin,
  step,
  columns,
  rows,
});

/** Where to look first: the middle, at a zoom that shows most of the map on a screen of about 1000 pixels. */
export function middleOf(bounds: Bbox, maxZoom: number): { lonLat: readonly [number, number]; zoom: number } {
  const [west, south, east, north] = bounds;
  const fits = Math.floor(Math.log2((360 / Math.max(east - west, north - south, 1e-6)) * 2));
  return { lonLat: [(west + east) / 2, (south + north) / 2], zoom: Math.min(maxZoom, Math.max(0, fits)) };
}
