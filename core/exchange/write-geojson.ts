/** A walk as plain GeoJSON, with nothing of the walk file but points, line and texts. Source: RFC 7946. */
import { wholeText } from "./clean-text.ts";
import { pointLabel, type Walk } from "../walk/walk.ts";

const nine = ([lon, lat]: readonly [number, number]): [number, number] => [
  Number(lon.toFixed(9)),
  Number(lat.toFixed(9)),
];

/** A FeatureCollection: the points in order, then the legs as one LineString where there are two points or more. */
export function writeGeoJson(walk: Walk): string {
  const feature = (geometry: object, properties: object): string =>
    `  ${JSON.stringify({ type: "Feature", geometry, properties })}`;
  const about = { name: wholeText(walk.title), description: wholeText(walk.notes) };
  const features = walk.points.map((point, i) =>
    feature(
      { type: "Point", coordinates: nine(point.lonLat) },
      { name: wholeText(pointLabel(walk, i)), description: wholeText(point.note) },
    ),
  );
  if (walk.points.length > 1)
    features.push(
      feature({ type: "LineString", coordinates: walk.points.map(({ lonLat }) => nine(lonLat)) }, about),
    );
  return `{"type":"FeatureCollection",\n"name":${JSON.stringify(about.name)},\n"description":${JSON.stringify(about.description)},\n"features":[\n${features.join(",\n")}\n]}\n`;
}
