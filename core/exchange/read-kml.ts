/** Lines, tracks and points of KML. Source: OGC 12-007r2 (KML 2.3), 07-147r2 (KML 2.2). Links are not followed. */
import { badFeatures, type FeatureFile, noTick } from "../files/feature-file.ts";
import { readXml } from "../files/xml.ts";
import {
  draft,
  type Draft,
  noteTime,
  Positions,
  type RawExchange,
  type ReadOptions,
  trimmed,
} from "./exchange.ts";
import { LeftOut } from "./left-out.ts";

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/** Children of a placemark that are kept in one way or another, or told apart below. */
const OF_PLACE = new Set([
  "name",
  "description",
  "Point",
  "LineString",
  "Track",
  "MultiTrack",
  "MultiGeometry",
  "Polygon",
  "ExtendedData",
]);
/** How things look, and from where. */
const LOOKS = new Set(["Style", "styleUrl", "StyleMap", "visibility", "open", "LookAt", "Camera"]);
const OVERLAYS = new Set(["GroundOverlay", "ScreenOverlay", "PhotoOverlay"]);
/** Named values beside a place or along a track. */
const EXTRA = new Set(["Data", "SimpleData", "SimpleArrayData"]);

/** @throws Fault "bad-features" naming the line */
export async function readKml(file: FeatureFile, options: ReadOptions): Promise<RawExchange> {
  const positions = new Positions(options);
  const result = { title: null as string | null, notes: "", drafts: [] as Draft[], report: [] as string[] };
  const ofPlaces = new LeftOut();
  const extra = new LeftOut();
  let looks = 0;
  let overlays = 0;
  let folders = 0;
  const points = draft("points");
  let areas = 0;
  let empty = 0;
  let links = 0;
  await readXml(file, noTick, ({ where }) => {
    const path: string[] = [];
    let text = "";
    let name: string | null = null;
    let notes = "";
    /** Of the placemark: lines take its name once they are all known. */
    let lines: Draft[] = [];
    let pointsFrom = 0;
    let line: Draft | null = null;
    const add = (to: Draft, figures: readonly string[]): void => {
      const [lon = "", lat = "", height] = figures;
      const read = (figure: string): number => (NUMBER.test(figure) ? Number(figure) : Number.NaN);
      positions.add(
        to,
        read(lon),
        read(lat),
        where(),
        height !== undefined && height !== "" && read(height) !== 0,
      );
    };
    return {
      open(tag, attributes) {
        if (path.length === 0 && tag !== "kml")
          throw badFeatures(`This is no KML: it begins with “${tag.slice(0, 40)}”.`, where());
        const within = path.at(-1);
        path.push(tag);
        text = "";
        if (LOOKS.has(tag)) looks++;
        else if (EXTRA.has(tag)) extra.add(attributes["name"] ?? tag);
        else if (OVERLAYS.has(tag)) overlays++;
        else if (within === "Placemark" && !OF_PLACE.has(tag)) ofPlaces.add(tag);
        else if (within === "Folder" && (tag === "name" || tag === "description")) folders++;
        if (tag === "Placemark") {
          [name, notes, lines, pointsFrom] = [null, "", [], points.positions.length];
        } else if (tag === "LineString" || tag === "Track") line = draft(tag === "Track" ? "track" : "line");
        else if (tag === "Polygon") areas++;
        else if (tag === "NetworkLink") links++;
      },
      text(piece) {
        text += piece;
      },
      close(tag) {
        path.pop();
        const parent = path.at(-1) ?? "";
        const value = text.trim();
        text = "";
        if (parent === "Placemark" && tag === "name") name = trimmed(value);
        else if (parent === "Placemark" && tag === "description") notes = value;
        else if (parent === "Document" && path.length === 2) {
          if (tag === "name") result.title = trimmed(value);
          else if (tag === "description") result.notes = value;
        }
        if (tag === "coordinates" && (parent === "LineString" || parent === "Point")) {
          const to = parent === "Point" ? points : line;
          // Spaces after commas are against the schema, and in many files.
          if (to && value !== "")
            for (const position of value.replaceAll(/\s*,\s*/g, ",").split(/\s+/))
              add(to, position.split(","));
        } else if (tag === "coord" && parent === "Track" && line) {
          if (value !== "") add(line, value.split(/\s+/));
        } else if (tag === "when" && parent === "Track" && line) noteTime(line, value);
        else if ((tag === "LineString" || tag === "Track") && line) {
          lines.push(line);
          line = null;
        } else if (tag === "Placemark") {
          for (const one of lines) Object.assign(one, { name, notes });
          result.drafts.push(...lines);
          for (let i = pointsFrom; i < points.positions.length; i++) {
            points.names[i] = name;
            points.pointNotes[i] = notes;
          }
          if (lines.length === 0 && points.positions.length === pointsFrom) empty++;
        }
      },
    };
  });
  if (points.positions.length > 0) {
    result.drafts.push(points);
  }
  if (areas > 0) result.report.push(`Areas were left out: ${areas}.`);
  if (links > 0) result.report.push(`Links were not followed: ${links}.`);
  if (overlays > 0) result.report.push(`Pictures laid over the map were left out: ${overlays}.`);
  if (empty > 0) result.report.push(`Places without a line or a point were left out: ${empty}.`);
  if (folders > 0) result.report.push(`Names and descriptions of folders were left out: ${folders}.`);
  if (looks > 0) result.report.push(`Colours, looks and views were left out: ${looks}.`);
  result.report.push(...extra.sentences("places"), ...ofPlaces.sentences("places"));
  return { ...result, odd: positions.odd };
}
