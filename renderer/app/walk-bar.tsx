/** The upper slips: the walk with its file and history, and what its bearings rest on: map, day, north. */
import { setTitle } from "../../core/walk/edits.ts";
import type { Settings } from "../../electron/contract.ts";
import { notationsAt } from "../find/position-texts.ts";
import { openingMap, openMap } from "../map-case/map-case.ts";
import { mapView } from "../map/view-state.ts";
import { edit, unsaved, walk, walkFile } from "../walk-state/walk-document.ts";
import { findWords } from "../words/find-words.ts";
import { adviceWords } from "../words/advice-words.ts";
import { words } from "../words/words.ts";
import { CommandButton, CommandItem } from "./command-button.tsx";
import { DayField } from "./day-field.tsx";
import { DraftField } from "./draft-field.tsx";
import { Menu, MenuCheck, MenuHeading, MenuItem, MenuLine } from "./menu.tsx";
import { runCommand } from "./commands.ts";
import { chooseNorth, NORTHS } from "./north.ts";
import { changeSettings, settings } from "./settings.ts";

export function WalkBar() {
  const { title } = walk.value;
  return (
    <div class="paper bar" role="toolbar" aria-label={words.bar.label}>
      <Menu label={words.bar.walkMenu} test="walk-menu">
        {(["new", "open", "open-demo"] as const).map((id) => (
          <CommandItem key={id} id={id} />
        ))}
        <MenuLine />
        {(["save", "save-as", "export-csv", "print"] as const).map((id) => (
          <CommandItem key={id} id={id} />
        ))}
        <MenuLine />
        {(["undo", "redo", "reverse"] as const).map((id) => (
          <CommandItem key={id} id={id} />
        ))}
      </Menu>
      <div class="walk-title">
        <DraftField
          class="title-field"
          label={words.bar.title}
          value={title}
          commit={(text) =>
            edit(words.steps.title, (now) => setTitle(now, text.trim() || words.bar.untitled))
          }
          test="title"
        />
        <span class="soft saved-state" role="status" data-test="saved-state">
          {unsaved.value ? words.bar.unsaved : walkFile.value ? words.bar.saved : ""}
        </span>
      </div>
      <CommandButton id="save" short={words.bar.save} />
      <CommandButton id="undo" short={words.bar.undo} />
      <CommandButton id="redo" short={words.bar.redo} />
    </div>
  );
}

export function BasisBar() {
  return (
    <div class="paper bar basis" role="toolbar" aria-label={words.map.legend}>
      <button
        type="button"
        class="button map-button"
        data-test="map-button"
        onClick={() => runCommand("maps")}
      >
        <span class="soft">{words.bar.map}</span>{" "}
        <b>{openingMap.value ?? openMap.value?.info.title ?? words.bar.noMap}</b>
      </button>
      <DayField class="field date-field" test="date" />
      <CommandButton id="find" short={findWords.short} />
      <ViewMenu />
    </div>
  );
}

const THEMES: readonly Settings["theme"][] = ["system", "light", "dark", "night"];
const UNITS: readonly Settings["lengthUnit"][] = ["metric", "imperial"];

function ViewMenu() {
  const { theme, lengthUnit, notation, showCloud, showWayOut } = settings.value;
  const center = mapView.value?.getCenter();
  return (
    <Menu label={words.bar.viewMenu} test="view-menu">
      <MenuHeading>{words.view.theme}</MenuHeading>
      {THEMES.map((one) => (
        <MenuItem key={one} chosen={theme === one} onPick={() => changeSettings({ theme: one })}>
          {words.view.themes[one]}
        </MenuItem>
      ))}
      <MenuHeading>{words.view.north}</MenuHeading>
      {NORTHS.map((one) => (
        <MenuItem key={one} chosen={walk.value.north === one} onPick={() => chooseNorth(one)}>
          {words.northName[one]}
        </MenuItem>
      ))}
      <MenuHeading>{words.view.units}</MenuHeading>
      {UNITS.map((one) => (
        <MenuItem key={one} chosen={lengthUnit === one} onPick={() => changeSettings({ lengthUnit: one })}>
          {words.view.unitNames[one]}
        </MenuItem>
      ))}
      <MenuHeading>{findWords.notationMenu}</MenuHeading>
      {notationsAt(center ? [center.lng, center.lat] : null, settings.value, notation).map((one) => (
        <MenuItem key={one} chosen={notation === one} onPick={() => changeSettings({ notation: one })}>
          {one === "grid" ? settings.value.gridName : findWords.notations[one]}
        </MenuItem>
      ))}
      <MenuHeading>{adviceWords.view.heading}</MenuHeading>
      <MenuCheck chosen={showCloud} onPick={() => changeSettings({ showCloud: !showCloud })}>
        {adviceWords.view.cloud}
      </MenuCheck>
      <MenuCheck chosen={showWayOut} onPick={() => changeSettings({ showWayOut: !showWayOut })}>
        {adviceWords.view.wayOut}
      </MenuCheck>
      <MenuLine />
      <CommandItem id="slope" />
      <CommandItem id="ground" />
      <CommandItem id="landmarks" />
      <CommandItem id="fix" />
      <CommandItem id="make-map" />
      <CommandItem id="roles" />
      <CommandItem id="find" />
      <CommandItem id="settings" />
      <CommandItem id="sums" />
      <CommandItem id="cautions" />
    </Menu>
  );
}
