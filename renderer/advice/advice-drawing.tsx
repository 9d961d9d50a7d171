/**
 * What is advised on the leg on the slip, over the map and under the walk: dangers hatched, places to go by, the line aimed
 * at, where simulated walkers end, ways out, the way along lines. What the slip points at is shown stronger.
 */
import { computed, useSignal } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import { useEffect } from "preact/hooks";
import { hazardWords } from "../../core/legs/aid-words.ts";
import type { LonLat } from "../../core/units/position.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { metresPerPixel, pointer } from "../map/view-state.ts";
import { shownFigures } from "../walk-state/figures.ts";
import { dragging } from "../walk-state/walk-document.ts";
import { adviceWords } from "../words/advice-words.ts";
import { shownAdvice } from "./advice-state.ts";
import {
  awayM,
  cloudPlaces,
  escapeRays,
  type Flat,
  hazardShapes,
  isIn,
  routeLines,
} from "./advice-features.ts";
import { isPointed, pointedAid } from "./pointed-aid.ts";

const shapes = computed(() => hazardShapes(shownFigures.value?.hazards ?? []));
/** Only of the leg as it stands: dots of another leg would lie. */
const current = computed(() => {
  const { advice, isCurrent } = shownAdvice.value;
  return isCurrent && !dragging.value ? advice : null;
});
const cloud = computed(() => current.value && cloudPlaces(current.value));
const rays = computed(() => {
  const [advice, leg] = [current.value, shownFigures.value];
  return advice?.escape && leg ? escapeRays(leg, advice.escape) : [];
});

export function AdviceDrawing({ map }: { readonly map: MapLibreMap }) {
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

  const leg = shownFigures.value;
  if (!leg) return null;
  const at = ([lon, lat]: LonLat): { x: number; y: number } => map.project([lon, lat]);
  const lineOf = (flat: Flat): string => {
    let d = "";
    for (let i = 0; i + 1 < flat.length; i += 2) {
      const { x, y } = map.project([flat[i] as number, flat[i + 1] as number]);
      d += `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`;
    }
    return d;
  };
  const pathOf = (lines: readonly Flat[]): string => lines.map(lineOf).join("");
  const marked = (kind: Parameters<typeof isPointed>[0], place = 0): string =>
    isPointed(kind, place) ? " pointed" : "";
  const advice = current.value;
  const { showCloud, showWayOut } = settings.value;
  const { aimOff, secondBackstop } = leg;
  const proposal = advice?.better[pointedAid.value?.kind === "proposal" ? pointedAid.value.at : -1];

  return (
    <svg class="walk-drawing advice-drawing" aria-hidden="true" data-test="advice-drawing">
      <defs>
        <pattern
          id="hatch-mind"
          width="7"
          height="7"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d="M0 0V7" class="hatch" />
        </pattern>
      </defs>
      {shapes.value.map(({ at: place, isArea, lines }, i) => (
        <g key={i} class={`map-hazard${marked("hazard", place)}`}>
          <path class={isArea ? "hazard-area" : "hazard-line"} d={pathOf(lines)} />
          {isArea && <path class="hazard-edge" d={pathOf(lines)} />}
        </g>
      ))}
      {secondBackstop && (
        <path class={`walk-stop second${marked("second")}`} d={pathOf(secondBackstop.stretches)} />
      )}
      {leg.handrails.map(
        ({ stretches }, i) =>
          i > 0 &&
          isPointed("follow", i) && <path key={i} class="walk-follow pointed" d={pathOf(stretches)} />,
      )}
      {isPointed("follow") && leg.handrails[0] && (
        <path class="walk-follow pointed" d={pathOf(leg.handrails[0].stretches)} />
      )}
      {isPointed("stop") && leg.backstop && (
        <path class="walk-stop pointed" d={pathOf(leg.backstop.stretches)} />
      )}
      {advice?.route && <path class={`map-route${marked("route")}`} d={pathOf(routeLines(advice.route))} />}
      {(showWayOut || isPointed("escape")) &&
        rays.value.map(([from, to], i) => <Ray key={i} from={at(from)} to={at(to)} />)}
      {(showWayOut || isPointed("escape")) && advice?.escape && rays.value.length > 0 && (
        <path class="escape-line" d={pathOf(advice.escape.stretches)} />
      )}
      {showCloud && cloud.value && (
        <g class={`cloud${marked("cloud")}`} data-test="cloud">
          <path class="cloud-missed" d={cloud.value.missed.map(at).map(cross).join("")} />
          <path class="cloud-stopped" d={cloud.value.stopped.map(at).map(dash).join("")} />
          <path class="cloud-found" d={cloud.value.found.map(at).map(dot).join("")} />
        </g>
      )}
      {aimOff && (leg.aimsOff || isPointed("aim")) && (
        <g class={`map-aim${marked("aim")}`}>
          <path d={pathOf([[...leg.fromLonLat, ...aimOff.meetLonLat]])} />
          <path class="aim-meet" d={ring(at(aimOff.meetLonLat))} />
        </g>
      )}
      {leg.attackPoints.map(({ lonLat }, i) => (
        <g key={i} class={`map-attack${marked("attack", i)}`} data-test="map-attack">
          <path class="attack-casing" d={bracket(at(lonLat))} />
          <path d={bracket(at(lonLat))} />
        </g>
      ))}
      {proposal && "lonLat" in proposal && (
        <g class="map-attack pointed">
          <path class="attack-casing" d={bracket(at(proposal.lonLat))} />
          <path d={bracket(at(proposal.lonLat))} />
        </g>
      )}
    </svg>
  );
}

