/** Files of features of any kind read here, into the features of a map. */
import type { Role } from "../../map/kinds.ts";
import type { Bbox } from "../../units/position.ts";
import type { EpsgLookup } from "../elevation/grid-crs.ts";
import type { Interval } from "../interval.ts";
import { type MakeOptions, pace } from "../pace.ts";
import { memorySpool, type Spool } from "../spool.ts";
import type { TileFeature } from "../tile-feature.ts";
import { drawnFeatures } from "./drawn-features.ts";
import { badFeatures, exactly, type FeatureFile, type Tick } from "../../files/feature-file.ts";
import { readGeoJson } from "./geojson.ts";
import { readGpx } from "./gpx.ts";
import { readKml } from "./kml.ts";
import { OSM_RULES } from "./osm-rules.ts";
import { readOsm } from "./osm.ts";
import { nothingPassed, type Passed, type RawFeature } from "./raw-feature.ts";
import type { Rule } from "./rule-schema.ts";
import { readShapefile } from "./shapefile.ts";
import { crsNames, DEGREES, type FileCrs, swapped } from "./to-wgs84.ts";
import { unzip } from "../../files/zip.ts";

export interface FeaturesRequest {
  readonly files: readonly FeatureFile[];
  /** Tried before the built-in ones. */
  readonly rules?: readonly Rule[] | undefined;
  /** The map's: what lies outside is cut off. */
  readonly bounds: Bbox;
  readonly zooms: { readonly min: number; readonly max: number };
  /** Of heights on the map. */
  readonly unit: Interval["unit"];
  /** The coordinate system of files that do not say theirs: "EPSG:2193" or a proj4 definition. */
  readonly crs?: string | undefined;
  /** A register's definition of an EPSG code, when the host has one. */
  readonly epsg?: EpsgLookup | undefined;
  /** Opens a place for what a large file needs besides its features; in memory when left out. */
  readonly openSpool?: (() => Spool) | undefined;
}

export type FeatureFormat = "osm.pbf" | "osm" | "geojson" | "shapefile" | "gpx" | "kml";

export interface FileReport extends Passed {
  readonly name: string;
  readonly format: FeatureFormat;
  readonly crs: string;
  /** How its datum lies to WGS 84 is not known: everything may be off by hundreds of metres. */
  readonly datumUnknown: boolean;
  /** How the text of a shapefile's table was read. */
  readonly encoding: string | null;
  /** Day of the data, when the file says it. */
  readonly day: string | null;
  readonly features: number;
  /** Features with a position on the map. */
  readonly onMap: number;
}

export interface Listed {
  readonly what: string;
  readonly count: number;
}

export interface FeaturesReport {
  readonly files: readonly FileReport[];
  readonly roles: Partial<Record<Role, number>>;
  /** Left off by a rule. */
  readonly dropped: number;
  readonly outside: number;
  readonly tiny: number;
  readonly untied: number;
  readonly lost: number;
  /** What no rule knows, the most frequent first. */
  readonly unmapped: readonly Listed[];
  readonly guessed: readonly Listed[];
}

/**
 * Reads all files, one after another, each in pieces: nothing that grows with a file is held, but 24 bytes for each way
 * that areas of OpenStreetMap data are made of.
 * @param take receives the features that are on the map, in the units of its highest zoom, with areas fit for tiles
 * @throws Fault "bad-features" naming file and place, "no-crs", "cancelled"
 */
export async function readFeatures(
  request: FeaturesRequest,
  take: (feature: TileFeature) => void,
  options: MakeOptions = {},
): Promise<FeaturesReport> {
  const { files, rules = [], bounds, zooms, unit, openSpool = memorySpool } = request;
  const going = pace(options);
  going.stage("Reading features", 1);
  const total = files.reduce((sum, { sizeBytes }) => sum + sizeBytes, 0) || 1;
  let done = 0;
  const tick: Tick = async (bytes) => {
    done += bytes;
    await going.step(done / total);
  };

  const crsNamed = crsNames(request.epsg);
  const crs = request.crs === undefined ? null : await crsNamed(request.crs, "the coordinate system given");
  const to = { maxZoom: zooms.max, minZoom: zooms.min, bounds, unit };
  const drawn = drawnFeatures([...rules, ...OSM_RULES], to, take);
  const reports: FileReport[] = [];

  const readOne = async (file: FeatureFile, steps: Tick): Promise<void> => {
    const format = await formatOf(file);
    if (format === "zip") {
      const inside = await unzip(
        file,
        (name) => WANTED_IN_ZIP.test(name) && !/(^|\/)(__MACOSX\/|\._)/.test(name),
      );
      const kmz = /\.kmz$/i.test(file.key);
      const main = inside.filter(({ key }) => !SIDE_FILES.test(key));
      if (main.length === 0)
        throw badFeatures(
          "There is no file of features in the zip.",
          file.key,
          "Give a zip with .shp, .geojson, .gpx or .kml files.",
        );
      // Of a KMZ the first .kml is the document, the others are parts it may link to. OGC 12-007r2, annex C.
      for (const one of kmz ? main.slice(0, 1) : main) await readOne(one, noSteps(steps));
      await steps(file.sizeBytes);
      return;
    }
    const passed = nothingPassed();
    const known = format === "osm" || format === "osm.pbf" || format === "gpx";
    const layer = layerOf(file.key);
    const axes = axesCheck(bounds);
    let count = 0;
    const emit = (raw: RawFeature): void => {
      count++;
      axes.see(raw);
      drawn.add(raw, layer, file.key, known);
    };
    let used: FileCrs = DEGREES;
    let encoding: string | null = null;
    let day: string | null = null;
    if (format === "geojson") used = await readGeoJson(file, crs, crsNamed, emit, passed, steps);
    else if (format === "shapefile")
      ({ crs: used, encoding } = await readShapefile(file, crs, crsNamed, emit, passed, steps));
    else if (format === "gpx") await readGpx(file, emit, passed, steps);
    else if (format === "kml") await readKml(file, emit, passed, steps);
    else {
      const meets = (w: number, s: number, e: number, n: number): boolean =>
        w <= bounds[2] && e >= bounds[0] && s <= bounds[3] && n >= bounds[1];
      ({ day } = await readOsm(file, format === "osm.pbf", emit, passed, { meets, openSpool }, steps));
    }
    if (axes.areSwapped())
      throw swapped(
        "All features lie on the map with their coordinates exchanged, and none as they are",
        file.key,
      );
    reports.push({
      ...passed,
      name: file.key,
      format,
      crs: used.name,
      datumUnknown: used.datumUnknown === true,
      encoding,
      day,
      features: count,
      onMap: axes.onMap(),
    });
  };
  for (const file of files) await readOne(file, tick);

  const { counts } = drawn;
  return {
    files: reports,
    roles: counts.roles,
    dropped: counts.dropped,
    outside: counts.outside,
    tiny: counts.tiny,
    untied: counts.untied,
    lost: counts.lost,
    unmapped: listed(counts.unmapped),
    guessed: listed(counts.guessed),
  };
}

