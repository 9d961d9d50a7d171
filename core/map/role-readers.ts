/** Role bindings made ready for reading features: which layers to look into, and what their fields say. */
import type { Attributes } from "./features.ts";
import { type ReadAs, ROLES } from "./kinds.ts";
import { type LayerBinding, layersOfRole, type MapInfo } from "./metadata.ts";

/** Challenger Deep −10 935 m, Mount Everest 8 849 m. */
const LOWEST_M = -12_000;
const HIGHEST_M = 9_000;
const METRES_PER_FOOT = 0.3048; // exact: international foot, 1959

export interface FeatureReader {
  readonly role: ReadAs;
  /** Other layers play the role as well, and may hold the same features. */
  readonly shared: boolean;
  /** Null where the feature has no name. */
  name(attributes: Attributes): string | null;
  /** Metres; NaN where the feature does not say, or says what no ground on earth has. */
  elevationM(attributes: Attributes): number;
  index(attributes: Attributes): boolean;
}

interface Choice {
  readonly reader: FeatureReader;
  /** Any of these is enough; none asked for: every feature of the layer. */
  readonly conditions: readonly {
    readonly field: string;
    readonly values: ReadonlySet<string | number | boolean>;
  }[];
}

/** By layer name: the roles it may play, those with a condition first. */
export type LayerReaders = ReadonlyMap<string, readonly Choice[]>;

export function layerReaders(info: Pick<MapInfo, "roles" | "interval" | "filled">): LayerReaders {
  const layers = new Map<string, Choice[]>();
  for (const role of ROLES) {
    const binding = info.roles[role];
    if (!binding) continue;
    const bindings = layersOfRole(binding);
    for (const one of bindings) {
      const choice: Choice = {
        reader: featureReader(role, one, info.interval, bindings.length > 1),
        conditions: [...(one.where ? [one.where] : []), ...(one.orWhere ?? [])].map((c) => ({
          field: c.field,
          values: new Set(c.in),
        })),
      };
      layers.set(one.layer, [...(layers.get(one.layer) ?? []), choice]);
    }
  }
  if (info.filled !== undefined)
    layers.set(info.filled, [
      { reader: featureReader("filled", { layer: info.filled }, null, false), conditions: [] },
    ]);
  for (const choices of layers.values())
    choices.sort((a, b) => Number(a.conditions.length === 0) - Number(b.conditions.length === 0));
  return layers;
}

/** The reader for a feature; null when it plays no role. */
export function readersFor(choices: readonly Choice[], attributes: Attributes): FeatureReader | null {
  for (const { reader, conditions } of choices) {
    if (conditions.length === 0) return reader;
    for (const { field, values } of conditions) {
      const value = attributes[field];
      if (value !== undefined && values.has(value)) return reader;
    }
  }
  return null;
}

function featureReader(
  role: ReadAs,
  binding: LayerBinding,
  interval: MapInfo["interval"],
  shared: boolean,
): FeatureReader {
  const nameField = binding.name ?? "name";
  const { elevation, index } = binding;
  const perUnit = binding.unit === "ft" ? METRES_PER_FOOT : 1;
  const raw = (attributes: Attributes): number => {
    const value = elevation === undefined ? undefined : attributes[elevation];
    if (typeof value === "number") return value;
    return typeof value === "string" && value.trim() !== "" ? Number(value) : Number.NaN;
  };
  return {
    role,
    shared,
    name(attributes) {
      const name = attributes[nameField];
      return typeof name === "string" && name !== "" ? name : null;
    },
    elevationM(attributes) {
      const value = raw(attributes) * perUnit;
      return value >= LOWEST_M && value <= HIGHEST_M ? value : Number.NaN;
    },
    index(attributes) {
      if (role !== "contour") return false;
      if (index !== undefined)
        return attributes[index] === true || attributes[index] === 1 || attributes[index] === "true";
      // Every fifth contour is the usual index contour, where the map says its interval but not which they are.
      const step = interval && interval.unit === (binding.unit ?? "m") ? interval.value * 5 : Number.NaN;
      return Math.abs(raw(attributes) % step) < 1e-6;
    },
  };
}
