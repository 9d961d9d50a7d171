/** The reserve's features as map making takes them: roles, longitude and latitude, attributes. */
import type { RoleFeature } from "../../core/mapmaking/tile-feature.ts";
import type { Place } from "../terrain/recipe.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { CLOSED_NAME, DALE_NAMES, INVENTED_AT, LAKE_NAME, RESERVE } from "./gazetteer.ts";
import type { Area } from "./iso-areas.ts";
import type { Line } from "./line-shape.ts";
import { printedHeight, type ReserveFeatures } from "./reserve-features.ts";
import { toLonLat } from "./sheet-frame.ts";

type Attributes = NonNullable<RoleFeature["attributes"]>;

const point = (role: RoleFeature["role"], at: Place, attributes: Attributes): RoleFeature => ({
  role,
  geometry: { type: "Point", coordinates: toLonLat(at) },
  attributes,
});
const line = (role: RoleFeature["role"], places: Line, attributes: Attributes): RoleFeature => ({
  role,
  geometry: { type: "LineString", coordinates: places.map(toLonLat) },
  attributes,
});
const area = (role: RoleFeature["role"], rings: Area, attributes: Attributes): RoleFeature => ({
  role,
  geometry: { type: "Polygon", coordinates: rings.map((ring) => ring.map(toLonLat)) },
  attributes,
});
const name = (text: string | null): { name?: string } => (text === null ? {} : { name: text });

export function roleFeatures(terrain: Terrain, features: ReserveFeatures): RoleFeature[] {
  return [
    ...features.woods.map((wood) => area("wood", wood.shape, { ...name(wood.name), class: wood.class })),
    ...features.wetlands.map((bog) => area("wetland", bog.shape, name(bog.name))),
    ...features.lake.map((lake) =>
      area("water", lake, { name: LAKE_NAME, class: "lake", ele: terrain.lakeLevelM }),
    ),
    ...features.streams.map((stream) =>
      line("stream", stream.line, { ...name(stream.name), class: stream.class }),
    ),
    ...features.network.ways.map((way) =>
      line(way.class === "road" ? "road" : "path", way.line, {
        ...name(way.name),
        class: way.class === "road" ? "minor" : way.class,
      }),
    ),
    ...features.walls.map((wall) => line("wall", wall, { class: "stone" })),
    ...features.fences.map((fence) => line("fence", fence, { class: "wire" })),
    line("powerLine", features.powerLine, { class: "overhead" }),
    ...features.cliffs.map((cliff) => line("cliff", cliff.shape, name(cliff.name))),
    ...features.buildings.map(({ ring, plan }) =>
      area("building", [ring], { ...name(plan.name), class: plan.class }),
    ),
    area("boundary", [features.boundary], { name: `${RESERVE} (invented)`, class: "reserve" }),
    ...features.closed.map((closed) =>
      area("restricted", closed, { name: `${CLOSED_NAME}: no entry, March to July`, class: "nesting" }),
    ),
    ...features.summits.map(({ name: text, shape }) =>
      point(text === null ? "spotHeight" : "peak", shape.place, {
        ...name(text),
        ele: Math.round(shape.heightM),
      }),
    ),
    ...features.spotHeights.map((place) =>
      point("spotHeight", place, { ele: printedHeight(terrain, place) }),
    ),
    ...features.bridges.map((bridge) =>
      point("name", bridge.shape, { ...name(bridge.name), class: "bridge" }),
    ),
    ...DALE_NAMES.map(([text, at]) => point("name", at, { name: text, class: "area" })),
    // The sheet itself says that there is no such place, whoever draws it.
    ...INVENTED_AT.map((at) => point("name", at, { name: `${RESERVE}: an invented place`, class: "title" })),
  ];
}
