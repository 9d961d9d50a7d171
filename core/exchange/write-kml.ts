/** A walk as KML and KMZ. Source: OGC 12-007r2 (KML 2.3); order of elements as in its schema. */
import { strToU8, zipSync } from "fflate";
import type { Walk } from "../walk/walk.ts";
import { element, writtenPlace, writtenPoints } from "./clean-text.ts";
import { type ExchangeParts, heightText } from "./parts.ts";

/** The text of a KML file: a folder with the points, then the legs as one line, then the ground along them. */
export function writeKml(walk: Walk, { points, legs, track, heightsM, notes }: ExchangeParts): string {
  const written = writtenPoints(walk);
  const head = element("name", walk.title) + element("description", notes ? walk.notes : "");
  const tuple = (lon: string, lat: string, heightM: number | null | undefined): string =>
    [lon, lat, heightText(heightM)].filter(Boolean).join(",");
  const line = (coordinates: readonly string[]): string[] =>
    // A line of one position is none.
    coordinates.length < 2
      ? []
      : [
          `<Placemark>${head}<LineString><tessellate>1</tessellate><coordinates>`,
          ...coordinates,
          "</coordinates></LineString></Placemark>",
        ];
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<kml xmlns="http://www.opengis.net/kml/2.3" version="2.3">',
    `<Document>${head}`,
  ];
  if (points)
    lines.push(
      "<Folder><name>Points</name>",
      ...written.map(
        ({ label, note, lon, lat }, i) =>
          `<Placemark>${element("name", label)}${element("description", notes ? note : "")}<Point><coordinates>${tuple(lon, lat, heightsM?.[i])}</coordinates></Point></Placemark>`,
      ),
      "</Folder>",
    );
  if (legs) lines.push(...line(written.map(({ lon, lat }, i) => tuple(lon, lat, heightsM?.[i]))));
  if (track)
    lines.push(
      ...line(
        track.map(({ lonLat, heightM }) => {
          const { lon, lat } = writtenPlace(lonLat);
          return tuple(lon, lat, heightM);
        }),
      ),
    );
  return `${[...lines, "</Document></kml>"].join("\n")}\n`;
}

/** KML packed: one `doc.kml`, dated 1980 so that equal walks give equal bytes. */
export const packKml = (kml: string): Uint8Array =>
  zipSync({ "doc.kml": [strToU8(kml), { mtime: "1980-01-02T00:00:00" }] });
