/** Where north is while the map is turned or tilted; pressed, the map lies as it usually does. */
import { words } from "../words/words.ts";
import { mapView } from "./view-state.ts";
import { tilted, turned, upDeg } from "./turn.ts";

export function NorthButton() {
  if (!turned.value && !tilted.value) return null;
  return (
    <button
      type="button"
      class="button north-button"
      data-test="north-up"
      title={words.map.northUp}
      onClick={() => mapView.peek()?.jumpTo({ bearing: 0, pitch: 0 })}
    >
      <svg width="18" height="18" viewBox="-9 -9 18 18" aria-hidden="true">
        <g transform={`rotate(${(-upDeg.value).toFixed(1)})`}>
          <path class="north-line" d="M0 8V-7M-3.5 -3L0 -8L3.5 -3" />
        </g>
      </svg>
      {words.map.northUp}
    </button>
  );
}
