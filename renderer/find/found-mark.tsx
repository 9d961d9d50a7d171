/** The mark of a place found: four corners around it, or around the square a reference names, at its true size. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { findWords } from "../words/find-words.ts";
import { addFound } from "./find-state.ts";
import { squareRing } from "./place-square.ts";
import type { Understood } from "./understand.ts";

/** Small enough to show what lies there, large enough to be pressed. */
const LEAST_PX = 30;

export function FoundMark({ map, place }: { readonly map: MapLibreMap; readonly place: Understood }) {
  const button = useRef<HTMLButtonElement>(null);

  useLayoutEffect(() => {
    const ring = squareRing(place.lonLat, place.precisionM);
    const lay = (): void => {
      const element = button.current;
      if (!element) return;
      const at = ring.map(([lon, lat]) => map.project([lon, lat]));
      const [south, next] = at;
      const [lon, lat] = place.lonLat;
      const middle = map.project([lon, lat]);
      const size =
        south && next ? Math.max(LEAST_PX, Math.hypot(next.x - south.x, next.y - south.y)) : LEAST_PX;
      // The grid's squares stand askew on a map with true north up.
      const turn = south && next && size > LEAST_PX ? Math.atan2(next.y - south.y, next.x - south.x) : 0;
      element.style.width = element.style.height = `${size}px`;
      element.style.transform = `translate(${middle.x - size / 2}px, ${middle.y - size / 2}px) rotate(${turn}rad)`;
    };
    lay();
    map.on("move", lay);
    map.on("resize", lay);
    return () => {
      map.off("move", lay);
      map.off("resize", lay);
    };
  }, [map, place]);

  // MapLibre listens on the element around: a press on the mark is not a press on the map.
  useEffect(() => {
    const element = button.current;
    const keep = (event: Event): void => event.stopPropagation();
    const kinds = ["mousedown", "touchstart", "click", "dblclick"] as const;
    for (const kind of kinds) element?.addEventListener(kind, keep);
    return () => {
      for (const kind of kinds) element?.removeEventListener(kind, keep);
    };
  }, []);

  const corners = (
    <svg class="found-corners" aria-hidden="true">
      {["0%", "100%"].map((x) =>
        ["0%", "100%"].map((y) => (
          <svg key={x + y} x={x} y={y} overflow="visible">
            {["casing", "line"].map((kind) => (
              <path key={kind} class={`found-${kind}`} d={corner(x === "0%" ? 1 : -1, y === "0%" ? 1 : -1)} />
            ))}
          </svg>
        )),
      )}
    </svg>
  );
  const name = findWords.mark(place.title);
  return (
    <button
      ref={button}
      type="button"
      class="found-mark"
      data-test="found-mark"
      aria-label={name}
      title={name}
      onPointerDown={(event) => event.stopPropagation()}
      onClick={() => addFound(place)}
    >
      {corners}
    </button>
  );
}

const corner = (x: 1 | -1, y: 1 | -1): string => `M${x * 9} 0H0V${y * 9}`;
