/** A course over the map: its legs, and its points by their numbers. */
import type { Map as MapLibreMap } from "maplibre-gl";
import type { Course } from "../../core/course/course.ts";
import { pathOf, pixelsOf } from "../fix/drawing.ts";
import { mapMoves } from "../map/view-state.ts";
import { courseWords as words } from "../words/course-words.ts";

interface Props {
  readonly map: MapLibreMap;
  readonly course: Course;
}

export function CourseDrawing({ map, course: { points, legs } }: Props) {
  // Read so that the drawing moves with the map.
  void mapMoves.value;
  const paths = legs.map(({ from, to }) =>
    pathOf(
      map,
      [points[from], points[to]].flatMap((point) => (point ? [point.lonLat] : [])),
    ),
  );
  return (
    <svg class="fan" role="img" aria-label={words.drawn(legs.length)} data-test="course-drawing">
      {["fan-casing", "fan-line"].map((layer) =>
        paths.map((d, i) => <path key={`${layer}${i}`} class={layer} d={d} />),
      )}
      {points.map(({ lonLat }, n) => {
        const { x, y } = pixelsOf(map)(lonLat);
        return (
          <g key={n} class="fix-spot">
            <circle cx={x} cy={y} r={11} />
            <text x={x} y={y} dy="0.35em" text-anchor="middle">
              {n === 0 ? words.startShort : n}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
