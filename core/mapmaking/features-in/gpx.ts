/** GPX: tracks and routes as lines, waypoints as points. Source: GPX 1.1 schema, topografix.com; 1.0 differs little. */
import { badFeatures, type FeatureFile, type Tick } from "../../files/feature-file.ts";
import { type Emit, type Passed, put } from "./raw-feature.ts";
import { DEGREES, toWgs84 } from "./to-wgs84.ts";
import { readXml } from "../../files/xml.ts";

/** What a track, route or waypoint says of itself that is kept. */
const KEPT = new Set(["name", "type", "sym", "ele"]);

/**
 * Every segment of a track is a line of its own, tagged gpx=track; routes gpx=route; waypoints gpx=waypoint.
 * @throws Fault "bad-features" naming the line for a position that is none
 */
export async function readGpx(file: FeatureFile, emit: Emit, passed: Passed, tick: Tick): Promise<void> {
  const place = toWgs84(DEGREES, file.key);
  await readXml(file, tick, ({ where }) => {
    const path: string[] = [];
    let tags: Record<string, string | number | boolean> = {};
    let coords: number[] = [];
    let text = "";
    let segments: Float64Array[] = [];
    const at = (): string => where().slice(file.key.length + 2);
    const position = (a: Readonly<Record<string, string>>): void => {
      const lon = number(a["lon"]);
      const lat = number(a["lat"]);
      if (Number.isNaN(lon) || Number.isNaN(lat))
        throw badFeatures(
          `A position is no pair of numbers: lat “${a["lat"]?.slice(0, 30) ?? ""}”, lon “${a["lon"]?.slice(0, 30) ?? ""}”.`,
          where(),
        );
      coords.push(lon, lat);
    };
    const endLine = (): void => {
      if (coords.length >= 4) segments.push(place(Float64Array.from(coords), at()));
      else passed.noShape++;
      coords = [];
    };
    return {
      open(name, a) {
        if (path.length === 0 && name !== "gpx")
          throw badFeatures(`This is no GPX: it begins with “${name.slice(0, 40)}”.`, where());
        path.push(name);
        text = "";
        if (name === "trk" || name === "rte" || name === "wpt") {
          tags = { gpx: name === "trk" ? "track" : name === "rte" ? "route" : "waypoint" };
          coords = [];
          segments = [];
        }
        if (name === "wpt" || name === "rtept" || name === "trkpt") position(a);
      },
      text(piece) {
        if (text.length < 10_000) text += piece;
      },
      close(name) {
        path.pop();
        const parent = path.at(-1);
        if ((parent === "trk" || parent === "rte" || parent === "wpt") && KEPT.has(name)) {
          const value = text.trim();
          if (value !== "") put(tags, name, value);
        }
        if (name === "trkseg") endLine();
        else if (name === "rte") endLine();
        else if (name === "wpt")
          emit({
            where: at(),
            tags,
            shape: { type: "point", coords: place(Float64Array.from(coords), at()) },
          });
        if (name === "trk" || name === "rte")
          for (const line of segments) emit({ where: at(), tags, shape: { type: "line", coords: line } });
        text = "";
      },
    };
  });
}

const number = (text: string | undefined): number =>
  text === undefined || text.trim() === "" ? Number.NaN : Number(text);
