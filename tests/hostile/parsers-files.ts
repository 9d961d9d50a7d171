/** Walks, files of other programs, files a map is made of. */
import { unzipSync, zipSync } from "fflate";
import { readFileSync } from "node:fs";
import { READ_LIMITS } from "../../core/exchange/exchange.ts";
import { readExchange, tableIn } from "../../core/exchange/read-exchange.ts";
import { walkFrom } from "../../core/exchange/walk-from.ts";
import { bytesFile, type FeatureFile } from "../../core/files/feature-file.ts";
import { findCrs } from "../../core/mapmaking/elevation/grid-crs.ts";
import { memoryFile } from "../../core/mapmaking/elevation/elevation-model.ts";
import { openModel, readModels } from "../../core/mapmaking/elevation/read-elevation.ts";
import { readFeatures } from "../../core/mapmaking/features-in/read-features.ts";
import { parseRules } from "../../core/mapmaking/features-in/rule-schema.ts";
import { formatWalk, parseWalk } from "../../core/walk/walk-file.ts";
import { epsgRegister } from "../../electron/services/epsg-register.ts";
import { type OsmObjects, osmPbf } from "../core/mapmaking/features-in/support.ts";
import type { Parser } from "./parsers.ts";
import { type Seed, seedsOf, textSeed } from "./seeds.ts";

const TODAY = "2026-05-16";
const text = ({ bytes }: Seed): string => new TextDecoder().decode(bytes);

const features = async (files: readonly FeatureFile[]): Promise<void> => {
  await readFeatures(
    { files, bounds: [-180, -85, 180, 85], zooms: { min: 8, max: 14 }, unit: "m", epsg: epsgRegister },
    ({ parts }) => {
      for (const part of parts)
        for (const v of part) if (!(v >= 0 && v <= 4096 * 2 ** 14)) throw new Error(`off the map: ${v}`);
    },
  );
};
const featuresOf = ({ name, bytes }: Seed): Promise<void> => features([bytesFile(name, bytes)]);

async function exchange({ name, bytes }: Seed): Promise<void> {
  tableIn(bytes, name, READ_LIMITS);
  const found = await readExchange(bytes, name);
  for (const [pick] of found.candidates.slice(0, 3).entries()) {
    const { walk } = walkFrom(found, { pick, toleranceM: 20, date: TODAY, fallbackTitle: "w" });
    for (const { lonLat } of walk.points) if (!lonLat.every(Number.isFinite)) throw new Error("no place");
  }
}

async function model({ name, bytes }: Seed): Promise<void> {
  const { grid } = await readModels([memoryFile(name, bytes, name.endsWith(".asc") ? "EPSG:4326" : null)], {
    epsg: epsgRegister,
  });
  for (const height of grid.heights)
    if (!Number.isNaN(height) && Math.abs(height) > 12_000) throw new Error(`a height of ${height} m`);
}

const OSM_OBJECTS: OsmObjects = {
  nodes: [0, 1, 2, 3].map((i) => ({ id: i + 1, lon: 10 + i / 100, lat: 45 + (i % 2) / 100, tags: i ? null : { natural: "peak", name: "Knoll", ele: "541" } })),
  ways: [
    { id: 10, refs: [1, 2, 3], tags: { highway: "path" } },
    { id: 11, refs: [1, 2, 3, 4, 1], tags: null },
  ],
  relations: [{ id: 20, members: [{ type: "way" as const, id: 11, role: "outer" }], tags: { type: "multipolygon", natural: "water" } }],
}; // prettier-ignore

const GEOJSON = JSON.stringify({
  type: "FeatureCollection",
  crs: { type: "name", properties: { name: "urn:ogc:def:crs:OGC:1.3:CRS84" } },
  features: [
    { type: "Feature", properties: { highway: "path", name: "a" }, geometry: { type: "LineString", coordinates: [[10, 45], [10.1, 45.2, 5]] } },
    { type: "Feature", properties: { natural: "water" }, geometry: { type: "Polygon", coordinates: [[[10, 45], [10.1, 45], [10.1, 45.1], [10, 45]]] } },
    { type: "Feature", properties: null, geometry: { type: "GeometryCollection", geometries: [{ type: "MultiPoint", coordinates: [[10, 45]] }] } },
  ],
}); // prettier-ignore
const LINES = GEOJSON.match(/\{"type":"Feature",.*?\}\}/g)?.join("\n") ?? "";

const RULES = JSON.stringify({
  rules: [
    { when: { highway: ["path", "footway"], foot: { not: ["no"] } }, geometry: "line", role: "path", minZoom: 11 },
    { when: { ele: { least: 5, below: 10 }, "@layer": "*" }, geometry: ["point", "area"], role: null, set: { a: 1 }, label: "x" },
  ],
}); // prettier-ignore

/** The parts of shapefiles, by name: damage meets a part, not the packing around it. */
const parts: Readonly<Record<string, Uint8Array>> = Object.fromEntries(
  Object.entries(
    unzipSync(new Uint8Array(readFileSync(new URL("../fixtures/features-in/park.zip", import.meta.url)))),
  ).map(([name, bytes]) => [name.split("/").at(-1)!, bytes]),
);

/** A shapefile whose one part is damaged, the others as they were. */
async function damagedPart({ name, bytes }: Seed): Promise<void> {
  const part = (ending: string): FeatureFile | null => {
    const file = `${name.split(".")[0]}.${ending}`;
    const own = file === name ? bytes : parts[file];
    return own ? bytesFile(file, own, part) : null;
  };
  await features([part("shp")!]);
}

