/** What figures rest on, in sentences with blanks; beside them what it makes of the leg on the slip. */
import { useEffect, useId, useRef } from "preact/hooks";
import { CommandButton } from "../app/command-button.tsx";
import { Frame } from "../dialogs/frame.tsx";
import { settingsWords } from "../words/settings-words.ts";
import { words } from "../words/words.ts";
import { CompassSheet } from "./compass-sheet.tsx";
import { DeclinationSheet } from "./declination-sheet.tsx";
import { OddsSheet } from "./odds-sheet.tsx";
import { PaceSheet } from "./pace-sheet.tsx";
import { PlacesSheet } from "./places-sheet.tsx";
import { keepExample } from "./preview-leg.ts";
import { Preview } from "./preview.tsx";
import { openSheet, type SheetId, SHEETS } from "./settings-state.ts";
import { TimeSheet } from "./time-sheet.tsx";
import "./settings.css";

const PARTS: Readonly<Record<SheetId, () => ReturnType<typeof CompassSheet>>> = {
  compass: CompassSheet,
  declination: DeclinationSheet,
  pace: PaceSheet,
  time: TimeSheet,
  odds: OddsSheet,
  places: PlacesSheet,
};

export function SettingsDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(keepExample, []);
  const shown = openSheet.value;
  const Part = PARTS[shown];
  const id = useId();
  return (
    <Frame title={settingsWords.title} wide onAway={() => answer(null)}>
      <SheetTabs panel={id} />
      <div
        class="settings"
        role="tabpanel"
        id={id}
        aria-label={settingsWords.sheets[shown]}
        data-test="settings"
      >
        <div class="settings-sheet">
          <Part />
        </div>
        <Preview sheet={shown} />
      </div>
      <div class="dialog-buttons">
        <CommandButton id="undo" short={words.bar.undo} />
        <CommandButton id="redo" short={words.bar.redo} />
        <span class="spread" />
        <button type="button" class="button strong" data-test="settings-close" onClick={() => answer(true)}>
          {settingsWords.close}
        </button>
      </div>
    </Frame>
  );
}

function SheetTabs({ panel }: { readonly panel: string }) {
  const row = useRef<HTMLDivElement>(null);
  const turn = (event: KeyboardEvent): void => {
    const at = SHEETS.indexOf(openSheet.value);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: SHEETS.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    const index = (to + SHEETS.length) % SHEETS.length;
    openSheet.value = SHEETS[index] as SheetId;
    row.current?.querySelectorAll<HTMLElement>("[role=tab]")[index]?.focus();
  };
  return (
    <div class="sheet-tabs" role="tablist" aria-label={settingsWords.sheetList} ref={row} onKeyDown={turn}>
      {SHEETS.map((one) => (
        <button
          key={one}
          type="button"
          class="button"
          role="tab"
          aria-selected={openSheet.value === one}
          aria-controls={panel}
          tabIndex={openSheet.value === one ? 0 : -1}
          data-test={`sheet-${one}`}
          onClick={() => (openSheet.value = one)}
        >
          {settingsWords.sheets[one]}
        </button>
      ))}
    </div>
  );
}
