/**
 * A walk as GPX 1.1. Order of elements and ranges: gpx.xsd of GPX 1.1, topografix.com/GPX/1/1.
 */
import type { Walk } from "../walk/walk.ts";
import { element, writtenPlace, writtenPoints, type WrittenPoint } from "./clean-text.ts";
import { type ExchangeParts, heightText } from "./parts.ts";

/** The text of a GPX file: waypoints, a route and a track, as far as they are asked for. */
export function writeGpx(walk: Walk, { points, legs, track, heightsM, notes }: ExchangeParts): string {
  const written = writtenPoints(walk);
  const head = element("name", walk.title) + element("desc", notes ? walk.notes : "");
  const wpt = (tag: string, { label, note, lon, lat }: WrittenPoint, i: number): string =>
    `<${tag} lat="${lat}" lon="${lon}">${element("ele", heightText(heightsM?.[i]))}${element("name", label)}${element("desc", notes ? note : "")}</${tag}>`;
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="Legwright">',
    `<metadata>${head}</metadata>`,
  ];
  if (points) lines.push(...written.map((p, i) => wpt("wpt", p, i)));
  if (legs) lines.push(`<rte>${head}`, ...written.map((p, i) => wpt("rtept", p, i)), "</rte>");
  if (track)
    lines.push(
      `<trk>${head}<trkseg>`,
      ...track.map(({ lonLat, heightM }) => {
        const { lon, lat } = writtenPlace(lonLat);
        return `<trkpt lat="${lat}" lon="${lon}">${element("ele", heightText(heightM))}</trkpt>`;
      }),
      "</trkseg></trk>",
    );
  return `${[...lines, "</gpx>"].join("\n")}\n`;
}
