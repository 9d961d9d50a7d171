/** The outline of every sheet on the map, with its number: moved by pointer and by keys. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { useEffect, useRef } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { type SheetFrame, sheetFrame } from "../../core/sheet/frame/sheet-frame.ts";
import type { SheetLayout } from "../../core/sheet/layout/sheet-plan.ts";
import type { LonLat } from "../../core/units/position.ts";
import { mapMoves } from "../map/view-state.ts";
import { printWords } from "../words/print-words.ts";
import { movedCentre, outlineOf, placedOf, withCentre } from "./placed-sheets.ts";
import { frames, placing, plans } from "./print-state.ts";

const { placing: say } = printWords;
const STEP_MM = 10;
const FINE_STEP_MM = 1;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

export function SheetOutlines({ map }: { readonly map: MapLibreMap }) {
  const shield = useRef<HTMLDivElement>(null);
  const on = placing.value;
  // Read so that the outlines move with the map.
  void mapMoves.value;
  // Presses and turns of the wheel still reach the map, so that it can be moved; a click draws no point.
  useEffect(() => {
    const element = shield.current;
    if (!element) return;
    const keep = (event: Event): void => event.stopPropagation();
    const kinds = ["click", "dblclick", "mousemove"] as const;
    for (const kind of kinds) element.addEventListener(kind, keep);
    return () => {
      for (const kind of kinds) element.removeEventListener(kind, keep);
    };
  }, [on]);
  const now = plans.value;
  if (!on) return null;
  return (
    <div class="sheet-shield" ref={shield} data-test="sheet-outlines">
      {!(now instanceof Fault) &&
        now.layout.sheets.map((plan, i) => (
          <Outline key={i} map={map} layout={now.layout} index={i} frame={sheetFrame(plan.frame)} />
        ))}
    </div>
  );
}

interface OutlineProps {
  readonly map: MapLibreMap;
  readonly layout: SheetLayout;
  readonly index: number;
  readonly frame: SheetFrame;
}

function Outline({ map, layout, index, frame }: OutlineProps) {
  const area = useRef<SVGPathElement>(null);
  const number = useRef<HTMLButtonElement>(null);
  const around = outlineOf(frame).map(([lon, lat]) => map.project([lon, lat]));
  const d = `M${around.map(({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}Z`;
  const corner = around[0] ?? { x: 0, y: 0 };
  const all = layout.sheets.length;
  const put = (centre: LonLat): void => {
    frames.value = withCentre(placedOf(layout), index, centre);
  };

  // What is pressed on a sheet moves the sheet and not the map under it.
  useEffect(() => {
    const keep = (event: Event): void => event.stopPropagation();
    const elements = [area.current, number.current];
    for (const element of elements)
      for (const kind of ["mousedown", "touchstart"] as const) element?.addEventListener(kind, keep);
    return () => {
      for (const element of elements)
        for (const kind of ["mousedown", "touchstart"] as const) element?.removeEventListener(kind, keep);
    };
  }, []);

  const press = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    const element = event.currentTarget as Element;
    element.setPointerCapture(event.pointerId);
    const start = frames.peek();
    const from = map.project([frame.centre[0], frame.centre[1]]);
    const move = (now: PointerEvent): void => {
      const { lng, lat } = map
        .unproject([from.x + now.clientX - event.clientX, from.y + now.clientY - event.clientY])
        .wrap();
      put([lng, Math.max(-89, Math.min(89, lat))]);
    };
    const stop = (): void => {
      element.removeEventListener("pointermove", move as EventListener);
      element.removeEventListener("pointerup", stop);
      element.removeEventListener("pointercancel", give);
      window.removeEventListener("keydown", key, true);
    };
    const give = (): void => {
      stop();
      frames.value = start;
    };
    const key = (pressed: KeyboardEvent): void => {
      if (pressed.key !== "Escape") return;
      pressed.preventDefault();
      pressed.stopPropagation();
      give();
    };
    element.addEventListener("pointermove", move as EventListener);
    element.addEventListener("pointerup", stop);
    element.addEventListener("pointercancel", give);
    window.addEventListener("keydown", key, true);
  };

  const key = (event: KeyboardEvent): void => {
    const way = ARROWS[event.key];
    if (way) {
      const step = event.shiftKey ? FINE_STEP_MM : STEP_MM;
      put(movedCentre(frame, way[0] * step, way[1] * step));
    } else if ((event.key === "Delete" || event.key === "Backspace") && all > 1) {
      frames.value = placedOf(layout).filter((_, i) => i !== index);
      requestAnimationFrame(() =>
        document.querySelectorAll<HTMLElement>(".sheet-number")[Math.min(index, all - 2)]?.focus(),
      );
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };

  return (
    <>
      <svg class="sheet-outline" aria-hidden="true">
        <path class="sheet-casing" d={d} />
        <path class="sheet-line" ref={area} d={d} data-test="sheet-outline" onPointerDown={press} />
      </svg>
      <button
        ref={number}
        type="button"
        class="sheet-number"
        style={{ transform: `translate(${corner.x}px, ${corner.y}px)` }}
        aria-label={say.handle(index + 1, all)}
        aria-describedby="sheet-keys"
        data-test="sheet-number"
        onPointerDown={press}
        onKeyDown={key}
      >
        {index + 1}
      </button>
    </>
  );
}
