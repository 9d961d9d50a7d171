/** Drawing with the pointer: a click adds a point, a leg picked or pulled by its middle, the pointer's place told. */
import type { Map as MapLibreMap, MapMouseEvent } from "maplibre-gl";
import { addPoint, insertPoint } from "../../core/walk/edits.ts";
import { pointLetter } from "../../core/walk/walk.ts";
import { inverse } from "../../core/geodesy/geodesic.ts";
import type { LonLat } from "../../core/units/position.ts";
import { openMap, shownMap } from "../map-case/map-case.ts";
import { picked, pickLeg, pointedAt, pointedLeg } from "../walk-state/selection.ts";
import { dragging, edit, walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";
import { legAt, type LegHit } from "./leg-hit.ts";
import { startDrag } from "./point-drag.ts";
import { caughtPlace, letGoOfCatch, lookForCatch } from "./snapping.ts";
import { pointer, wouldAdd } from "./view-state.ts";

/** Adds a point at the end and goes on from there. */
export function addPointAt(lonLat: LonLat): void {
  edit(words.steps.add(pointLetter(walk.value.points.length)), (now) => {
    // The first point ties the walk to the map it is drawn on.
    const onMap = now.points.length === 0 && openMap.value ? { ...now, mapId: openMap.value.opened.id } : now;
    return addPoint(onMap, lonLat);
  });
  picked.value = null;
}

export function drawWithPointer(map: MapLibreMap): () => void {
  const canvas = map.getCanvas();

  const hitAt = (x: number, y: number): LegHit | null =>
    legAt(
      walk.value.points.map((point) => map.project([point.lonLat[0], point.lonLat[1]])),
      { x, y },
    );

  const pointAt = (hit: LegHit | null): void => {
    pointedLeg.value = hit?.leg ?? null;
    const from = hit && walk.value.points[hit.leg]?.lonLat;
    const to = hit && walk.value.points[hit.leg + 1]?.lonLat;
    if (hit && from && to)
      pointedAt.value = { leg: hit.leg, atM: hit.along * inverse(from, to).distanceM, from: "map" };
    // The pointer may have gone straight to the slip or the ribbon, which tell of it before the map is left.
    else if (pointedAt.value?.from === "map") pointedAt.value = null;
    canvas.style.cursor = hit ? "pointer" : shownMap.value ? "crosshair" : "";
  };

  const onMove = (event: MapMouseEvent): void => {
    const { lng, lat } = event.lngLat.wrap();
    pointer.value = [lng, lat];
    if (dragging.value) return;
    lookForCatch([lng, lat], event.originalEvent.shiftKey);
    const hit = hitAt(event.point.x, event.point.y);
    wouldAdd.value = !hit && shownMap.value !== null;
    pointAt(hit);
  };

  const onOut = (): void => {
    // What is dragged keeps the pointer, wherever it is.
    if (dragging.value) return;
    pointer.value = null;
    wouldAdd.value = false;
    letGoOfCatch();
    pointAt(null);
  };

  const onClick = (event: MapMouseEvent): void => {
    if (!shownMap.value || event.defaultPrevented) return;
    if (hitAt(event.point.x, event.point.y)) return;
    const { lng, lat } = event.lngLat.wrap();
    addPointAt(event.originalEvent.shiftKey ? [lng, lat] : caughtPlace([lng, lat]));
  };

  // Pressed on a leg: let go at once it is picked; pulled, a point is put in.
  const onPress = (event: PointerEvent): void => {
    if (event.button !== 0 || event.target !== canvas || !event.isPrimary) return;
    const box = canvas.getBoundingClientRect();
    const hit = hitAt(event.clientX - box.left, event.clientY - box.top);
    if (!hit) return;
    map.dragPan.disable();
    const release = (): void => map.dragPan.enable();
    canvas.addEventListener("pointerup", release, { once: true });
    canvas.addEventListener("pointercancel", release, { once: true });
    startDrag(map, canvas, event, null, {
      change: (now, lonLat) => insertPoint(now, hit.leg + 1, lonLat),
      stepName: words.steps.insert(pointLetter(hit.leg + 1)),
      clicked: () => pickLeg(hit.leg),
      began: () => {
        wouldAdd.value = false;
        pickLeg(hit.leg);
      },
    });
  };

  map.on("mousemove", onMove);
  map.on("mouseout", onOut);
  map.on("click", onClick);
  canvas.addEventListener("pointerdown", onPress);
  return () => {
    map.off("mousemove", onMove);
    map.off("mouseout", onOut);
    map.off("click", onClick);
    canvas.removeEventListener("pointerdown", onPress);
  };
}
