/** A walk as plain GeoJSON, with nothing of the walk file but points, lines and texts. Source: RFC 7946. */
import type { LonLat } from "../units/position.ts";
import { pointLabel, type Walk } from "../walk/walk.ts";
import { wholeText } from "./clean-text.ts";
import type { ExchangeParts } from "./parts.ts";

const nine = ([lon, lat]: LonLat): [number, number] => [Number(lon.toFixed(9)), Number(lat.toFixed(9))];
const tenths = (metres: number | null | undefined): number | null =>
  metres === null || metres === undefined ? null : Number(metres.toFixed(1));

/**
 * A FeatureCollection: the points in order, then the legs as one LineString, then the ground along them as another. Heights are
 * properties: a third coordinate would be a height above the ellipsoid, and a map's heights are not that.
 */
export function writeGeoJson(walk: Walk, { points, legs, track, heightsM, notes }: ExchangeParts): string {
  const feature = (geometry: object, properties: object): string =>
    `  ${JSON.stringify({ type: "Feature", geometry, properties })}`;
  const about = {
    name: wholeText(walk.title),
    ...(notes && { description: wholeText(walk.notes) }),
  };
  const line = (places: readonly LonLat[], properties: object): string[] =>
    places.length < 2
      ? []
      : [feature({ type: "LineString", coordinates: places.map(nine) }, { ...about, ...properties })];
  const features = [
    ...(points
      ? walk.points.map((point, i) =>
          feature(
            { type: "Point", coordinates: nine(point.lonLat) },
            {
              name: wholeText(pointLabel(walk, i)),
              ...(notes && { description: wholeText(point.note) }),
              ...(heightsM && { elevationM: tenths(heightsM[i]) }),
            },
          ),
        )
      : []),
    ...(legs
      ? line(
          walk.points.map(({ lonLat }) => lonLat),
          {},
        )
      : []),
    ...(track
      ? line(
          track.map(({ lonLat }) => lonLat),
          { elevationM: track.map(({ heightM }) => tenths(heightM)) },
        )
      : []),
  ];
  const members = Object.entries(about).map(([key, text]) => `"${key}":${JSON.stringify(text)},\n`);
  return `{"type":"FeatureCollection",\n${members.join("")}"features":[\n${features.join(",\n")}\n]}\n`;
}
