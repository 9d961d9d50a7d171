/** Routes, tracks and waypoints of GPX 1.1 and 1.0. Source: the schemas of both, topografix.com. */
import { badFeatures, type FeatureFile, noTick } from "../files/feature-file.ts";
import { readXml } from "../files/xml.ts";
import {
  describeLast,
  draft,
  type Draft,
  noteTime,
  Positions,
  type RawExchange,
  type ReadOptions,
  trimmed,
} from "./exchange.ts";
import { LeftOut } from "./left-out.ts";

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
  const positions = new Positions(options);
  const result = { title: null as string | null, notes: "", drafts: [] as Draft[], report: [] as string[] };
  const waypoints = draft("points");
  const ofPositions = new LeftOut();
  const ofLines = new LeftOut();
  const ofFile = new LeftOut();
  let segments = 0;
  await readXml(file, noTick, ({ where }) => {
    const path: string[] = [];
    let text = "";
    let current: Draft | null = null;
    let point: { name: string | null; note: string; comment: string } | null = null;
    const number = (value: string | undefined): number =>
      value === undefined || !/^\s*[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?\s*$/.test(value)
        ? Number.NaN
        : Number(value);
    return {
      open(name, a) {
        if (path.length === 0 && name !== "gpx")
          throw badFeatures(`This is no GPX: it begins with “${name.slice(0, 40)}”.`, where());
        const parent = path.at(-1);
        path.push(name);
        text = "";
        if (parent === "gpx" && (name === "rte" || name === "trk"))
          result.drafts.push((current = draft(name === "rte" ? "route" : "track")));
        else if (name === "trkseg" && current) segments += current.positions.length > 0 ? 1 : 0;
        else if (PATH_OF[name] !== undefined && PATH_OF[name] === parent) {
          if (name === "wpt") current = waypoints;
          if (!current) return;
          positions.add(current, number(a["lon"]), number(a["lat"]), where());
          point = { name: null, note: "", comment: "" };
        }
      },
      text(piece) {
        text += piece;
      },
      close(name) {
        path.pop();
        const parent = path.at(-1) ?? "";
        const value = text;
        text = "";
        if (point && current && PATH_OF[parent] !== undefined) {
          if (name === "name") point.name = trimmed(value);
          else if (name === "desc") point.note = value.trim();
          else if (name === "cmt") point.comment = value.trim();
          else if (name === "time") noteTime(current, value.trim());
          else if (name === "ele" && value.trim() !== "") current.heights++;
          else if (!OF_POSITION.has(name)) ofPositions.add(name);
        } else if (PATH_OF[name] !== undefined && point && current) {
          describeLast(current, point.name, together(point.note, point.comment));
          point = null;
        } else if ((parent === "rte" || parent === "trk") && current) {
          if (name === "name") current.name = trimmed(value);
          // The schema has the comment before the description.
          else if (name === "desc") current.notes = together(value.trim(), current.notes);
          else if (name === "cmt") current.notes = together(current.notes, value.trim());
          else if (!OF_LINE.has(name)) ofLines.add(name);
        } else if (parent === "trkseg") ofLines.add(name);
        else if (parent === "metadata" || (parent === "gpx" && path.length === 1)) {
          if (name === "name") result.title = trimmed(value);
          else if (name === "desc") result.notes = value.trim();
          else if (!OF_FILE.has(name)) ofFile.add(name);
        }
        if (name === "rte" || name === "trk" || name === "wpt") current = null;
      },
    };
  });
  if (waypoints.positions.length > 0) result.drafts.push(waypoints);
  if (segments > 0)
    result.report.push(
      `Segments of tracks were joined in ${segments} ${segments === 1 ? "place" : "places"}: a leg now crosses each gap.`,
    );
  result.report.push(
    ...ofPositions.sentences("positions"),
    ...ofLines.sentences("routes and tracks"),
    ...ofFile.sentences("the file"),
  );
  return { ...result, odd: positions.odd };
}
