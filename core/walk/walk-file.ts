/**
 * Walk files, `*.walk.geojson`: an RFC 7946 FeatureCollection (points in order, then the legs as lines) with one
 * foreign member `legwright`. Any GIS opens it; what other programs add survives a round trip.
 * `parseWalk` also takes any GeoJSON that holds one LineString, or Points in order.
 */
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";
import { readPlainGeoJson } from "./plain-geojson.ts";
import { locateJsonError, members, type Members, position, text, without } from "./json-reading.ts";
import { OWN_INSTRUCTION, readOwnInstruction, writeOwnInstruction } from "./own-instruction-file.ts";
import { emptyWalk, NOTHING_UNKNOWN, pointLabel, type Walk, type WalkPoint } from "./walk.ts";
import { MAX_POINTS } from "./walk-rules.ts";
import { readWalkSettings, WALK_SETTINGS } from "./walk-settings.ts";

/** Version of the file format this code writes. */
export const WALK_FILE_VERSION = 1;

/** 5,000 points with notes stay far below; larger is not a walk file. */
const MAX_FILE_CHARACTERS = 32 * 1024 * 1024;

export interface ParsedWalk {
  readonly walk: Walk;
  /** What was put right or left out while reading, in plain sentences. */
  readonly repairs: readonly string[];
  /** Written by a newer version: show it, do not save over it. */
  readonly newer: boolean;
  /** Not a walk file but GeoJSON of some other making: saving over it would take it from its program. */
  readonly foreign: boolean;
}

/**
 * Reads a walk file, or any GeoJSON with one LineString or with Points in order.
 * @param content the file's text
 * @param where its name, for messages
 * @param today day (YYYY-MM-DD) given to a walk whose file has none
 * @throws Fault "bad-walk" naming the place when the text is not such a file; nothing half-read is returned
 */
