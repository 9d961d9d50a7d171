/** The walks beside, under the one being worked on: thin lines of long dashes, with their titles where they start. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { mapMoves } from "../map/view-state.ts";
import { besideWalks } from "./beside-state.ts";

export function BesideDrawing({ map }: { readonly map: MapLibreMap }) {
  void mapMoves.value;
  const shown = besideWalks.value.filter((one) => one.shown && one.walk.points.length > 0);
  if (shown.length === 0) return null;
  return (
    <svg class="walk-drawing" aria-hidden="true" data-test="beside-drawing">
      {shown.map(({ id, walk }) => {
        const at = walk.points.map(({ lonLat: [lon, lat] }) => map.project([lon, lat]));
        const d = at.map(({ x, y }, i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
        const first = at[0];
        return (
          <g key={id}>
            <path class="beside-casing" d={d} />
            <path class="beside-leg" d={d} />
            {at.map(({ x, y }, i) => (
              <circle key={walk.points[i]?.id} class="beside-point" cx={x} cy={y} r={3.5} />
            ))}
            {first && (
              <text class="beside-title" x={first.x + 8} y={first.y - 6}>
                {walk.title}
              </text>
            )}
          </g>
        );
      })}
    </svg>
  );
}