const listed = (counts: ReadonlyMap<string, number>): Listed[] =>
  [...counts]
    .map(([what, count]) => ({ what, count }))
    .sort((a, b) => b.count - a.count || (a.what < b.what ? -1 : 1));

/** Unpacked bytes are no measure of how far the packed file is. */
const noSteps =
  (steps: Tick): Tick =>
  () =>
    steps(0);

const WANTED_IN_ZIP = /\.(shp|dbf|prj|cpg|geojson|geojsonl|geojsons|ndjson|jsonl|json|gpx|kml|osm|pbf)$/i;
const SIDE_FILES = /\.(dbf|prj|cpg)$/i;

/** "roads" of "park.zip/data/roads.shp". */
const layerOf = (name: string): string => (name.split("/").at(-1) ?? name).replace(/(\.osm)?\.[^.]*$/i, "");

/** What the beginning of the file says it is; its name only where that leaves a choice. */
async function formatOf(file: FeatureFile): Promise<FeatureFormat | "zip"> {
  if (file.sizeBytes === 0) throw badFeatures("The file is empty.", file.key);
  const bytes = await exactly(file, 0, Math.min(1024, file.sizeBytes), "its beginning");
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) return "zip";
  if (bytes[0] === 0 && bytes[1] === 0 && bytes[2] === 0x27 && bytes[3] === 0x0a) return "shapefile";
  if (bytes[0] === 0 && bytes[1] === 0 && /OSMHeader/.test(latin(bytes.subarray(0, 40)))) return "osm.pbf";
  // UTF-16 has a zero in every second byte of what is looked for here.
  const begin = latin(bytes).replaceAll("\0", "").replaceAll("\u001e", " ");
  if (/^[^<{]{0,3}\s*[{[]/.test(begin)) return "geojson";
  if (/^[^<]{0,3}\s*</.test(begin)) {
    const root = /<(?:[\w-]+:)?(gpx|kml|osm|osmChange|Document|Placemark)[\s>/]/.exec(begin)?.[1];
    if (root === "gpx") return "gpx";
    if (root === "osm" || root === "osmChange") return "osm";
    if (root !== undefined) return "kml";
    const ending = /\.(gpx|kml|osm)$/i.exec(file.key)?.[1]?.toLowerCase();
    if (ending !== undefined) return ending as FeatureFormat;
  }
  const ending = /(osm\.pbf|pbf|shp|zip|kmz|geojson|json|gpx|kml|osm)$/i.exec(file.key)?.[1]?.toLowerCase();
  if (SIDE_FILES.test(file.key))
    throw badFeatures(
      "This file belongs to a shapefile.",
      file.key,
      "Name the .shp file; this one is read beside it.",
    );
  throw badFeatures(
    ending === undefined
      ? "This is no file of features known here."
      : `The file is damaged at its beginning: it is no .${ending}.`,
    file.key,
    "Give .osm.pbf, .osm, .geojson, .shp, .gpx, .kml, .kmz, or a zip of them.",
  );
}

const latin = (bytes: Uint8Array): string => String.fromCharCode(...bytes);

/**
 * Whether the file has latitude and longitude in the wrong order, as far as it is certain: every feature lies on the
 * map with its coordinates exchanged, none as it is, and there are several.
 */
function axesCheck([west, south, east, north]: Bbox): {
  see(raw: RawFeature): void;
  areSwapped(): boolean;
  onMap(): number;
} {
  const SEVERAL = 3;
  let [all, asIs, exchanged] = [0, 0, 0];
  const on = (lon: number, lat: number): boolean =>
    lon >= west && lon <= east && lat >= south && lat <= north;
  return {
    see({ shape }) {
      const coords = shape.type === "area" ? shape.polygons[0]![0]! : shape.coords;
      all++;
      // A few positions along it: a long line may begin off the map.
      const step = 2 * Math.max(1, Math.floor(coords.length / 16));
      let [here, there] = [false, false];
      for (let i = 0; i + 1 < coords.length; i += step) {
        here ||= on(coords[i]!, coords[i + 1]!);
        there ||= on(coords[i + 1]!, coords[i]!);
      }
      if (here) asIs++;
      if (there) exchanged++;
    },
    areSwapped: () => all >= SEVERAL && asIs === 0 && exchanged === all,
    onMap: () => asIs,
  };
}