export const FILE_PARSERS: readonly Parser[] = [
  {
    name: "walk file",
    stuff: "json",
    weight: 14,
    ofFile: true,
    seeds: () => [...seedsOf(/\.walk\.geojson$/), textSeed("plain.geojson", GEOJSON)],
    read(seed) {
      const { walk } = parseWalk(text(seed), seed.name, TODAY);
      // What was taken in can be written and taken in again.
      parseWalk(formatWalk(walk), "again", TODAY);
    },
  },
  ...(["gpx", "kml"] as const).map((ending): Parser => ({
    name: ending.toUpperCase(),
    stuff: "xml",
    weight: 10,
    ofFile: true,
    seeds: () => seedsOf(new RegExp(`\\.${ending}$`)),
    read: exchange,
  })),
  { name: "KMZ", stuff: "binary", weight: 4, ofFile: true, seeds: () => seedsOf(/\.kmz$/), read: exchange },
  { name: "GeoJSON of other programs", stuff: "json", weight: 6, ofFile: true, seeds: () => [...seedsOf(/exchange.*\.geojson$/), textSeed("f.geojson", GEOJSON)], read: exchange },
  { name: "tables", stuff: "text", weight: 8, ofFile: true, seeds: () => [...seedsOf(/exchange.*\.csv$/), textSeed("list.csv", "name;lat;lon;note\nStart;45,1;10,2;=x\nEnd;45,2;10,3;y\n"), textSeed("list.txt", "45.1 N 10.2 E\n33T UN 12345 67890\n")], read: exchange },
  { name: "GPX for a map", stuff: "xml", weight: 3, ofFile: true, seeds: () => seedsOf(/\.gpx$/), read: featuresOf },
  { name: "KML for a map", stuff: "xml", weight: 3, ofFile: true, seeds: () => seedsOf(/\.kml$/), read: featuresOf },
  { name: "GeoJSON for a map", stuff: "json", weight: 4, ofFile: true, seeds: () => [textSeed("f.geojson", GEOJSON), ...seedsOf(/vectors.*\.geojson$/)], read: featuresOf },
  { name: "GeoJSON lines", stuff: "text", weight: 3, ofFile: true, seeds: () => [textSeed("f.ndjson", LINES), textSeed("f.geojsons", `\u001e${LINES.replaceAll("\n", "\n\u001e")}`)], read: featuresOf },
  { name: "OpenStreetMap XML", stuff: "xml", weight: 5, ofFile: true, seeds: () => seedsOf(/\.osm$/), read: featuresOf },
  { name: "OpenStreetMap binary", stuff: "binary", weight: 8, ofFile: true, seeds: () => [{ name: "a.osm.pbf", bytes: osmPbf(OSM_OBJECTS, { packed: false }) }, { name: "b.osm.pbf", bytes: osmPbf(OSM_OBJECTS, { packed: false, dense: false }) }, { name: "c.osm.pbf", bytes: osmPbf(OSM_OBJECTS) }, ...seedsOf(/\.osm\.pbf$/)], read: featuresOf },
  { name: "shapefile, a part of it", stuff: "binary", weight: 8, ofFile: true, seeds: () => Object.entries(parts).filter(([name]) => /\.(shp|dbf|prj|cpg)$/.test(name)).map(([name, bytes]) => ({ name, bytes })), read: damagedPart },
  { name: "zip", stuff: "binary", weight: 5, ofFile: true, seeds: () => [...seedsOf(/park\.zip$/), { name: "a.zip", bytes: zipSync({ "a.geojson": new TextEncoder().encode(GEOJSON) }, { level: 0 }) }], read: featuresOf },
  { name: "GeoTIFF", stuff: "binary", weight: 9, ofFile: true, seeds: () => seedsOf(/\.tif$/), read: model },
  { name: "ASCII grid", stuff: "text", weight: 5, ofFile: true, seeds: () => seedsOf(/\.asc$/), read: model },
  {
    name: ".hgt",
    stuff: "binary",
    weight: 1,
    ofFile: true,
    seeds: () => [{ name: "N46W133.hgt", bytes: new Uint8Array(1201 * 1201 * 2).fill(1) }],
    async read({ name, bytes }) {
      const opened = await openModel(memoryFile(name, bytes), {});
      await opened.heights({ column: 5, row: 7, columns: 40, rows: 40 });
    },
  },
  {
    name: "coordinate system",
    stuff: "text",
    weight: 6,
    ofFile: true,
    seeds: () => [...seedsOf(/\.prj$/), textSeed("--crs", "EPSG:2193"), textSeed("--crs", "+proj=utm +zone=33 +ellps=GRS80 +towgs84=0,0,0 +units=m"), textSeed("--crs", "+proj=lcc +lat_1=49 +lat_2=44 +lat_0=46.5 +lon_0=3 +x_0=700000 +y_0=6600000 +ellps=GRS80")],
    async read(seed) {
      await findCrs(text(seed), seed.name, epsgRegister);
    },
  },
  { name: "rules", stuff: "json", weight: 4, ofFile: true, seeds: () => [textSeed("rules.json", RULES)], read: (seed) => void parseRules(text(seed), seed.name) },
]; // prettier-ignore