export function parseWalk(content: string, where: string, today: string): ParsedWalk {
  if (content.length > MAX_FILE_CHARACTERS)
    throw new Fault("bad-walk", "The file is too large to be a walk.", where, "Choose a walk file.");
  let json: unknown;
  try {
    // A byte-order mark is not JSON, but some editors write one.
    json = JSON.parse(content.replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new Fault(
      "bad-walk",
      "The file is not valid JSON.",
      `${where}${locateJsonError(content, error)}`,
      "Restore an earlier copy.",
    );
  }
  const collection = members(json, where);
  if (collection["legwright"] === undefined) {
    const plain = readPlainGeoJson(collection, where);
    const walk = pointsIntoWalk(emptyWalk(today), plain.positions, plain.names);
    return {
      walk: { ...walk, title: plain.title ?? walk.title },
      repairs: plain.repairs,
      newer: false,
      foreign: true,
    };
  }
  return readOwn(collection, members(collection["legwright"], `${where}, legwright`), where, today);
}

function readOwn(collection: Members, own: Members, where: string, today: string): ParsedWalk {
  const version = own["version"];
  if (typeof version !== "number" || !Number.isInteger(version) || version < 1)
    throw new Fault("bad-walk", "The walk's version is missing.", `${where}, legwright.version`);
  if (collection["type"] !== "FeatureCollection" || !Array.isArray(collection["features"]))
    throw new Fault("bad-walk", "A walk file is a GeoJSON FeatureCollection; this is not one.", where);

  const repairs: string[] = [];
  const points: WalkPoint[] = [];
  const legs: Pick<WalkPoint, "aimOff" | "instruction" | "unknownOfLeg">[] = [];
  const others: unknown[] = [];
  const ids = new Set<string>();
  collection["features"].forEach((value: unknown, i: number) => {
    const place = `${where}, feature ${i + 1}`;
    const feature = members(value, place);
    const properties =
      feature["properties"] === null || feature["properties"] === undefined
        ? {}
        : members(feature["properties"], place);
    const part = properties["part"];
    if (part === "point") points.push(readPoint(feature, properties, place, ids, repairs));
    else if (part === "leg")
      legs.push({
        aimOff: properties["aimOff"] === true,
        instruction: readOwnInstruction(properties, place),
        unknownOfLeg: {
          feature: without(feature, ["type", "id", "geometry", "properties"]),
          properties: without(properties, [
            "part",
            "n",
            "from",
            "to",
            ...(properties["aimOff"] === true ? ["aimOff"] : []),
            OWN_INSTRUCTION,
          ]),
        },
      });
    else others.push(value);
  });
  if (points.length > MAX_POINTS)
    throw new Fault("bad-walk", `A walk holds at most ${MAX_POINTS} points.`, where);

  const walk: Walk = {
    ...readWalkSettings(own, where, today, repairs),
    points: points.map((point, i) => ({ ...point, ...legs[i] })),
    unknown: {
      collection: without(collection, ["type", "features", "legwright"]),
      walk: without(own, ["version", ...WALK_SETTINGS]),
      features: others,
    },
  };
  return { walk, repairs, newer: version > WALK_FILE_VERSION, foreign: false };
}

function readPoint(
  feature: Members,
  properties: Members,
  place: string,
  ids: Set<string>,
  repairs: string[],
): WalkPoint {
  const geometry = members(feature["geometry"], `${place}, geometry`);
  if (geometry["type"] !== "Point")
    throw new Fault("bad-walk", "A point of the walk must be a GeoJSON Point.", place);
  let id = typeof feature["id"] === "string" ? feature["id"] : "";
  if (id === "" || ids.has(id)) {
    if (id !== "") repairs.push(`Two points have the id ${id}: one was given another.`);
    for (let n = ids.size + 1; id === "" || ids.has(id); n++) id = `p${n}`;
  }
  ids.add(id);
  return {
    id,
    name:
      properties["name"] === undefined || properties["name"] === null
        ? null
        : text(properties["name"], `${place}, name`),
    lonLat: position(geometry["coordinates"], `${place}, coordinates`),
    note: properties["note"] === undefined ? "" : text(properties["note"], `${place}, note`),
    unknown: {
      feature: without(feature, ["type", "id", "geometry", "properties"]),
      properties: without(properties, ["part", "label", "name", "note"]),
    },
    aimOff: false,
    instruction: null,
    unknownOfLeg: NOTHING_UNKNOWN,
  };
}

function pointsIntoWalk(walk: Walk, positions: readonly LonLat[], names: readonly (string | null)[]): Walk {
  return {
    ...walk,
    points: positions.map((lonLat, i) => ({
      id: `p${i + 1}`,
      name: names[i] ?? null,
      lonLat,
      note: "",
      unknown: NOTHING_UNKNOWN,
      aimOff: false,
      instruction: null,
      unknownOfLeg: NOTHING_UNKNOWN,
    })),
  };
}

/** Nine decimals of a degree are a tenth of a millimetre: more is noise that makes files differ. */
const rounded = (position: LonLat): [number, number] => [
  Number(position[0].toFixed(9)),
  Number(position[1].toFixed(9)),
];

/**
 * The walk as the text of a walk file: equal walks give equal texts, one feature a line so that two versions compare.
 */
export function formatWalk(walk: Walk): string {
  const features: unknown[] = walk.points.map((point, i) => ({
    type: "Feature",
    id: point.id,
    geometry: { type: "Point", coordinates: rounded(point.lonLat) },
    properties: {
      part: "point",
      label: pointLabel(walk, i),
      name: point.name,
      note: point.note,
      ...point.unknown.properties,
    },
    ...point.unknown.feature,
  }));
  walk.points.slice(1).forEach((to, i) => {
    const from = walk.points[i] as WalkPoint;
    features.push({
      type: "Feature",
      geometry: { type: "LineString", coordinates: [rounded(from.lonLat), rounded(to.lonLat)] },
      properties: {
        part: "leg",
        n: i + 1,
        from: pointLabel(walk, i),
        to: pointLabel(walk, i + 1),
        ...(from.aimOff && { aimOff: true }),
        ...writeOwnInstruction(from.instruction),
        ...from.unknownOfLeg.properties,
      },
      ...from.unknownOfLeg.feature,
    });
  });
  features.push(...walk.unknown.features);
  const settings = Object.fromEntries(WALK_SETTINGS.map((key) => [key, walk[key]]));
  const head = {
    type: "FeatureCollection",
    legwright: { version: WALK_FILE_VERSION, ...settings, ...walk.unknown.walk },
    ...walk.unknown.collection,
  };
  const lines = features.map((feature) => `  ${JSON.stringify(feature)}`).join(",\n");
  return `${JSON.stringify(head, null, 1).slice(0, -2)},\n "features": [${lines ? `\n${lines}\n ` : ""}]\n}\n`;
}
