/** The place asked about, marked on the map, and lines from it to the landmarks in view. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { Fault } from "../../core/fault.ts";
import type { LonLat } from "../../core/units/position.ts";
import { mapMoves } from "../map/view-state.ts";
import { textWidth } from "../ribbon/text-width.ts";
import { placeWords } from "../words/place-words.ts";
import { fanLines } from "./fan-layout.ts";
import { landmarkGroups } from "./landmark-rows.ts";
import { aheadOn, landmarkLabel } from "./landmark-text.ts";
import { landmarks } from "./place-state.ts";
import { freeRoom, onFreeRoom } from "./room.ts";

const PAD = 6;

export function Fan({ map, from }: { readonly map: MapLibreMap; readonly from: LonLat }) {
  // Read so that lines and mark move with the map.
  void mapMoves.value;
  const start = map.project([from[0], from[1]]);
  const found = landmarks.value;
  const inView = found === null || found instanceof Fault ? [] : landmarkGroups(found).inView;
  const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  const font = `600 ${0.8125 * rem}px "Atkinson Hyperlegible Next", "Noto Sans", sans-serif`;
  const lineHeight = 1.5 * rem;
  const room = freeRoom(map);
  const lines = room
    ? fanLines(
        start,
        inView.map((landmark) => {
          const { x, y } = map.project([landmark.place.lonLat[0], landmark.place.lonLat[1]]);
          return { x, y, text: landmarkLabel(from, landmark), landmark };
        }),
        (text) => textWidth(text, font) + 2 * PAD,
        {
          room,
          lineHeight,
          taken: [
            ...onFreeRoom(map),
            { x0: start.x - 14, y0: start.y - 14, x1: start.x + 14, y1: start.y + 14 },
          ],
        },
      )
    : [];
  return (
    <svg
      class="fan"
      role="img"
      aria-label={lines.length > 0 ? placeWords.fan(lines.length) : placeWords.mark}
      data-test="fan"
    >
      {["casing", "line"].map((layer) =>
        lines.map(({ target, end }) => (
          <path
            key={`${layer} ${target.text}`}
            class={`fan-${layer} ${aheadOn(from, target.landmark) ? "ahead" : ""}`}
            d={`M${start.x.toFixed(1)} ${start.y.toFixed(1)}L${end.x.toFixed(1)} ${end.y.toFixed(1)}`}
          />
        )),
      )}
      {lines.map(
        ({ target, end, goesOn }) =>
          !goesOn && <circle key={target.text} class="fan-end" cx={end.x} cy={end.y} r={4} />,
      )}
      {lines.map(
        ({ target, label, width }) =>
          label && (
            <g key={target.text} class={`fan-label ${aheadOn(from, target.landmark) ? "ahead" : ""}`}>
              <rect
                x={label.x}
                y={label.y - lineHeight / 2 + 1}
                width={width}
                height={lineHeight - 2}
                rx={4}
              />
              <text x={label.x + PAD} y={label.y} dominant-baseline="central">
                {target.text}
              </text>
            </g>
          ),
      )}
      <circle class="asked-casing" cx={start.x} cy={start.y} r={9} />
      <circle class="asked-ring" cx={start.x} cy={start.y} r={9} />
      <circle class="asked-dot" cx={start.x} cy={start.y} r={2} />
    </svg>
  );
}
