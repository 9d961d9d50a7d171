/** The walk's points as small flags on the map: buttons, so that they can be reached and moved by keyboard too. */
import { useComputed } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { direct } from "../../core/geodesy/geodesic.ts";
import { formatMgrs, spaceMgrs } from "../../core/geodesy/mgrs.ts";
import { trueBearing } from "../../core/units/angle.ts";
import { formatHeight } from "../../core/units/format.ts";
import { insertPoint, movePoint, removePoint } from "../../core/walk/edits.ts";
import { pointLabel, pointLetter, type WalkPoint } from "../../core/walk/walk.ts";
import { lengthUnit } from "../app/settings.ts";
import { figures } from "../walk-state/figures.ts";
import { pickedPoint, picked, pickPoint, shownLeg } from "../walk-state/selection.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";
import { pointHeight } from "./point-height.ts";
import { flagToLeft } from "./flag-side.ts";
import { startDrag } from "./point-drag.ts";
import { wouldAdd } from "./view-state.ts";

/** Names up to this long are no wider than a flag anyway. */
const SHORT_NAME = 3;
const STEP_M = 10;
const FINE_STEP_M = 1;
const ARROW_BEARING: Readonly<Record<string, number>> = {
  ArrowUp: 0,
  ArrowRight: 90,
  ArrowDown: 180,
  ArrowLeft: 270,
};

export function Flags({ map }: { readonly map: MapLibreMap }) {
  const points = walk.value.points;
  return (
    <>
      {points.map((point, i) => (
        <Flag key={point.id} map={map} point={point} index={i} />
      ))}
    </>
  );
}

function Flag({
  map,
  point,
  index,
}: {
  readonly map: MapLibreMap;
  readonly point: WalkPoint;
  readonly index: number;
}) {
  const button = useRef<HTMLButtonElement>(null);
  const points = walk.value.points;
  const label = pointLabel(walk.value, index);
  const isPicked = useComputed(
    () => pickedPoint.value !== null && walk.value.points[pickedPoint.value]?.id === point.id,
  );
  const onLeg = shownLeg.value !== null && (index === shownLeg.value || index === shownLeg.value + 1);
  const [lon, lat] = point.lonLat;
  // A name hides map: it is shown where it matters now, elsewhere the letter stands for it.
  const [near, setNear] = useState(false);
  const showsName = label.length <= SHORT_NAME || near || onLeg || isPicked.value;

  useLayoutEffect(() => {
    const place = (): void => {
      const { x, y } = map.project([lon, lat]);
      if (button.current) button.current.style.transform = `translate(${x}px, ${y}px)`;
    };
    place();
    map.on("move", place);
    map.on("resize", place);
    return () => {
      map.off("move", place);
      map.off("resize", place);
    };
  }, [map, lon, lat]);

  // MapLibre listens on the element around: a press on a flag is not a press on the map.
  useEffect(() => {
    const element = button.current;
    const keep = (event: Event): void => event.stopPropagation();
    const kinds = ["mousedown", "touchstart", "click", "dblclick", "mousemove"] as const;
    for (const kind of kinds) element?.addEventListener(kind, keep);
    return () => {
      for (const kind of kinds) element?.removeEventListener(kind, keep);
    };
  }, []);

  const press = (event: PointerEvent): void => {
    if (event.button !== 0 || !button.current) return;
    startDrag(map, button.current, event, map.project([lon, lat]), {
      change: (now, lonLat) => movePoint(now, point.id, lonLat),
      stepName: words.steps.move(label),
      clicked: () => pickPoint(index),
      began: () => pickPoint(index),
    });
  };

  const key = (event: KeyboardEvent): void => {
    const bearing = ARROW_BEARING[event.key];
    if (bearing !== undefined) {
      const step = event.shiftKey ? FINE_STEP_M : STEP_M;
      edit(
        words.steps.move(label),
        (now) => movePoint(now, point.id, direct(point.lonLat, trueBearing(bearing), step)),
        `move ${point.id}`,
      );
    } else if (event.key === "Delete" || event.key === "Backspace") {
      removeAt(index);
    } else if (event.key === "i" || event.key === "I") {
      insertAfter(index);
    } else if (event.key === "Enter" || event.key === " ") {
      pickPoint(index);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };

  const toLeft = flagToLeft(points, index);
  const height = pointHeight(figures.value, index);
  return (
    <button
      ref={button}
      type="button"
      class={`flag ${isPicked.value ? "picked" : ""} ${onLeg ? "on-leg" : ""} ${toLeft ? "to-left" : ""}`}
      aria-label={words.map.point(
        label,
        spaceMgrs(formatMgrs(point.lonLat, 10)),
        height === null ? null : formatHeight(height, lengthUnit.value),
      )}
      aria-pressed={isPicked.value}
      aria-describedby="flag-keys"
      data-point={label}
      data-index={index}
      onPointerDown={press}
      onPointerEnter={() => {
        wouldAdd.value = false;
        setNear(true);
      }}
      onPointerLeave={() => setNear(false)}
      onFocus={(event) => event.currentTarget.matches(":focus-visible") && pickPoint(index)}
      onKeyDown={key}
    >
      <span class="flag-dot" />
      <span class="flag-casing">
        <span class="flag-cloth">{showsName ? label : pointLetter(index)}</span>
      </span>
    </button>
  );
}

/** Takes a point out and keeps the keyboard near it. */
export function removeAt(index: number): void {
  const point = walk.value.points[index];
  if (!point) return;
  const next = walk.value.points[index + 1] ?? walk.value.points[index - 1];
  edit(words.steps.remove(pointLabel(walk.value, index)), (now) => removePoint(now, point.id));
  picked.value = next ? { kind: "point", pointId: next.id } : null;
  requestAnimationFrame(() => {
    const flags = document.querySelectorAll<HTMLElement>(".flag");
    (
      flags[Math.min(index, flags.length - 1)] ?? document.querySelector<HTMLElement>(".maplibregl-canvas")
    )?.focus();
  });
}

/** Puts a point into the middle of the leg after a point; after the last there is none. */
export function insertAfter(index: number): void {
  const [from, to] = [walk.value.points[index], walk.value.points[index + 1]];
  if (!from || !to) return;
  edit(words.steps.insert(pointLetter(index + 1)), (now) =>
    insertPoint(now, index + 1, [(from.lonLat[0] + to.lonLat[0]) / 2, (from.lonLat[1] + to.lonLat[1]) / 2]),
  );
  pickPoint(index + 1);
  requestAnimationFrame(() => document.querySelectorAll<HTMLElement>(".flag")[index + 1]?.focus());
}
