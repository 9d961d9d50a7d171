/**
 * The walk over the map: legs in ink with a white casing, and the aids of the leg on the slip as wide soft strokes
 * under them. Vector drawing of the page's own, because what changes at every move of the pointer must not make
 * the map below be drawn again.
 */
import { useSignal } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import { useEffect } from "preact/hooks";
import type { What } from "./walk-features.ts";
import { walkPicture } from "./walk-picture.ts";

/** From the bottom up; a leg is drawn twice, its casing first. */
const ORDER: readonly What[] = ["drift", "follow", "stop", "rubber", "leg", "pointed-leg", "picked-leg"];
const CASED: ReadonlySet<What> = new Set<What>(["leg", "pointed-leg", "picked-leg"]);

export function WalkDrawing({ map }: { readonly map: MapLibreMap }) {
  const moves = useSignal(0);
  useEffect(() => {
    const moved = (): void => void moves.value++;
    map.on("move", moved);
    map.on("resize", moved);
    return () => {
      map.off("move", moved);
      map.off("resize", moved);
    };
  }, [map, moves]);
  // Read for the dependency: every path is laid out anew when the map has moved.
  void moves.value;

  const { features } = walkPicture.value;
  const paths = ORDER.flatMap((what) =>
    features
      .filter(({ properties }) => properties?.["what"] === what)
      .map(({ geometry, properties }) => ({
        what,
        leg: properties?.["leg"] as number | null,
        d: pathOf(map, geometry),
      })),
  );
  return (
    <svg class="walk-drawing" aria-hidden="true">
      {paths
        .filter(({ what }) => !CASED.has(what))
        .map(({ what, d }, i) => (
          <path key={`${what}${i}`} class={`walk-${what}`} d={d} />
        ))}
      {paths
        .filter(({ what }) => CASED.has(what))
        .map(({ what, leg, d }) => (
          <path key={`casing${leg}`} class={`walk-casing of-${what}`} d={d} />
        ))}
      {paths
        .filter(({ what }) => CASED.has(what))
        .map(({ what, leg, d }) => (
          <path key={`leg${leg}`} class={`walk-${what}`} d={d} />
        ))}
    </svg>
  );
}

function pathOf(map: MapLibreMap, geometry: GeoJSON.Geometry): string {
  const line = (positions: readonly GeoJSON.Position[]): string =>
    positions
      .map((position, i) => {
        const { x, y } = map.project([position[0] ?? 0, position[1] ?? 0]);
        return `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`;
      })
      .join("");
  if (geometry.type === "LineString") return line(geometry.coordinates);
  if (geometry.type === "Polygon") return geometry.coordinates.map((ring) => `${line(ring)}Z`).join("");
  return "";
}
