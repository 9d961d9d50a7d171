/** The window: the map fills it, slips of paper lie on it. */
import { signal } from "@preact/signals";
import { BesideSlip } from "../beside/beside-slip.tsx";
import { CourseSlip } from "../course/course-slip.tsx";
import { DialogLayer } from "../dialogs/dialog-layer.tsx";
import { mapEntries, openingMap, openMapById, shownMap } from "../map-case/map-case.ts";
import { MapButtons, MapRows, Ways } from "../map-case/maps-dialog.tsx";
import { FindSlip } from "../find/find-slip.tsx";
import { FixSlip } from "../fix/fix-slip.tsx";
import { MapFoot } from "../map/map-foot.tsx";
import { MapStage } from "../map/map-stage.tsx";
import { PlaceSlip } from "../place/place-slip.tsx";
import { PlacingSlip } from "../print/placing-slip.tsx";
import { Ribbon, WalkTotals } from "../ribbon/ribbon.tsx";
import { SlopeLegend } from "../slope/slope-legend.tsx";
import { LegSlip } from "../slip/leg-slip.tsx";
import { LegTablePanel } from "../table/leg-table.tsx";
import { words } from "../words/words.ts";
import { CommandButton } from "./command-button.tsx";
import { NoticeStack } from "./notice-stack.tsx";
import { BasisBar, WalkBar } from "./walk-bar.tsx";

export const lowerPanel = signal<"ribbon" | "table">("ribbon");
/** In a narrow window the slip is a drawer. */
export const drawerOpen = signal(false);

export function Window() {
  return (
    <>
      <main class="stage" aria-label={words.map.legend}>
        <MapStage />
      </main>
      <div
        class={`slips ${lowerPanel.value === "table" ? "with-table" : ""} ${drawerOpen.value ? "drawer-open" : ""}`}
      >
        <header class="bars">
          <WalkBar />
          <BasisBar />
        </header>
        <div class="free-map">{!shownMap.value && <NoMap />}</div>
        <MapFoot />
        <LowerPanel />
        <aside class="paper slip" aria-label={words.slip.label}>
          <LegSlip />
        </aside>
        <SlopeLegend />
        <FindSlip />
        <PlaceSlip />
        <FixSlip />
        <CourseSlip />
        <BesideSlip />
        <PlacingSlip />
        <NoticeStack />
      </div>
      <DialogLayer />
    </>
  );
}

function NoMap() {
  return (
    <section class="paper no-map" aria-label={words.map.legend} data-test="no-map">
      {openingMap.value !== null ? (
        <p role="status">{words.map.loading(openingMap.value)}</p>
      ) : (
        <>
          <h2>{words.map.noMapTitle}</h2>
          {mapEntries.value.length > 0 && <p>{words.map.noMapText}</p>}
          <MapRows open={(id) => void openMapById(id)} />
          <Ways />
          <div class="map-actions">
            <MapButtons />
          </div>
        </>
      )}
    </section>
  );
}

function LowerPanel() {
  const shown = lowerPanel.value;
  const choice = (id: "ribbon" | "table", text: string) => (
    <button
      type="button"
      class="button"
      aria-pressed={shown === id}
      data-test={`show-${id}`}
      onClick={() => (lowerPanel.value = id)}
    >
      {text}
    </button>
  );
  return (
    <section class="paper lower" aria-label={words.ribbon.panel}>
      {shown === "ribbon" ? <Ribbon /> : <LegTablePanel />}
      <div class="lower-foot">
        <span class="lower-choice">
          {choice("ribbon", words.table.showRibbon)}
          {choice("table", words.table.show)}
        </span>
        <span class="lower-choice to-paper">
          <CommandButton id="print" short={words.bar.print} />
          <CommandButton id="export-csv" short={words.bar.csv} />
        </span>
        <WalkTotals />
        <button
          type="button"
          class="button strong drawer-button"
          aria-expanded={drawerOpen.value}
          onClick={() => (drawerOpen.value = !drawerOpen.value)}
        >
          {drawerOpen.value ? words.slip.close : words.slip.open}
        </button>
      </div>
    </section>
  );
}
