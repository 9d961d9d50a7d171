/** How the open sheet shows: lines of the View menu, there only while a sheet is open. */
import { SHEET_STRENGTHS } from "../../electron/contract.ts";
import { MenuCheck, MenuGroup, MenuItem } from "../app/menu.tsx";
import { keyText } from "../app/commands.ts";
import { changeSettings, settings } from "../app/settings.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { openMap, shownSheet } from "./map-case.ts";

export function SheetMenu() {
  if (!shownSheet.value) return null;
  const { sheetStrength, sheetLines } = settings.value;
  return (
    <MenuGroup
      heading={
        <>
          {sheetWords.heading} <kbd>{keyText("sheet")}</kbd>
        </>
      }
    >
      {SHEET_STRENGTHS.map((one) => (
        <MenuItem
          key={one}
          chosen={sheetStrength === one}
          onPick={() => changeSettings({ sheetStrength: one })}
        >
          {sheetWords.strengths[one]}
        </MenuItem>
      ))}
      {openMap.value && (
        <MenuCheck chosen={sheetLines} onPick={() => changeSettings({ sheetLines: !sheetLines })}>
          {sheetWords.lines}
        </MenuCheck>
      )}
    </MenuGroup>
  );
}
