/** While sheets are moved on the map: whether the walk lies on them, and the way back. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { useEffect, useRef } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { sheetFrame } from "../../core/sheet/frame/sheet-frame.ts";
import type { SheetLayout } from "../../core/sheet/layout/sheet-plan.ts";
import { formatScale } from "../../core/units/scale.ts";
import { bboxOf } from "../../core/units/position.ts";
import { ask } from "../dialogs/dialogs.ts";
import { mapView } from "../map/view-state.ts";
import { freePadding } from "../map/whole-view.ts";
import { printWords } from "../words/print-words.ts";
import { MOST_SHEETS, outlineOf, placedOf } from "./placed-sheets.ts";
import { choices, frames, hasLeg, placing, plans } from "./print-state.ts";

const { placing: say } = printWords;

export function PlacingSlip() {
  return placing.value ? <Slip /> : null;
}

function Slip() {
  const done = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    done.current?.focus();
    const [map, found] = [mapView.peek(), plans.peek()];
    if (map && !(found instanceof Fault)) showSheets(map, found.layout);
  }, []);
  const now = plans.value;
  const layout = now instanceof Fault ? null : now.layout;
  const back = (): void => {
    placing.value = false;
    void ask("print", null);
  };
  const add = (): void => {
    const centre = mapView.peek()?.getCenter().wrap();
    if (!layout || !centre) return;
    const { scale } = layout.sheets.at(-1)?.frame ?? choices.peek();
    frames.value = [...placedOf(layout), { centre: [centre.lng, centre.lat], scale }];
  };
  return (
    <section
      class="paper placing"
      aria-label={say.label}
      data-test="placing"
      onKeyDown={(event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        back();
      }}
    >
      <p role="status" data-test="placing-said">
        {now instanceof Fault ? now.message : wordsOf(now.layout)}
      </p>
      <p id="sheet-keys" class="soft">
        {say.keys}
      </p>
      <div class="dialog-buttons">
        <button
          type="button"
          class="button edged"
          data-test="add-sheet"
          aria-disabled={(layout?.sheets.length ?? 0) >= MOST_SHEETS}
          onClick={add}
        >
          {say.add}
        </button>
        <button type="button" class="button edged" data-test="lay-anew" onClick={() => (frames.value = null)}>
          {say.anew}
        </button>
        <span class="spread" />
        <button type="button" class="button strong" ref={done} data-test="placing-done" onClick={back}>
          {say.done}
        </button>
      </div>
    </section>
  );
}

/** All sheets in the part of the window that no panel covers. */
function showSheets(map: MapLibreMap, { sheets }: SheetLayout): void {
  const box = bboxOf(sheets.flatMap(({ frame }) => outlineOf(sheetFrame(frame))));
  if (box) map.fitBounds([box[0], box[1], box[2], box[3]], { padding: freePadding(), animate: false });
}

function wordsOf({
  sheets,
  scale,
  notes,
}: NonNullable<Exclude<typeof plans.value, Fault>>["layout"]): string {
  const rest = [...notes, ...sheets.flatMap((sheet) => sheet.notes)];
  const fits = !hasLeg.value ? say.empty : sheets.length === 1 ? say.fitsOne : say.fits;
  return [say.lead(sheets.length, formatScale(scale)), ...(rest.length > 0 ? rest : [fits])].join(" ");
}
