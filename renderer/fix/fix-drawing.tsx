/** The bearings over the map, the triangle they make, the ellipse that holds the place, and the place itself. */
import type { Map as MapLibreMap } from "maplibre-gl";
import type { Fix } from "../../core/fix/fix.ts";
import { direct } from "../../core/geodesy/geodesic.ts";
import { DEG, trueBearing } from "../../core/units/angle.ts";
import type { LonLat } from "../../core/units/position.ts";
import { mapMoves } from "../map/view-state.ts";
import { fixWords } from "../words/fix-words.ts";

/** A bearing's line goes on beyond the place, so that one sees how it passes. */
const BEYOND = 1.15;
const STEPS = 72;

export function FixDrawing({ map, fix }: { readonly map: MapLibreMap; readonly fix: Fix }) {
  // Read so that the drawing moves with the map.
  void mapMoves.value;
  const at = ([lon, lat]: LonLat): { x: number; y: number } => map.project([lon, lat]);
  const path = (places: readonly LonLat[]): string =>
    places
      .map(at)
      .map(({ x, y }, i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`)
      .join("");
  const lines = fix.bearings.map(({ known, fromKnown, distanceM }) =>
    path([known, direct(known, fromKnown, BEYOND * distanceM)]),
  );
  const corners = fix.corners.flatMap(({ at: corner }) => (corner ? [corner] : []));
  const place = at(fix.at);
  return (
    <svg class="fan" role="img" aria-label={fixWords.drawn(lines.length)} data-test="fix-drawing">
      <path class="fix-ellipse" d={`${path(ellipse(fix))}Z`} />
      {["fan-casing", "fan-line"].map((layer) =>
        lines.map((d, i) => <path key={`${layer}${i}`} class={layer} d={d} />),
      )}
      {fix.bearings.map(({ known }, i) => {
        const { x, y } = at(known);
        return <circle key={i} class="fan-end" cx={x} cy={y} r={4} />;
      })}
      {corners.length === 3 && <path class="fix-triangle" d={`${path(corners)}Z`} />}
      <circle class="asked-casing" cx={place.x} cy={place.y} r={9} />
      <circle class="asked-ring" cx={place.x} cy={place.y} r={9} />
      <circle class="asked-dot" cx={place.x} cy={place.y} r={2} />
    </svg>
  );
}

function ellipse({ at, ellipse95: { semiMajorM, semiMinorM, bearing } }: Fix): LonLat[] {
  return Array.from({ length: STEPS }, (_, i) => {
    const angle = (2 * Math.PI * i) / STEPS;
    const [along, across] = [semiMajorM * Math.cos(angle), semiMinorM * Math.sin(angle)];
    return direct(at, trueBearing(bearing + Math.atan2(across, along) / DEG), Math.hypot(along, across));
  });
}
