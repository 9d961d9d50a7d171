/** Points of a walk out of GeoJSON that is not a walk file: one LineString, or Points in order. */
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";
import { members, type Members, position } from "./json-reading.ts";
import { MAX_POINTS } from "./walk-rules.ts";

export interface PlainPoints {
  readonly positions: readonly LonLat[];
  readonly names: readonly (string | null)[];
  readonly title: string | null;
  readonly repairs: readonly string[];
}

const nameOf = (feature: Members): string | null => {
  const properties = feature["properties"];
  if (typeof properties !== "object" || properties === null) return null;
  const name = (properties as Members)["name"];
  return typeof name === "string" && name.trim() !== "" && name.length <= 200 ? name.trim() : null;
};

/**
 * @param json any GeoJSON object: geometry, feature or feature collection
 * @throws Fault "bad-walk" when it holds neither exactly one LineString nor at least one Point, or a position is wrong
 */
export function readPlainGeoJson(json: Members, where: string): PlainPoints {
  const features = featuresOf(json, where);
  const lines = features.filter((f) => f.geometry["type"] === "LineString");
  const points = features.filter((f) => f.geometry["type"] === "Point");
  const repairs: string[] = [];
  const others = features.length - lines.length - points.length;
  if (others > 0)
    repairs.push(
      `${others} ${others === 1 ? "feature is" : "features are"} neither a line nor a point and ${others === 1 ? "was" : "were"} left out.`,
    );

  const [line] = lines;
  if (line) {
    if (lines.length > 1)
      throw new Fault(
        "bad-walk",
        `The file holds ${lines.length} lines; a walk is one.`,
        where,
        "Keep one LineString.",
      );
    const coordinates = line.geometry["coordinates"];
    if (!Array.isArray(coordinates)) throw new Fault("bad-walk", "The line has no coordinates.", line.where);
    if (points.length > 0) repairs.push(`The line was taken; ${points.length} single points were left out.`);
    limit(coordinates.length, where);
    const positions = coordinates.map((c, i) => position(c, `${line.where}, position ${i + 1}`));
    return { positions, names: [], title: nameOf(line.feature), repairs: noteHeights(coordinates, repairs) };
  }
  if (points.length === 0)
    throw new Fault(
      "bad-walk",
      "The file holds no line and no points.",
      where,
      "A walk is one LineString, or Points in order.",
    );
  limit(points.length, where);
  return {
    positions: points.map((f) => position(f.geometry["coordinates"], `${f.where}, coordinates`)),
    names: points.map((f) => nameOf(f.feature)),
    title: null,
    repairs: noteHeights(
      points.map((f) => f.geometry["coordinates"]),
      repairs,
    ),
  };
}

function limit(count: number, where: string): void {
  if (count > MAX_POINTS)
    throw new Fault(
      "bad-walk",
      `The file holds ${count} positions; a walk holds at most ${MAX_POINTS}.`,
      where,
      "Thin the line first.",
    );
}

function noteHeights(coordinates: readonly unknown[], repairs: string[]): string[] {
  if (coordinates.some((c) => Array.isArray(c) && c.length > 2))
    repairs.push("Heights in the file are not used: the map's are.");
  return repairs;
}

interface Found {
  readonly feature: Members;
  readonly geometry: Members;
  readonly where: string;
}

function featuresOf(json: Members, where: string): Found[] {
  switch (json["type"]) {
    case "FeatureCollection": {
      if (!Array.isArray(json["features"]))
        throw new Fault("bad-walk", "The collection has no features.", where);
      return json["features"].flatMap((value: unknown, i: number): Found[] => {
        const place = `${where}, feature ${i + 1}`;
        const feature = members(value, place);
        // RFC 7946 §3.2: an unlocated feature has a null geometry.
        if (feature["geometry"] === null) return [];
        return [{ feature, geometry: members(feature["geometry"], `${place}, geometry`), where: place }];
      });
    }
    case "Feature":
      return json["geometry"] === null
        ? []
        : [{ feature: json, geometry: members(json["geometry"], `${where}, geometry`), where }];
    case "LineString":
    case "Point":
      return [{ feature: {}, geometry: json, where }];
    default:
      throw new Fault(
        "bad-walk",
        "The file is neither a walk file nor GeoJSON with a line or points.",
        where,
        "Choose a *.walk.geojson or a GeoJSON file.",
      );
  }
}
