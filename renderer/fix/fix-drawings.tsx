/** What the chosen way found, over the map: bearings with ellipse and triangle, rings that grow, likely places by rank. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { Fault } from "../../core/fault.ts";
import type { Reckoning } from "../../core/fix/dead-reckoning.ts";
import type { Fix } from "../../core/fix/fix.ts";
import { direct } from "../../core/geodesy/geodesic.ts";
import type { LonLat } from "../../core/units/position.ts";
import { mapMoves } from "../map/view-state.ts";
import { fixWords } from "../words/fix-words.ts";
import { found } from "./bearing-rows.ts";
import { pathOf, pixelsOf, ringOf } from "./drawing.ts";
import type { Spots } from "./fix-messages.ts";
import { spots } from "./spots-state.ts";
import { reckoned, walked } from "./walked.ts";

interface On {
  readonly map: MapLibreMap;
}

export function FixDrawings({ map }: On) {
  // Read so that the drawings move with the map.
  void mapMoves.value;
  const [fix, reckoning, likely] = [found.value, reckoned.value, spots.value];
  if (fix && !(fix instanceof Fault)) return <FixDrawing map={map} fix={fix} />;
  if (reckoning && !(reckoning instanceof Fault)) return <ReckonDrawing map={map} reckoning={reckoning} />;
  if (likely && !(likely instanceof Fault)) {
    // The drawings below read no signals of their own: then they are drawn again with every move.
    return <SpotsDrawing map={map} likely={likely} from={walked.value?.from ?? null} />;
  }
  return null;
}

/** A bearing's line goes on beyond the place, so that one sees how it passes. */
const BEYOND = 1.15;

function FixDrawing({ map, fix }: On & { readonly fix: Fix }) {
  const lines = fix.bearings.map(({ known, fromKnown, distanceM }) =>
    pathOf(map, [known, direct(known, fromKnown, BEYOND * distanceM)]),
  );
  const corners = fix.corners.flatMap(({ at: corner }) => (corner ? [corner] : []));
  return (
    <svg class="fan" role="img" aria-label={fixWords.drawn(lines.length)} data-test="fix-drawing">
      <path class="fix-ellipse" d={ringOf(map, fix.at, fix.ellipse95)} />
      <Cased paths={lines} />
      {fix.bearings.map(({ known }, i) => (
        <KnownDot key={i} map={map} at={known} />
      ))}
      {corners.length === 3 && <path class="fix-triangle" d={`${pathOf(map, corners)}Z`} />}
      <PlaceMark map={map} at={fix.at} />
    </svg>
  );
}

function ReckonDrawing({ map, reckoning: { places, end } }: On & { readonly reckoning: Reckoning }) {
  const [start] = places;
  return (
    <svg class="fan" role="img" aria-label={fixWords.drawnLegs} data-test="fix-drawing">
      {places.slice(1).map(({ at, ellipse95 }, i) => (
        <path key={i} class={at === end.at ? "fix-ellipse" : "fix-ring"} d={ringOf(map, at, ellipse95)} />
      ))}
      <Cased
        paths={[
          pathOf(
            map,
            places.map(({ at }) => at),
          ),
        ]}
      />
      {start && <KnownDot map={map} at={start.at} />}
      <PlaceMark map={map} at={end.at} />
    </svg>
  );
}

function SpotsDrawing({ map, likely, from }: On & { readonly likely: Spots; readonly from: LonLat | null }) {
  const { reckoned: ended } = likely;
  return (
    <svg class="fan" role="img" aria-label={fixWords.drawnSpots(likely.spots.length)} data-test="fix-drawing">
      {ended && <path class="fix-ellipse" d={ringOf(map, ended.at, ended.ellipse95)} />}
      {ended && from && <KnownDot map={map} at={from} />}
      {likely.spots
        .flatMap(({ stretches }) => stretches)
        .map((stretch, i) => (
          <path key={i} class="fix-stretch" d={pathOf(map, stretch)} />
        ))}
      {/* The likeliest is drawn last, over the others. */}
      {likely.spots
        .map(({ at }, i) => ({ ...pixelsOf(map)(at), rank: i + 1 }))
        .toReversed()
        .map(({ x, y, rank }) => (
          <g key={rank} class={rank === 1 ? "fix-spot first" : "fix-spot"}>
            <circle cx={x} cy={y} r={11} />
            <text x={x} y={y} dy="0.35em" text-anchor="middle">
              {rank}
            </text>
          </g>
        ))}
    </svg>
  );
}

function Cased({ paths }: { readonly paths: readonly string[] }) {
  return (
    <>
      {["fan-casing", "fan-line"].map((layer) =>
        paths.map((d, i) => <path key={`${layer}${i}`} class={layer} d={d} />),
      )}
    </>
  );
}

function KnownDot({ map, at }: On & { readonly at: LonLat }) {
  const { x, y } = pixelsOf(map)(at);
  return <circle class="fan-end" cx={x} cy={y} r={4} />;
}

function PlaceMark({ map, at }: On & { readonly at: LonLat }) {
  const { x, y } = pixelsOf(map)(at);
  return (
    <>
      <circle class="asked-casing" cx={x} cy={y} r={9} />
      <circle class="asked-ring" cx={x} cy={y} r={9} />
      <circle class="asked-dot" cx={x} cy={y} r={2} />
    </>
  );
}
