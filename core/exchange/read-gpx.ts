/** Routes, tracks and waypoints of GPX 1.1 and 1.0. Source: the schemas of both, topografix.com. */
import type { FeatureFile } from "../files/feature-file.ts";
import {
  describeLast,
  draft,
  type Draft,
  noteTime,
  type RawExchange,
  type ReadOptions,
  trimmed,
} from "./exchange.ts";
import { LeftOut } from "./left-out.ts";
import { figure, readXmlExchange } from "./read-xml-exchange.ts";

const PATH_OF: Readonly<Record<string, string>> = { wpt: "gpx", rtept: "rte", trkpt: "trkseg" };
/** Children of a position, of a route or track, of the file that are kept in one way or another, or say nothing new. */
const OF_POSITION = new Set(["ele", "time", "name", "desc", "cmt"]);
const OF_LINE = new Set(["name", "desc", "cmt", "rtept", "trkseg"]);
const OF_FILE = new Set(["name", "desc", "bounds", "metadata", "wpt", "rte", "trk"]);

/** Description and comment are two fields there, and one note here. */
const together = (description: string, comment: string): string =>
  description === "" || description === comment
    ? comment
    : comment === ""
      ? description
      : `${description}\n${comment}`;

/** @throws Fault "bad-features" naming the line */
export async function readGpx(file: FeatureFile, options: ReadOptions): Promise<RawExchange> {
  const waypoints = draft("points");
  const ofPositions = new LeftOut();
  const ofLines = new LeftOut();
  const ofFile = new LeftOut();
  let segments = 0;
  let current: Draft | null = null;
  let point: { name: string | null; note: string; comment: string } | null = null;
  const read = await readXmlExchange(file, "gpx", options, (into, positions, where) => ({
    open({ tag, parent }, a) {
      if (parent === "gpx" && (tag === "rte" || tag === "trk"))
        into.drafts.push((current = draft(tag === "rte" ? "route" : "track")));
      else if (tag === "trkseg" && current) segments += current.positions.length > 0 ? 1 : 0;
      else if (PATH_OF[tag] !== undefined && PATH_OF[tag] === parent) {
        if (tag === "wpt") current = waypoints;
        if (!current) return;
        positions.add(current, figure(a["lon"]), figure(a["lat"]), where());
        point = { name: null, note: "", comment: "" };
      }
    },
    close({ tag, within, parent }, text) {
      const value = text.trim();
      if (point && current && PATH_OF[parent] !== undefined) {
        if (tag === "name") point.name = trimmed(value);
        else if (tag === "desc") point.note = value;
        else if (tag === "cmt") point.comment = value;
        else if (tag === "time") noteTime(current, value);
        else if (tag === "ele" && value !== "") current.heights++;
        else if (!OF_POSITION.has(tag)) ofPositions.add(tag);
      } else if (PATH_OF[tag] !== undefined && point && current) {
        describeLast(current, point.name, together(point.note, point.comment));
        point = null;
      } else if ((parent === "rte" || parent === "trk") && current) {
        if (tag === "name") current.name = trimmed(value);
        // The schema has the comment before the description.
        else if (tag === "desc") current.notes = together(value, current.notes);
        else if (tag === "cmt") current.notes = together(current.notes, value);
        else if (!OF_LINE.has(tag)) ofLines.add(tag);
      } else if (parent === "trkseg") ofLines.add(tag);
      else if (parent === "metadata" || (parent === "gpx" && within.length === 1)) {
        if (tag === "name") into.title = trimmed(value);
        else if (tag === "desc") into.notes = value;
        else if (!OF_FILE.has(tag)) ofFile.add(tag);
      }
      if (tag === "rte" || tag === "trk" || tag === "wpt") current = null;
    },
  }));
  if (waypoints.positions.length > 0) read.drafts.push(waypoints);
  if (segments > 0)
    read.report.push(
      `Segments of tracks were joined in ${segments} ${segments === 1 ? "place" : "places"}: a leg now crosses each gap.`,
    );
  read.report.push(
    ...ofPositions.sentences("positions"),
    ...ofLines.sentences("routes and tracks"),
    ...ofFile.sentences("the file"),
  );
  return read;
}
