/**
 * A walk as GPX 1.1. Order of elements and ranges: gpx.xsd of GPX 1.1, topografix.com/GPX/1/1.
 */
import type { Walk } from "../walk/walk.ts";
import { element, writtenPoints, type WrittenPoint } from "./clean-text.ts";

export interface GpxParts {
  /** Each point as a waypoint too, for receivers that show no names along routes. */
  readonly waypoints: boolean;
  /** The legs as a track too, its points where the walk has them. */
  readonly track: boolean;
  /** Heights of the points, metres above the map's datum, for the track; null where there is none. */
  readonly elevationsM: readonly (number | null)[] | null;
}

const wpt = (tag: string, { label, note, lon, lat }: WrittenPoint): string =>
  `<${tag} lat="${lat}" lon="${lon}">${element("name", label)}${element("desc", note)}</${tag}>`;

/** The text of a GPX file: a route whose points have the labels of the walk's points as names and their notes as description. */
export function writeGpx(walk: Walk, { waypoints, track, elevationsM }: GpxParts): string {
  const points = writtenPoints(walk);
  const head = element("name", walk.title) + element("desc", walk.notes);
  const height = (i: number): string => {
    const m = elevationsM?.[i];
    return m === null || m === undefined ? "" : `<ele>${m.toFixed(1)}</ele>`;
  };
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="Legwright">',
    `<metadata>${head}</metadata>`,
    ...(waypoints ? points.map((p) => wpt("wpt", p)) : []),
    `<rte>${head}`,
    ...points.map((p) => wpt("rtept", p)),
    "</rte>",
  ];
  if (track)
    lines.push(
      `<trk>${head}<trkseg>`,
      ...points.map(({ lon, lat }, i) => `<trkpt lat="${lat}" lon="${lon}">${height(i)}</trkpt>`),
      "</trkseg></trk>",
    );
  return `${[...lines, "</gpx>"].join("\n")}\n`;
}
