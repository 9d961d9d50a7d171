/** Lines and points of GeoJSON. Source: RFC 7946. */
import { badFeatures } from "../files/feature-file.ts";
import { draft, type Draft, Positions, type RawExchange, type ReadOptions, trimmed } from "./exchange.ts";
import { LeftOut } from "./left-out.ts";
import { Outlines } from "./outlines.ts";

type Members = Readonly<Record<string, unknown>>;

const DEEPEST = 64;
const isMembers = (value: unknown): value is Members =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const textOf = (value: unknown): string => (typeof value === "string" ? value.trim() : "");

const OF_FILE = new Set([
  "type",
  "name",
  "description",
  "features",
  "geometry",
  "properties",
  "id",
  "bbox",
  "crs",
  "coordinates",
  "geometries",
]);
const OF_FEATURE = new Set(["name", "title", "description", "desc", "note"]);

/** The coordinate system of the format before its standard, unless it is the standard's own; null when there is none. */
function crsOf(json: Members): string | null {
  const crs = isMembers(json["crs"]) && isMembers(json["crs"]["properties"]) ? json["crs"]["properties"] : {};
  const name = textOf(crs["name"]);
  return name === "" || /CRS:?84$|EPSG:+4326$/i.test(name) ? null : name;
}

/** @throws Fault "bad-features" naming the feature */
export function readGeoJson(text: string, name: string, options: ReadOptions): RawExchange {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const at = /position (\d+)/.exec(error instanceof Error ? error.message : "")?.[1];
    throw badFeatures("The file is not valid JSON.", at === undefined ? name : `${name}, character ${at}`);
  }
  if (!isMembers(json)) throw badFeatures("This is JSON, but no GeoJSON.", name);
  const result = {
    title: trimmed(textOf(json["name"])),
    notes: textOf(json["description"]),
    drafts: [] as Draft[],
    report: [] as string[],
  };
  const positions = new Positions(options);
  const ofFeatures = new LeftOut();
  const ofFile = new LeftOut();
  for (const key of Object.keys(json)) if (!OF_FILE.has(key)) ofFile.add(key);
  const crs = crsOf(json);
  if (crs !== null && options.frame === null)
    result.report.push(
      `The file says that its figures are of “${crs.slice(0, 80)}”; they were read as degrees on WGS 84, as the standard has it.`,
    );
  const swap = options.axes === "lat-lon";
  const points = draft("points");
  const outlines = new Outlines();
  let empty = 0;

  const add = (to: Draft, value: unknown, where: string): void => {
    if (!Array.isArray(value) || typeof value[0] !== "number" || typeof value[1] !== "number")
      throw badFeatures("A position is no pair of numbers.", where);
    const [first, second] = value as [number, number];
    positions.add(to, swap ? second : first, swap ? first : second, where, typeof value[2] === "number");
  };
  const listOf = (value: unknown, where: string): readonly unknown[] => {
    if (!Array.isArray(value)) throw badFeatures("A geometry has no list of coordinates.", where);
    return value;
  };
  const geometry = (value: unknown, about: Members, where: string, depth: number): void => {
    if (depth > DEEPEST) throw badFeatures(`More than ${DEEPEST} geometries lie inside one another.`, where);
    if (!isMembers(value)) {
      empty++;
      return;
    }
    const label = trimmed(textOf(about["name"]) || textOf(about["title"]));
    const note = textOf(about["description"]) || textOf(about["desc"]) || textOf(about["note"]);
    const point = (at: unknown): void => {
      add(points, at, where);
      points.names[points.names.length - 1] = label;
      points.pointNotes[points.pointNotes.length - 1] = note;
    };
    const line = (list: unknown, one = draft("line")): Draft => {
      Object.assign(one, { name: label, notes: note });
      for (const [i, at] of listOf(list, where).entries()) add(one, at, `${where}, position ${i + 1}`);
      result.drafts.push(one);
      return one;
    };
    const area = (rings: unknown): void => {
      const [outer, ...holes] = listOf(rings, where);
      if (outer === undefined) empty++;
      else outlines.end(line(outer, outlines.begin()));
      outlines.holes += holes.length;
    };
    const type = value["type"];
    const coordinates = value["coordinates"];
    if (type === "Point") point(coordinates);
    else if (type === "MultiPoint") listOf(coordinates, where).forEach(point);
    else if (type === "LineString") line(coordinates);
    else if (type === "MultiLineString") for (const one of listOf(coordinates, where)) line(one);
    else if (type === "GeometryCollection")
      for (const one of listOf(value["geometries"], where)) geometry(one, about, where, depth + 1);
    else if (type === "Polygon") area(coordinates);
    else if (type === "MultiPolygon") listOf(coordinates, where).forEach(area);
    else throw badFeatures("A geometry is of a kind that GeoJSON does not know.", where);
  };
  const feature = (value: unknown, where: string): void => {
    if (!isMembers(value) || value["type"] !== "Feature")
      throw badFeatures("What stands among the features is none.", where);
    for (const key of Object.keys(isMembers(value["properties"]) ? value["properties"] : {}))
      if (!OF_FEATURE.has(key)) ofFeatures.add(key);
    geometry(value["geometry"], isMembers(value["properties"]) ? value["properties"] : {}, where, 0);
  };
  if (json["type"] === "FeatureCollection")
    for (const [i, one] of listOf(json["features"], name).entries())
      feature(one, `${name}, feature ${i + 1}`);
  else if (json["type"] === "Feature") feature(json, name);
  else geometry(json, {}, name, 0);
  if (points.positions.length > 0) result.drafts.push(points);
  result.report.push(...outlines.sentences());
  if (empty > 0) result.report.push(`Features without a geometry were left out: ${empty}.`);
  if (swap)
    result.report.push("Positions were read as latitude, longitude, as asked; GeoJSON has longitude first.");
  result.report.push(...ofFeatures.sentences("features"), ...ofFile.sentences("the file"));
  return { ...result, odd: positions.odd };
}
