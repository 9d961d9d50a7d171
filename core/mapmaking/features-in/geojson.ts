/** GeoJSON, a collection or feature by feature, of any size. Source: RFC 7946; the older crs member: GeoJSON 2008 §3. */
import { badFeatures, type FeatureFile, type Tick } from "../../files/feature-file.ts";
import { splitJson } from "./json-pieces.ts";
import { type Emit, type Passed, put, type Shape, type Tags } from "./raw-feature.ts";
import { nestRings } from "./rings.ts";
import { type CrsNamed, DEGREES, type FileCrs, type ToWgs84, toWgs84, unknownCrs } from "./to-wgs84.ts";

/** Collections of geometries inside one another. No source. */
const DEEPEST = 8;
const GEOMETRIES = new Set([
  "Point",
  "MultiPoint",
  "LineString",
  "MultiLineString",
  "Polygon",
  "MultiPolygon",
  "GeometryCollection",
]);

type Unknown = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Unknown =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/**
 * @param crs what positions are in when the file does not say; null for WGS 84, as RFC 7946 has it
 * @param crsNamed finds a system by its name
 * @returns the system used
 * @throws Fault "bad-features", "no-crs"
 */
export async function readGeoJson(
  file: FeatureFile,
  crs: FileCrs | null,
  crsNamed: CrsNamed,
  emit: Emit,
  passed: Passed,
  tick: Tick,
): Promise<FileCrs> {
  // The system may be named after the features: the file is gone through for it first.
  let named: { readonly name: string; readonly where: string } | null = null;
  const half: Tick = (bytes) => tick(bytes / 2);
  await splitJson(file, half, null, (root, where) => {
    if (isObject(root) && root["crs"] !== undefined && root["crs"] !== null)
      named ??= crsMember(root["crs"], `${file.key}, ${where}`);
  });
  const member = named as { readonly name: string; readonly where: string } | null;
  const used = member ? await crsNamed(member.name, member.where) : (crs ?? DEGREES);
  const place = toWgs84(used, file.key);

  const one = (value: unknown, where: string): void => {
    const fail = (what: string): never => {
      throw badFeatures(what, `${file.key}, ${where}`);
    };
    if (!isObject(value)) return fail("A feature is no object.");
    if (value["type"] !== "Feature") return fail("It is no GeoJSON feature.");
    const geometry = value["geometry"];
    if (geometry === null || geometry === undefined) {
      passed.noShape++;
      return;
    }
    const tags = tagsOf(value["properties"]);
    for (const shape of shapesOf(geometry, place, where, fail, passed, 0)) emit({ where, tags, shape });
  };
  await splitJson(file, half, one, (root, where) => {
    const type = isObject(root) ? root["type"] : null;
    if (type === "Feature") one(root, where);
    else if (typeof type === "string" && GEOMETRIES.has(type))
      one({ type: "Feature", geometry: root, properties: null }, where);
    else if (type !== "FeatureCollection")
      throw badFeatures("This is JSON, but no GeoJSON.", `${file.key}, ${where}`);
  });
  return used;
}

function crsMember(member: unknown, where: string): { readonly name: string; readonly where: string } {
  const properties = isObject(member) ? member["properties"] : null;
  const name = isObject(properties) ? properties["name"] : null;
  if (typeof name !== "string") throw unknownCrs(JSON.stringify(member) ?? "", where);
  return { name, where };
}

/** Keys in lower case; lists and objects are left out, as attributes of a map are single values. */
export function tagsOf(properties: unknown): Tags {
  const tags: Record<string, string | number | boolean> = {};
  if (isObject(properties))
    for (const key of Object.keys(properties)) {
      const value = properties[key];
      if (typeof value === "string" ? value !== "" : typeof value === "number" || typeof value === "boolean")
        put(tags, key.toLowerCase(), value as string | number | boolean);
    }
  return tags;
}

function shapesOf(
  geometry: unknown,
  place: ToWgs84,
  where: string,
  fail: (what: string) => never,
  passed: Passed,
  depth: number,
): Shape[] {
  if (!isObject(geometry)) return fail("The geometry is no object.");
  const { type, coordinates } = geometry;
  if (type === "GeometryCollection") {
    const members = geometry["geometries"];
    if (!Array.isArray(members) || depth >= DEEPEST) return fail("The collection of geometries is none.");
    return (members as unknown[]).flatMap((g) => shapesOf(g, place, where, fail, passed, depth + 1));
  }
  const list = (value: unknown): readonly unknown[] =>
    Array.isArray(value) ? (value as unknown[]) : fail("Coordinates are no list.");
  const positions = (value: unknown): Float64Array => {
    const all = list(value);
    const coords = new Float64Array(2 * all.length);
    all.forEach((position, i) => {
      const [x, y] = list(position);
      if (typeof x !== "number" || typeof y !== "number") return fail("A position is no pair of numbers.");
      coords[2 * i] = x;
      coords[2 * i + 1] = y;
    });
    return place(coords, where);
  };
  const point = (value: unknown): Shape[] => {
    if (list(value).length > 0) return [{ type: "point", coords: positions([value]) }];
    passed.noShape++;
    return [];
  };
  const line = (value: unknown): Shape[] => {
    const coords = positions(value);
    if (coords.length >= 4) return [{ type: "line", coords }];
    if (coords.length > 0) return fail("A line has one position only.");
    passed.noShape++;
    return [];
  };
  const polygonsOf = (value: unknown): Float64Array[][] => {
    const rings = list(value).map(positions);
    for (const ring of rings)
      if (ring.length < 8 || ring[0] !== ring.at(-2) || ring[1] !== ring.at(-1))
        return fail(
          "A ring of an area is not closed: it needs four positions or more, the last equal to the first.",
        );
    return nestRings(rings);
  };
  const area = (polygons: Float64Array[][]): Shape[] => {
    if (polygons.length > 0) return [{ type: "area", polygons }];
    passed.noShape++;
    return [];
  };
  switch (type) {
    case "Point":
      return point(coordinates);
    case "MultiPoint":
      return list(coordinates).flatMap(point);
    case "LineString":
      return line(coordinates);
    case "MultiLineString":
      return list(coordinates).flatMap(line);
    case "Polygon":
      return area(polygonsOf(coordinates));
    case "MultiPolygon":
      return area(list(coordinates).flatMap(polygonsOf));
    default:
      return fail(`“${String(type).slice(0, 40)}” is no geometry of GeoJSON.`);
  }
}
