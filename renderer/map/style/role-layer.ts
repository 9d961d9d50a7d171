/** From "which layer of the archive plays a role" to filters and expressions of a map style. */
import type { ExpressionSpecification, FilterSpecification, LayerSpecification } from "maplibre-gl";
import type { Role } from "../../../core/map/kinds.ts";
import { type LayerBinding, layersOfRole, type MapInfo } from "../../../core/map/metadata.ts";
import type { MapColours } from "../../theme/map-colours.ts";

export const MAP_SOURCE = "map";

/** What every layer of the style is made from. */
export interface StyleContext {
  readonly info: MapInfo;
  readonly colours: MapColours;
}

type LayerOf<T extends LayerSpecification["type"]> = Extract<LayerSpecification, { type: T }>;
/** A layer but for where its features come from. */
type Look<T extends LayerSpecification["type"]> = Omit<
  LayerOf<T>,
  "id" | "type" | "source" | "source-layer" | "filter"
>;

type Condition = ExpressionSpecification;

function conditionOf(binding: LayerBinding): Condition | null {
  const [first, ...others] = [...(binding.where ? [binding.where] : []), ...(binding.orWhere ?? [])].map(
    ({ field, in: values }): Condition => ["in", ["get", field], ["literal", [...values]]],
  );
  return first && others.length > 0 ? ["any", first, ...others] : (first ?? null);
}

/** All conditions that hold; the filter of a layer. */
export function allOf(...conditions: readonly (Condition | null)[]): FilterSpecification | undefined {
  const some = conditions.filter((condition) => condition !== null);
  if (some.length === 0) return undefined;
  return some.length === 1 ? some[0] : ["all", ...some];
}

/**
 * One layer of the style for each layer of the map that plays a role; none when the map does not have the role.
 * @param part tells several layers of one role apart
 * @param only a further condition, made from the role's binding
 */
export function roleLayer<T extends "line" | "fill" | "symbol" | "circle">(
  { info }: StyleContext,
  role: Role,
  part: string,
  type: T,
  look: Look<T>,
  only: ((binding: LayerBinding) => Condition | null) | null = null,
): LayerSpecification[] {
  const binding = info.roles[role];
  if (!binding) return [];
  return layersOfRole(binding).map((one, i) => {
    const filter = allOf(conditionOf(one), only?.(one) ?? null);
    // The pieces make a layer of the type by construction; the compiler cannot follow the generic.
    return {
      id: i === 0 ? `${role}-${part}` : `${role}-${part}-${i + 1}`,
      type,
      source: MAP_SOURCE,
      "source-layer": one.layer,
      ...(filter ? { filter } : {}),
      ...look,
    } as unknown as LayerSpecification;
  });
}

/** Whether a contour is an index contour: by its field, else every fifth by elevation, else none. */
export function isIndexContour(info: MapInfo): ExpressionSpecification {
  const binding = info.roles.contour;
  if (binding?.index) {
    const value: ExpressionSpecification = ["get", binding.index];
    return ["any", ["==", value, true], ["==", value, 1], ["==", ["to-string", value], "true"]];
  }
  if (binding?.elevation && info.interval)
    return ["==", ["%", ["to-number", ["get", binding.elevation], 1], info.interval.value * 5], 0];
  return ["literal", false] as unknown as ExpressionSpecification;
}

/** Width in pixels by zoom: thin far off, as given at zoom 14, and growing gently closer in. */
export function width(at14: number): ExpressionSpecification {
  return ["interpolate", ["exponential", 1.4], ["zoom"], 9, at14 * 0.4, 14, at14, 18, at14 * 1.9];
}

export const classIs = (...classes: readonly string[]): Condition => [
  "in",
  ["get", "class"],
  ["literal", [...classes]],
];
export const classIsNot = (...classes: readonly string[]): Condition => ["!", classIs(...classes)];
