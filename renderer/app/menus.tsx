/** The three menus of the upper slips: the walk and its file, what there is to do with map and compass, how it is shown. */
import { Fragment } from "preact";
import { type Settings, TEXT_SIZES } from "../../electron/contract.ts";
import { notationsAt } from "../find/position-texts.ts";
import { mapView } from "../map/view-state.ts";
import { SheetMenu } from "../map-case/sheet-menu.tsx";
import { walk } from "../walk-state/walk-document.ts";
import { adviceWords } from "../words/advice-words.ts";
import { findWords } from "../words/find-words.ts";
import { words } from "../words/words.ts";
import { CommandItem } from "./command-button.tsx";
import { type CommandId } from "./commands.ts";
import { Menu, MenuCheck, MenuGroup, MenuHeading, MenuItem, MenuLine } from "./menu.tsx";
import { chooseNorth, NORTHS } from "./north.ts";
import { changeSettings, settings } from "./settings.ts";

export function WalkMenu() {
  return (
    <Menu label={words.bar.walkMenu} test="walk-menu">
      {(["new", "open", "import", "open-demo"] as const).map((id) => (
        <CommandItem key={id} id={id} />
      ))}
      <MenuLine />
      {(["save", "save-as", "versions", "export", "export-csv", "print"] as const).map((id) => (
        <CommandItem key={id} id={id} />
      ))}
      <MenuLine />
      {(["undo", "redo", "reverse", "beside"] as const).map((id) => (
        <CommandItem key={id} id={id} />
      ))}
    </Menu>
  );
}

/** What there is to do beside drawing a walk, under what it is for. */
const TOOLS: readonly (readonly [heading: string, ids: readonly CommandId[]])[] = [
  [words.bar.toolsGround, ["ground", "landmarks", "fix"]],
  [words.bar.toolsSums, ["courses", "drills", "small-ground", "scoring", "sums"]],
  [words.bar.toolsMaps, ["maps", "make-map", "roles"]],
];

export function ToolsMenu() {
  return (
    <Menu label={words.bar.toolsMenu} test="tools-menu">
      {TOOLS.map(([heading, ids]) => (
        <Fragment key={heading}>
          <MenuHeading>{heading}</MenuHeading>
          {ids.map((id) => (
            <CommandItem key={id} id={id} />
          ))}
        </Fragment>
      ))}
    </Menu>
  );
}

const THEMES: readonly Settings["theme"][] = ["system", "light", "dark", "night"];
const UNITS: readonly Settings["lengthUnit"][] = ["metric", "imperial"];

export function ViewMenu() {
  const {
    theme,
    lengthUnit,
    notation,
    showCloud,
    showWayOut,
    showGrid,
    showMagneticNorth,
    catching,
    textSize,
  } = settings.value;
  const center = mapView.value?.getCenter();
  return (
    <Menu label={words.bar.viewMenu} test="view-menu" wide>
      <MenuGroup heading={words.view.theme}>
        {THEMES.map((one) => (
          <MenuItem key={one} chosen={theme === one} onPick={() => changeSettings({ theme: one })}>
            {words.view.themes[one]}
          </MenuItem>
        ))}
      </MenuGroup>
      <MenuGroup heading={words.view.textSize}>
        {TEXT_SIZES.map((one) => (
          <MenuItem key={one} chosen={textSize === one} onPick={() => changeSettings({ textSize: one })}>
            {words.view.percent(one)}
          </MenuItem>
        ))}
      </MenuGroup>
      <MenuGroup heading={words.view.north}>
        {NORTHS.map((one) => (
          <MenuItem key={one} chosen={walk.value.north === one} onPick={() => chooseNorth(one)}>
            {words.northName[one]}
          </MenuItem>
        ))}
      </MenuGroup>
      <MenuGroup heading={words.view.units}>
        {UNITS.map((one) => (
          <MenuItem key={one} chosen={lengthUnit === one} onPick={() => changeSettings({ lengthUnit: one })}>
            {words.view.unitNames[one]}
          </MenuItem>
        ))}
      </MenuGroup>
      <MenuGroup heading={findWords.notationMenu}>
        {notationsAt(center ? [center.lng, center.lat] : null, settings.value, notation).map((one) => (
          <MenuItem key={one} chosen={notation === one} onPick={() => changeSettings({ notation: one })}>
            {one === "grid" ? settings.value.gridName : findWords.notations[one]}
          </MenuItem>
        ))}
      </MenuGroup>
      <SheetMenu />
      <MenuGroup heading={adviceWords.view.heading}>
        <MenuCheck chosen={showGrid} onPick={() => changeSettings({ showGrid: !showGrid })}>
          {words.view.grid}
        </MenuCheck>
        <MenuCheck
          chosen={showMagneticNorth}
          onPick={() => changeSettings({ showMagneticNorth: !showMagneticNorth })}
        >
          {words.view.magnetic}
        </MenuCheck>
        <MenuCheck chosen={showCloud} onPick={() => changeSettings({ showCloud: !showCloud })}>
          {adviceWords.view.cloud}
        </MenuCheck>
        <MenuCheck chosen={showWayOut} onPick={() => changeSettings({ showWayOut: !showWayOut })}>
          {adviceWords.view.wayOut}
        </MenuCheck>
        <MenuCheck chosen={catching} onPick={() => changeSettings({ catching: !catching })}>
          {words.view.catching}
        </MenuCheck>
        <CommandItem id="slope" />
        <CommandItem id="turn" />
        <CommandItem id="tilt" />
      </MenuGroup>
      <MenuGroup heading={words.view.program}>
        <CommandItem id="full-screen" />
        <CommandItem id="settings" />
        <CommandItem id="cautions" />
        <CommandItem id="about" />
      </MenuGroup>
    </Menu>
  );
}
