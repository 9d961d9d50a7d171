/** What the map says of a line besides its kind and name, in the words of the common open tile schemas. */
import type { Attributes, LineFeature } from "../../map/features.ts";
import type { LengthUnit } from "../../units/format.ts";
import { lengthInNote } from "../leg-words.ts";

/** Fields that say what a line is, the most general first. */
const CLASS_FIELDS = ["class", "kind", "subclass", "kind_detail", "pmap:kind", "type", "highway", "waterway"];
const WIDTH_FIELDS = ["width", "width_m", "est_width"];
const SEASONAL_FIELDS = ["intermittent", "seasonal"];

/** Classes worth saying; most say no more than the kind does. */
const CLASSES: Readonly<Record<string, string>> = {
  track: "a track",
  steps: "steps",
  bridleway: "a bridleway",
  cycleway: "a cycle path",
  motorway: "a motorway",
  trunk: "a main road",
  primary: "a main road",
  major_road: "a main road",
  minor: "a minor road",
  minor_road: "a minor road",
  residential: "a minor road",
  unclassified: "a minor road",
  service: "a service road",
  canal: "a canal",
  ditch: "a ditch",
  drain: "a drain",
  stone: "of stone",
  hedge: "a hedge",
};

const isYes = (value: Attributes[string] | undefined): boolean =>
  value === true || value === 1 || value === "yes" || value === "true" || value === "1";

/** Whether the line passes under the ground here, so that a walker sees nothing of it: a culvert, a tunnel. */
export const isUnderground = ({ attributes: a }: LineFeature): boolean =>
  [a["brunnel"], a["structure"]].includes("tunnel") ||
  isYes(a["tunnel"]) ||
  isYes(a["is_tunnel"]) ||
  a["tunnel"] === "culvert";

const isBridge = (a: Attributes): boolean =>
  [a["brunnel"], a["structure"]].includes("bridge") || isYes(a["bridge"]) || isYes(a["is_bridge"]);

/** Metres; null where the map does not say or says what cannot be. Widths without a unit are in metres. */
export function widthM(attributes: Attributes): number | null {
  for (const field of WIDTH_FIELDS) {
    const value = attributes[field];
    const width =
      typeof value === "number"
        ? value
        : typeof value === "string" && /^\s*\d+([.,]\d+)?\s*(m|metres?|meters?)?\s*$/.test(value)
          ? Number.parseFloat(value.replace(",", "."))
          : Number.NaN;
    if (width > 0 && width < 5000) return width;
  }
  return null;
}

/** "a ditch, 2 m wide, dry at times"; null when the map says nothing more. */
export function lineDetail(line: LineFeature, unit: LengthUnit): string | null {
  const { kind, attributes } = line;
  const said: string[] = [];
  const what = CLASS_FIELDS.map((field) => CLASSES[String(attributes[field])]).find(Boolean);
  if (what && LINES_WITH_CLASS.has(kind)) said.push(what);
  const water = kind === "stream" || kind === "river";
  if (water) {
    const width = widthM(attributes);
    if (width !== null)
      said.push(`${width < 1 ? "under " : ""}${lengthInNote(Math.max(1, width), unit)} wide`);
    if (SEASONAL_FIELDS.some((field) => isYes(attributes[field]))) said.push("dry at times");
  }
  if (isUnderground(line)) said.push(water ? "under the ground" : "in a tunnel");
  else if (isBridge(attributes) && !water) said.push("on a bridge");
  return said.length === 0 ? null : said.join(", ");
}

const LINES_WITH_CLASS: ReadonlySet<string> = new Set(["stream", "river", "path", "road", "wall", "fence"]);
