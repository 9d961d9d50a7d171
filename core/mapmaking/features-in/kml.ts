/** KML: placemarks with points, lines, areas and tracks. Source: OGC 12-007r2 (KML 2.3), 07-147r2 (KML 2.2). */
import { badFeatures, type FeatureFile, type Tick } from "../../files/feature-file.ts";
import { type Emit, type Passed, put, type Shape } from "./raw-feature.ts";
import { nestRings } from "./rings.ts";
import { DEGREES, toWgs84 } from "./to-wgs84.ts";
import { readXml } from "../../files/xml.ts";

const LINES = new Set(["LineString", "LinearRing", "Track"]);

/**
 * Names of the folders around a placemark become its tag "folder", separated by slashes; extended data become tags, and so
 * does what it is: kml=point, line, area or track.
 * Links to other files are not followed.
 * @throws Fault "bad-features" naming the line for a position that is none
 */
export async function readKml(file: FeatureFile, emit: Emit, passed: Passed, tick: Tick): Promise<void> {
  const place = toWgs84(DEGREES, file.key);
  await readXml(file, tick, ({ where }) => {
    const path: string[] = [];
    const folders: string[] = [];
    let tags: Record<string, string | number | boolean> | null = null;
    let shapes: Shape[] = [];
    /** Which of the shapes are tracks. */
    const tracks = new Set<number>();
    let coords: number[] = [];
    let rings: Float64Array[] = [];
    let dataName = "";
    let text = "";
    const at = (): string => where().slice(file.key.length + 2);
    const bad = (value: string): never => {
      throw badFeatures(`A position is no pair of numbers: “${value.slice(0, 40)}”.`, where());
    };
    const add = (position: string, separator: RegExp): void => {
      const [lon = "", lat = ""] = position.split(separator);
      const x = lon === "" ? Number.NaN : Number(lon);
      const y = lat === "" ? Number.NaN : Number(lat);
      if (!Number.isFinite(x) || !Number.isFinite(y)) bad(position);
      coords.push(x, y);
    };
    const taken = (): Float64Array => {
      const all = place(Float64Array.from(coords), at());
      coords = [];
      return all;
    };
    return {
      open(name, a) {
        if (path.length === 0 && name !== "kml" && name !== "Document" && name !== "Placemark")
          throw badFeatures(`This is no KML: it begins with “${name.slice(0, 40)}”.`, where());
        path.push(name);
        text = "";
        if (name === "Folder" || name === "Document") folders.push("");
        else if (name === "Placemark") {
          tags = {};
          shapes = [];
          tracks.clear();
        } else if (name === "Data" || name === "SimpleData") dataName = a["name"] ?? "";
        else if (name === "Polygon") rings = [];
        if (name === "Point" || LINES.has(name)) coords = [];
      },
      text(piece) {
        text += piece;
      },
      close(name) {
        path.pop();
        const parent = path.at(-1) ?? "";
        const value = text.trim();
        text = "";
        if (name === "Folder" || name === "Document") folders.pop();
        else if (name === "name" && (parent === "Folder" || parent === "Document")) {
          folders[folders.length - 1] = parent === "Folder" ? value : "";
        } else if (tags === null) return;
        else if (name === "name" && parent === "Placemark") {
          if (value !== "") put(tags, "name", value);
        } else if ((name === "value" && parent === "Data") || name === "SimpleData") {
          if (value !== "" && dataName !== "") put(tags, dataName.toLowerCase(), value);
        } else if (name === "coordinates") {
          // Spaces after commas are against the schema, and in many files.
          for (const position of value.replaceAll(/\s*,\s*/g, ",").split(/\s+/))
            if (position !== "") add(position, /,/);
        } else if (name === "coord" && parent === "Track") add(value, /\s+/);
        else if (name === "Point") {
          if (coords.length === 2) shapes.push({ type: "point", coords: taken() });
        } else if (name === "LinearRing" && parent.endsWith("BoundaryIs")) {
          const ring = taken();
          if (ring.length < 8 || ring[0] !== ring.at(-2) || ring[1] !== ring.at(-1))
            throw badFeatures("A ring of an area is not closed.", where());
          rings.push(ring);
        } else if (LINES.has(name)) {
          if (name === "Track") tracks.add(shapes.length);
          if (coords.length >= 4) shapes.push({ type: "line", coords: taken() });
        } else if (name === "Polygon") {
          const polygons = rings.length > 0 ? nestRings(rings) : [];
          if (polygons.length > 0) shapes.push({ type: "area", polygons });
        } else if (name === "Placemark") {
          const folder = folders.filter(Boolean).join("/");
          if (folder !== "") put(tags, "folder", folder);
          if (shapes.length === 0) passed.noShape++;
          for (const [k, shape] of shapes.entries())
            emit({ where: at(), tags: { ...tags, kml: tracks.has(k) ? "track" : shape.type }, shape });
          tags = null;
        }
      },
    };
  });
}
