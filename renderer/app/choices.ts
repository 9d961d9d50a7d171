/** What is chosen in menus: one of several, or on and off. Each group is a part of a menu with a heading. */
import { SHEET_STRENGTHS, type Settings, TEXT_SIZES } from "../../electron/contract.ts";
import { notationsAt } from "../find/position-texts.ts";
import { mapView } from "../map/view-state.ts";
import { openMap, shownSheet } from "../map-case/map-case.ts";
import { walk } from "../walk-state/walk-document.ts";
import { adviceWords } from "../words/advice-words.ts";
import { findWords } from "../words/find-words.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { words } from "../words/words.ts";
import type { Item } from "./command.ts";
import { chooseNorth, NORTHS } from "./north.ts";
import { changeSettings, settings } from "./settings.ts";

/** Lines that belong together. */
export interface Part {
  readonly heading?: string;
  readonly items: () => readonly Item[];
}

interface OneOf<T> {
  readonly id: string;
  readonly heading: string;
  readonly of: () => readonly T[];
  readonly name: (one: T) => string;
  readonly now: () => T;
  readonly pick: (one: T) => void;
}

const oneOf = <T extends string | number>({ id, heading, of, name, now, pick }: OneOf<T>): Part => ({
  heading,
  items: () =>
    of().map((one) => ({
      id: `${id}:${one}`,
      name: () => name(one),
      findName: () => `${heading}: ${name(one)}`,
      on: () => now() === one,
      oneOf: true,
      run: () => pick(one),
    })),
});

type Switch = { [K in keyof Settings]: Settings[K] extends boolean ? K : never }[keyof Settings];

export const onOff = (key: Switch, name: string): Item => ({
  id: key,
  name: () => name,
  on: () => settings.value[key],
  run: () => changeSettings({ [key]: !settings.value[key] }),
});

export const THEME: Part = oneOf({
  id: "theme",
  heading: words.view.theme,
  of: () => ["system", "light", "dark", "night"] as const,
  name: (one) => words.view.themes[one],
  now: () => settings.value.theme,
  pick: (theme) => changeSettings({ theme }),
});

export const TEXT: Part = oneOf<number>({
  id: "text",
  heading: words.view.textSize,
  of: () => TEXT_SIZES,
  name: words.view.percent,
  now: () => settings.value.textSize,
  pick: (textSize) => changeSettings({ textSize }),
});

export const NORTH: Part = oneOf({
  id: "north",
  heading: words.view.north,
  of: () => NORTHS,
  name: (one) => words.northName[one],
  now: () => walk.value.north,
  pick: chooseNorth,
});

export const UNITS: Part = oneOf({
  id: "units",
  heading: words.view.units,
  of: () => ["metric", "imperial"] as const,
  name: (one) => words.view.unitNames[one],
  now: () => settings.value.lengthUnit,
  pick: (lengthUnit) => changeSettings({ lengthUnit }),
});

export const NOTATION: Part = oneOf({
  id: "notation",
  heading: findWords.notationMenu,
  of: () => {
    const centre = mapView.value?.getCenter();
    return notationsAt(centre ? [centre.lng, centre.lat] : null, settings.value, settings.value.notation);
  },
  name: (one) =>
    one === "grid" ? (settings.value.gridName ?? findWords.notations.grid) : findWords.notations[one],
  now: () => settings.value.notation,
  pick: (notation) => changeSettings({ notation }),
});

const STRENGTH = oneOf({
  id: "sheet",
  heading: sheetWords.heading,
  of: () => SHEET_STRENGTHS,
  name: (one) => sheetWords.strengths[one],
  now: () => settings.value.sheetStrength,
  pick: (sheetStrength) => changeSettings({ sheetStrength }),
});

/** There only while a sheet is open. @param step stronger or fainter, by key */
export const sheetPart = (step: () => Item): Part => ({
  ...STRENGTH,
  items: () =>
    shownSheet.value
      ? [...STRENGTH.items(), ...(openMap.value ? [onOff("sheetLines", sheetWords.lines)] : []), step()]
      : [],
});

export const OVER_THE_MAP: readonly Item[] = [
  onOff("showGrid", words.view.grid),
  onOff("showMagneticNorth", words.view.magnetic),
  onOff("showCloud", adviceWords.view.cloud),
  onOff("showWayOut", adviceWords.view.wayOut),
  onOff("catching", words.view.catching),
];
