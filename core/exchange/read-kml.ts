/** Lines, tracks, points and edges of areas of KML. Source: OGC 12-007r2 (KML 2.3), 07-147r2 (KML 2.2). Links are not followed. */
import type { FeatureFile } from "../files/feature-file.ts";
import {
  draft,
  type Draft,
  noteTime,
  type Positions,
  type RawExchange,
  type ReadOptions,
  trimmed,
} from "./exchange.ts";
import { LeftOut } from "./left-out.ts";
import { Outlines } from "./outlines.ts";
import { figure, readXmlExchange } from "./read-xml-exchange.ts";

/** Children of a placemark that are kept in one way or another, or told apart below. */
const OF_PLACE = new Set([
  "name",
  "description",
  "Point",
  "LineString",
  "LinearRing",
  "Track",
  "MultiTrack",
  "MultiGeometry",
  "Polygon",
  "ExtendedData",
]);
const LINE_TAGS = new Set(["LineString", "LinearRing", "Track"]);
/** How things look, and from where. */
const LOOKS = new Set(["Style", "styleUrl", "StyleMap", "visibility", "open", "LookAt", "Camera"]);
const OVERLAYS = new Set(["GroundOverlay", "ScreenOverlay", "PhotoOverlay"]);
/** Named values beside a place or along a track. */
const EXTRA = new Set(["Data", "SimpleData", "SimpleArrayData"]);

/** @throws Fault "bad-features" naming the line */
export async function readKml(file: FeatureFile, options: ReadOptions): Promise<RawExchange> {
  const ofPlaces = new LeftOut();
  const extra = new LeftOut();
  const outlines = new Outlines();
  const points = draft("points");
  let [looks, overlays, folders, empty, links] = [0, 0, 0, 0, 0];
  let name: string | null = null;
  let notes = "";
  /** Of the placemark: lines take its name once they are all known. */
  let lines: Draft[] = [];
  let pointsFrom = 0;
  let line: Draft | null = null;
  const read = await readXmlExchange(file, "kml", options, (into, positions, where) => ({
    open({ tag, parent }, attributes) {
      if (LOOKS.has(tag)) looks++;
      else if (EXTRA.has(tag)) extra.add(attributes["name"] ?? tag);
      else if (OVERLAYS.has(tag)) overlays++;
      else if (parent === "Placemark" && !OF_PLACE.has(tag)) ofPlaces.add(tag);
      else if (parent === "Folder" && (tag === "name" || tag === "description")) folders++;
      if (tag === "Placemark") [name, notes, lines, pointsFrom] = [null, "", [], points.positions.length];
      else if (tag === "NetworkLink") links++;
      else if (tag === "innerBoundaryIs") outlines.holes++;
      else if (tag === "LinearRing" && parent === "outerBoundaryIs") line = outlines.begin();
      else if (LINE_TAGS.has(tag) && parent !== "innerBoundaryIs")
        line = draft(tag === "Track" ? "track" : "line");
    },
    close({ tag, within, parent }, text) {
      const value = text.trim();
      if (parent === "Placemark" && tag === "name") name = trimmed(value);
      else if (parent === "Placemark" && tag === "description") notes = value;
      else if (parent === "Document" && within.length === 2) {
        if (tag === "name") into.title = trimmed(value);
        else if (tag === "description") into.notes = value;
      }
      if (tag === "coordinates") {
        const to = parent === "Point" ? points : LINE_TAGS.has(parent) ? line : null;
        if (to && value !== "") addTuples(to, value, positions, where);
      } else if (tag === "coord" && line) {
        if (value !== "") addFigures(line, value.split(/\s+/), positions, where);
      } else if (tag === "when" && line) noteTime(line, value);
      else if (LINE_TAGS.has(tag) && line) {
        if (line.kind === "outline") outlines.end(line);
        lines.push(line);
        line = null;
      } else if (tag === "Placemark") {
        for (const one of lines) Object.assign(one, { name, notes });
        into.drafts.push(...lines);
        for (let i = pointsFrom; i < points.positions.length; i++) {
          points.names[i] = name;
          points.pointNotes[i] = notes;
        }
        if (lines.length === 0 && points.positions.length === pointsFrom) empty++;
      }
    },
  }));
  if (points.positions.length > 0) read.drafts.push(points);
  read.report.push(...outlines.sentences());
  if (links > 0) read.report.push(`Links were not followed: ${links}.`);
  if (overlays > 0) read.report.push(`Pictures laid over the map were left out: ${overlays}.`);
  if (empty > 0) read.report.push(`Places without a line or a point were left out: ${empty}.`);
  if (folders > 0) read.report.push(`Names and descriptions of folders were left out: ${folders}.`);
  if (looks > 0) read.report.push(`Colours, looks and views were left out: ${looks}.`);
  read.report.push(...extra.sentences("places"), ...ofPlaces.sentences("places"));
  return read;
}

/** Positions as `coordinates` has them: longitude, latitude and height between commas, positions between spaces. */
function addTuples(to: Draft, text: string, positions: Positions, where: () => string): void {
  // Spaces after commas are against the schema, and in many files.
  for (const tuple of text.replaceAll(/\s*,\s*/g, ",").split(/\s+/))
    addFigures(to, tuple.split(","), positions, where);
}

function addFigures(to: Draft, figures: readonly string[], positions: Positions, where: () => string): void {
  const [lon, lat, height = ""] = figures;
  positions.add(to, figure(lon), figure(lat), where(), height !== "" && figure(height) !== 0);
}
