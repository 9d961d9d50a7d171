/** Which features of the map are dangers to a walker, and which roles a map needs to show them. */
import type { Attributes, LineFeature } from "../../map/features.ts";
import type { Kind, Role } from "../../map/kinds.ts";

/** Chosen angles, common practice, no source: slides begin on 30° and more, most about 35° to 40°. */
export const DEFAULT_STEEP_DEG: readonly number[] = [30, 35, 40];
export const DEFAULT_HAZARD_BEYOND_M = 100;

/** Lines and areas to ask the map for. */
export const HAZARD_LINE_KINDS: ReadonlySet<Kind> = new Set<Kind>([
  "cliff",
  "shore",
  "river",
  "stream",
  "rail",
  "road",
  "restricted",
]);
export const HAZARD_AREA_KINDS: ReadonlySet<Kind> = new Set<Kind>([
  "water",
  "wetland",
  "cliff",
  "restricted",
]);

/** Roles without which a danger cannot be known, and what is not known then. */
export const HAZARD_ROLES: readonly (readonly [Role, string])[] = [
  ["cliff", "cliffs"],
  ["water", "open water"],
  ["stream", "rivers"],
  ["wetland", "wetlands"],
  ["road", "roads"],
  ["rail", "railways"],
  ["restricted", "restricted areas"],
];

const CLASS_FIELDS = ["class", "subclass", "kind", "pmap:kind", "highway", "type", "fclass"];
/** In the words of common open tile schemas. */
const MAJOR_ROADS = new Set([
  "motorway",
  "motorway_link",
  "trunk",
  "trunk_link",
  "primary",
  "primary_link",
  "secondary",
  "secondary_link",
  "highway",
  "major_road",
  "major",
]);
/** A stream this wide is not stepped or jumped over. Common practice, no source. */
export const BIG_STREAM_M = 3;

const classesOf = (attributes: Attributes): string[] =>
  CLASS_FIELDS.map((field) => attributes[field]).filter((value) => typeof value === "string");

/** Metres across as the map says it ("4", "4 m", "12 ft"); null when it does not. */
export function widthM(attributes: Attributes): number | null {
  const value = attributes["width"];
  if (typeof value === "number") return value > 0 ? value : null;
  const parts = typeof value === "string" ? /^\s*(\d+(?:\.\d+)?)\s*(m|ft|')?\s*$/.exec(value) : null;
  if (!parts) return null;
  const width = Number(parts[1]) * (parts[2] === "ft" || parts[2] === "'" ? 0.3048 : 1);
  return width > 0 ? width : null;
}

/** A road with much or fast traffic; one whose class the map does not tell is taken for one. */
export function isMajorRoad(attributes: Attributes): boolean {
  const classes = classesOf(attributes);
  return classes.length === 0 || classes.some((name) => MAJOR_ROADS.has(name));
}

const isUnderground = ({ tunnel, brunnel }: Attributes): boolean =>
  tunnel === "yes" || tunnel === true || tunnel === 1 || brunnel === "tunnel";

/** The danger a line is; null for none. A shore stands for its water. */
export function hazardOfLine({ kind, attributes }: LineFeature): Kind | null {
  switch (kind) {
    case "cliff":
    case "restricted":
      return kind;
    case "river":
      return isUnderground(attributes) ? null : kind;
    case "stream":
      return !isUnderground(attributes) && (widthM(attributes) ?? 0) >= BIG_STREAM_M ? kind : null;
    case "rail":
      return isUnderground(attributes) ? null : kind;
    case "road":
      return isMajorRoad(attributes) && !isUnderground(attributes) ? kind : null;
    case "shore":
      return "water";
    default:
      return null;
  }
}

/** A path wide enough to be met for sure: made for vehicles or horses, or 2 m wide. Common practice, no source. */
export function isWidePath(attributes: Attributes): boolean {
  return (widthM(attributes) ?? 0) >= 2 || classesOf(attributes).some((name) => WIDE_PATHS.has(name));
}
const WIDE_PATHS = new Set(["track", "bridleway", "cycleway", "pedestrian", "grade1", "grade2", "grade3"]);

/** Private drives and the like: too short and too easily crossed unnoticed to be walked to. */
export const isSmallRoad = (attributes: Attributes): boolean =>
  classesOf(attributes).some((name) => SMALL_ROADS.has(name));
const SMALL_ROADS = new Set([
  "driveway",
  "alley",
  "parking_aisle",
  "drive-through",
  "construction",
  "proposed",
]);

const RIVERS = new Set(["river", "canal", "riverbank"]);
/** Water that is a river's own surface, by its class. */
export const isRiverWater = (attributes: Attributes): boolean =>
  [...classesOf(attributes), String(attributes["water"] ?? "")].some((name) => RIVERS.has(name));
