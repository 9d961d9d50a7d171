/** A walk as KML and KMZ. Source: OGC 12-007r2 (KML 2.3); order of elements as in its schema. */
import { strToU8, zipSync } from "fflate";
import type { Walk } from "../walk/walk.ts";
import { element, writtenPoints } from "./clean-text.ts";

/** The text of a KML file: a folder with the points, then the legs as one line, on the ground. */
export function writeKml(walk: Walk): string {
  const points = writtenPoints(walk);
  const head = element("name", walk.title) + element("description", walk.notes);
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<kml xmlns="http://www.opengis.net/kml/2.3" version="2.3">',
    `<Document>${head}`,
    "<Folder><name>Points</name>",
    ...points.map(
      ({ label, note, lon, lat }) =>
        `<Placemark>${element("name", label)}${element("description", note)}<Point><coordinates>${lon},${lat}</coordinates></Point></Placemark>`,
    ),
    "</Folder>",
  ];
  // A line of one position is none.
  if (points.length > 1)
    lines.push(
      `<Placemark>${head}<LineString><tessellate>1</tessellate><coordinates>`,
      ...points.map(({ lon, lat }) => `${lon},${lat}`),
      "</coordinates></LineString></Placemark>",
    );
  return `${[...lines, "</Document></kml>"].join("\n")}\n`;
}

/** The same, packed: one `doc.kml`, dated 1980 so that equal walks give equal bytes. */
export const writeKmz = (walk: Walk): Uint8Array =>
  zipSync({ "doc.kml": [strToU8(writeKml(walk)), { mtime: "1980-01-02T00:00:00" }] });
