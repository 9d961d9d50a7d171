/** Which of a feature's tags go onto the map: what figures, words and the drawing use. */
import type { Attributes } from "../../map/features.ts";
import { type Interval, metresPer } from "../interval.ts";
import type { Tags } from "./raw-feature.ts";

const METRES_PER_FOOT = 0.3048; // exact: international foot, 1959
const METRES_PER_INCH = 0.0254;

const NAMES = ["name", "name:latin", "int_name", "name:en", "name_en", "label", "title"];
const ELEVATIONS = ["ele", "elevation", "elev", "ele_m", "elevation_m", "altitude"];
const ELEVATIONS_FT = ["ele_ft", "elevation_ft", "elev_ft", "ele:ft"];
/** Texts taken as they are. */
const TEXTS = [
  "ref",
  "surface",
  "trail_visibility",
  "sac_scale",
  "tracktype",
  "access",
  "foot",
  "water",
  "protect_class",
];
const MOST_TEXT = 200;
/** Challenger Deep −10 935 m, Mount Everest 8 849 m. */
const LOWEST_M = -12_000;
const HIGHEST_M = 9_000;

/**
 * Metres from "12", "12 m", "12.5m", "40 ft", "6'", "5'6\"", "1,234 ft", "2 km"; null when it is none of these.
 * A number without a unit is in `bare`. Source of the notation: OpenStreetMap wiki, Map features/Units.
 */
export function metresOf(value: Tags[string], bare: "m" | "ft" = "m"): number | null {
  if (typeof value === "boolean") return null;
  const text = typeof value === "number" ? String(value) : value.trim();
  const feet = /^(\d+)'(?:\s*(\d+(?:\.\d+)?)(?:"|''))?$/.exec(text);
  if (feet) return Number(feet[1]) * METRES_PER_FOOT + Number(feet[2] ?? 0) * METRES_PER_INCH;
  const parts =
    /^([-+−]?)\s*(\d{1,3}(?:,\d{3})+|\d+)([.,]\d+)?\s*(m|metres?|meters?|ft|feet|foot|km|mi)?\.?$/i.exec(
      text,
    );
  if (!parts) return null;
  const [, sign, whole = "", fraction = "", unit = bare] = parts;
  // "1,234" is a thousand and more; "3,5" is three and a half.
  const size = Number(whole.replaceAll(",", "") + fraction.replace(",", "."));
  const per =
    { m: 1, f: METRES_PER_FOOT, k: 1000, mi: 1609.344 }[/^mi$/i.test(unit) ? "mi" : unit[0]!.toLowerCase()] ??
    1;
  return (sign === "-" || sign === "−" ? -1 : 1) * size * per;
}

const isYes = (value: Tags[string] | undefined): boolean =>
  value === true || value === 1 || value === "yes" || value === "true" || value === "1";

const round = (value: number): number => Math.round(value * 10) / 10;

/** @param unit of heights on the map: `ele` is in it */
export function keptAttributes(tags: Tags, what: string | null, unit: Interval["unit"]): Attributes {
  const kept: Record<string, string | number | boolean> = {};
  const name = nameOf(tags);
  if (name !== null) kept["name"] = name;
  if (what !== null && what !== "") kept["class"] = what;
  for (const key of TEXTS) {
    const value = tags[key];
    if (value !== undefined && value !== "") kept[key] = String(value).slice(0, MOST_TEXT);
  }
  const width = tags["width"] ?? tags["est_width"];
  const widthM = width === undefined ? null : metresOf(width);
  if (widthM !== null && widthM > 0) kept["width"] = round(widthM);
  const seasonal = tags["seasonal"];
  if (isYes(tags["intermittent"]) || (seasonal !== undefined && seasonal !== "no" && seasonal !== false))
    kept["intermittent"] = true;
  const { tunnel, bridge, layer } = tags;
  // A passage through a house or under a snow roof is not under the ground.
  if (tunnel === "culvert" || isYes(tunnel) || tunnel === "flooded") kept["tunnel"] = "yes";
  if (bridge !== undefined && bridge !== "no" && bridge !== false && bridge !== 0) kept["bridge"] = "yes";
  const level = layer === undefined || layer === "" ? Number.NaN : Number(layer);
  if (Number.isInteger(level) && level !== 0) kept["layer"] = level;
  const adminLevel = Number(tags["admin_level"] ?? Number.NaN);
  if (Number.isInteger(adminLevel)) kept["admin_level"] = adminLevel;
  const eleM = elevationM(tags);
  if (eleM !== null) kept["ele"] = round(eleM / metresPer(unit));
  return kept;
}

export function nameOf(tags: Tags): string | null {
  for (const key of NAMES) {
    const value = tags[key];
    if (value === undefined || typeof value === "boolean") continue;
    const text = String(value).trim();
    if (text !== "") return text.slice(0, MOST_TEXT);
  }
  return null;
}

/** Metres above whatever the data counts from; null when it does not say, or says what no ground on earth has. */
export function elevationM(tags: Tags): number | null {
  const read = (keys: readonly string[], bare: "m" | "ft"): number | null => {
    for (const key of keys) {
      const value = tags[key];
      const metres = value === undefined ? null : metresOf(value, bare);
      if (metres !== null && metres >= LOWEST_M && metres <= HIGHEST_M) return metres;
    }
    return null;
  };
  return read(ELEVATIONS, "m") ?? read(ELEVATIONS_FT, "ft");
}
