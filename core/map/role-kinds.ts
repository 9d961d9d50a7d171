/** What a feature of a role is, by its geometry and class. */
import type { Attributes } from "./features.ts";
import type { Kind, ReadAs } from "./kinds.ts";

/** Big enough to be a river rather than a stream, in the words of common open tile schemas. */
const RIVERS = new Set(["river", "canal"]);
const CLASS_FIELDS = ["class", "subclass", "kind", "pmap:kind", "waterway", "type"];

const LINES: Partial<Record<ReadAs, Kind>> = {
  contour: "contour",
  water: "shore",
  path: "path",
  road: "road",
  rail: "rail",
  wall: "wall",
  fence: "fence",
  powerLine: "powerLine",
  cliff: "cliff",
  wood: "woodEdge",
  boundary: "boundary",
  restricted: "restricted",
  ridge: "ridge",
  valley: "valley",
};

/** Kind of a line; null when such a line says nothing of use. */
export function lineKind(role: ReadAs, attributes: Attributes): Kind | null {
  if (role === "stream")
    return CLASS_FIELDS.some((field) => RIVERS.has(String(attributes[field]))) ? "river" : "stream";
  return LINES[role] ?? null;
}

/** Kind of an area, and of its edge taken as a line. */
export interface AreaKinds {
  readonly area: Kind | null;
  readonly edge: Kind | null;
}

const AREAS: Partial<Record<ReadAs, AreaKinds>> = {
  water: { area: "water", edge: "shore" },
  stream: { area: "water", edge: "shore" },
  wood: { area: "wood", edge: "woodEdge" },
  wetland: { area: "wetland", edge: null },
  building: { area: "building", edge: null },
  cliff: { area: "cliff", edge: "cliff" },
  wall: { area: null, edge: "wall" },
  fence: { area: null, edge: "fence" },
  boundary: { area: null, edge: "boundary" },
  restricted: { area: "restricted", edge: "restricted" },
  filled: { area: "filled", edge: "filled" },
};

export const areaKinds = (role: ReadAs): AreaKinds => AREAS[role] ?? { area: null, edge: null };

const POINTS: Partial<Record<ReadAs, Kind>> = {
  peak: "peak",
  spotHeight: "spotHeight",
  building: "building",
  name: "place",
};

export const pointKind = (role: ReadAs): Kind | null => POINTS[role] ?? null;