interface Pixel {
  readonly x: number;
  readonly y: number;
}

const dot = ({ x, y }: Pixel): string =>
  `M${(x - 2.2).toFixed(1)} ${y.toFixed(1)}a2.2 2.2 0 1 0 4.4 0a2.2 2.2 0 1 0 -4.4 0`;
const dash = ({ x, y }: Pixel): string => `M${(x - 3).toFixed(1)} ${y.toFixed(1)}h6`;
const cross = ({ x, y }: Pixel): string =>
  `M${(x - 2.4).toFixed(1)} ${(y - 2.4).toFixed(1)}l4.8 4.8m0 -4.8l-4.8 4.8`;
const ring = ({ x, y }: Pixel): string =>
  `M${(x - 6).toFixed(1)} ${y.toFixed(1)}a6 6 0 1 0 12 0a6 6 0 1 0 -12 0`;
/** Four corners about a place: it stays seen itself. */
const bracket = ({ x, y }: Pixel): string =>
  [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ]
    .map(
      ([i, j]) =>
        `M${(x + 9 * (i as number)).toFixed(1)} ${(y + 4 * (j as number)).toFixed(1)}v${5 * (j as number)}h${-5 * (i as number)}`,
    )
    .join("");

/** A way out: a line with an arrow's head where it ends. */
function Ray({ from, to }: { readonly from: Pixel; readonly to: Pixel }) {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (length < 1) return null;
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const barb = (side: 1 | -1): string =>
    `${(to.x - 9 * ux + 5 * side * uy).toFixed(1)} ${(to.y - 9 * uy - 5 * side * ux).toFixed(1)}`;
  return (
    <g class="escape-ray">
      <path d={`M${from.x.toFixed(1)} ${from.y.toFixed(1)}L${to.x.toFixed(1)} ${to.y.toFixed(1)}`} />
      <path d={`M${barb(1)}L${to.x.toFixed(1)} ${to.y.toFixed(1)}L${barb(-1)}`} />
    </g>
  );
}

/** So near the pointer is on it, pixels. */
const NEAR_PX = 9;

interface AidHere {
  readonly text: string;
  readonly place: LonLat;
}

/** What of the leg's aids the pointer is on: places before dangers. */
const aidHere = computed<AidHere | null>(() => {
  const [place, leg] = [pointer.value, shownFigures.value];
  if (!place || !leg || dragging.value) return null;
  const nearM = NEAR_PX * metresPerPixel.value;
  const near = (lonLat: LonLat, sizes = 1.5): boolean =>
    awayM([[...lonLat, ...lonLat]], place) < nearM * sizes;
  const attack = leg.attackPoints.find(({ lonLat }) => near(lonLat));
  if (attack) return { text: adviceWords.map.attack(attack.words), place };
  if (leg.aimsOff && leg.aimOff && near(leg.aimOff.meetLonLat)) return { text: adviceWords.map.aim, place };
  const texts = shapes.value
    .filter(({ isArea, lines }) => (isArea ? isIn(lines, place) : awayM(lines, place) < nearM))
    .flatMap(({ at }) => leg.hazards[at] ?? [])
    .map((hazard) => hazardWords(hazard, lengthUnit.value));
  return texts.length === 0 ? null : { text: [...new Set(texts)].join("; "), place };
});

/** Words beside the pointer for what it is on. */
export function AidLabel({ map }: { readonly map: MapLibreMap }) {
  const here = aidHere.value;
  if (!here) return null;
  const { x, y } = map.project([here.place[0], here.place[1]]);
  return (
    <span
      class="aid-label"
      style={{ transform: `translate(${x + 14}px, ${y + 14}px)` }}
      data-test="aid-label"
    >
      {here.text}
    </span>
  );
}
