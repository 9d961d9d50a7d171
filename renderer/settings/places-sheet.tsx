/** Units of lengths, how figures and positions are written, and grids of one's own. */
import { useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { gridOf } from "../../core/geodesy/grid.ts";
import { isOfferedGrid, OFFERED_GRIDS, offeredAreaTitle } from "../../core/geodesy/offered-grids.ts";
import { localeStyle } from "../../core/units/figure-style.ts";
import {
  FIGURE_LOCALES,
  SHOWN_LENGTHS,
  SHOWN_NOTATIONS,
  type Settings,
  type ShownNotation,
  type UserGrid,
} from "../../electron/contract.ts";
import { changeSettings, settings } from "../app/settings.ts";
import { findWords } from "../words/find-words.ts";
import { settingsWords } from "../words/settings-words.ts";
import { Choice, Reason } from "./entry.tsx";

const words = settingsWords.places;
const { faults } = settingsWords;
const SYSTEMS = ["metric", "imperial"] as const;

export function PlacesSheet() {
  return (
    <>
      <Lengths />
      <FigureStyleOf />
      <Positions />
      <Grids />
      <p class="whose soft">{settingsWords.ofPerson}</p>
    </>
  );
}

function Lengths() {
  const { lengths, lengthUnit } = settings.value;
  return (
    <p class="sum">
      {words.distances}{" "}
      <Choice<NonNullable<Settings["lengths"]> | "usual">
        label={words.lengths}
        value={lengths ?? "usual"}
        options={[
          ["usual", words.usual[lengthUnit]],
          ...SHOWN_LENGTHS.map((unit) => [unit, words.lengthNames[unit]] as const),
        ]}
        pick={(unit) => changeSettings({ lengths: unit === "usual" ? null : unit })}
        test="lengths"
      />
      {words.heights}{" "}
      <Choice<Settings["lengthUnit"]>
        label={words.heightsLabel}
        value={lengthUnit}
        options={SYSTEMS.map((one) => [one, words.heightNames[one]] as const)}
        pick={(one) => changeSettings({ lengthUnit: one })}
        test="heights"
      />
      .
    </p>
  );
}

/** Each in its own language, with a figure and a day as they are written there. */
const localeNames = FIGURE_LOCALES.map((locale) => {
  const style = localeStyle(locale);
  const name = new Intl.DisplayNames(locale, { type: "language" }).of(locale) ?? locale;
  return [locale, words.figuresOf(name, style.number("12345.6"), style.day("2026-03-04"))] as const;
});

function FigureStyleOf() {
  return (
    <p class="sum">
      {words.figures}{" "}
      <Choice<NonNullable<Settings["figureLocale"]> | "system">
        label={words.figuresLabel}
        value={settings.value.figureLocale ?? "system"}
        options={[["system", words.figuresOfSystem], ...localeNames]}
        pick={(one) => changeSettings({ figureLocale: one === "system" ? null : one })}
        test="figure-locale"
      />
      . <span class="soft">{words.figuresTyped}</span>
    </p>
  );
}

/** "grid:NAME" is a grid by its name, anything else a notation. */
const GRID = "grid:";

function Positions() {
  const { notation, gridName, grids } = settings.value;
  const named = [
    ...OFFERED_GRIDS.filter((name) => name !== "british").map(
      (name) => [GRID + name, words.nad27(offeredAreaTitle(name))] as const,
    ),
    ...grids.map(({ name }) => [GRID + name, name] as const),
  ];
  return (
    <p class="sum">
      {words.positions}{" "}
      <Choice
        label={words.notation}
        value={notation === "grid" ? GRID + (gridName ?? "") : notation}
        options={[
          ...SHOWN_NOTATIONS.filter((one) => one !== "grid").map(
            (one) => [one as string, findWords.notations[one]] as const,
          ),
          ...named,
        ]}
        pick={(one) =>
          one.startsWith(GRID)
            ? changeSettings({ notation: "grid", gridName: one.slice(GRID.length) })
            : changeSettings({ notation: one as ShownNotation })
        }
        test="notation"
      />
      .
    </p>
  );
}

/** @throws Fault "bad-argument" with the reason why there can be no such grid */
function readGrid(entry: UserGrid, others: readonly UserGrid[]): UserGrid {
  const [name, definition] = [entry.name.trim(), entry.definition.trim()];
  if (name === "") throw new Fault("bad-argument", faults.gridName, null, faults.writeGridName);
  if (isOfferedGrid(name) || others.some((other) => other.name === name))
    throw new Fault("bad-argument", faults.gridTaken(name), null, faults.otherName);
  if (definition === "") throw new Fault("bad-argument", faults.noDefinition, null, faults.writeDefinition);
  gridOf(name, definition);
  return { name, definition };
}

const NO_GRID: UserGrid = { name: "", definition: "" };

function Grids() {
  const { grids } = settings.value;
  const [entry, setEntry] = useState(NO_GRID);
  const [fault, setFault] = useState<Fault | null>(null);
  const blank = (name: keyof UserGrid, label: string, placeholder: string) => (
    <input
      class="blank"
      type="text"
      aria-label={label}
      title={label}
      autocomplete="off"
      spellcheck={false}
      placeholder={placeholder}
      value={entry[name]}
      data-test={`grid-${name}`}
      onInput={({ currentTarget: { value } }) => {
        setEntry({ ...entry, [name]: value });
        setFault(null);
      }}
    />
  );
  const add = (): void => {
    try {
      changeSettings({ grids: [...grids, readGrid(entry, grids)] });
      setEntry(NO_GRID);
      setFault(null);
    } catch (thrown) {
      setFault(Fault.from(thrown));
    }
  };
  return (
    <section class="sum-group">
      <h3>{words.grids}</h3>
      <ul class="trial-list" data-test="grids">
        {grids.length === 0 && <li class="soft">{words.gridsLead}</li>}
        {grids.map(({ name, definition }, i) => (
          <li key={name}>
            <span>
              <b>{name}</b> <span class="soft">{definition}</span>
            </span>
            <button
              type="button"
              class="button small"
              aria-label={words.remove(name)}
              title={words.remove(name)}
              onClick={() => removeGrid(i)}
            >
              ×
            </button>
          </li>
        ))}
      </ul>
      <form
        class="new-trial"
        onSubmit={(event) => {
          event.preventDefault();
          add();
        }}
      >
        <p class="sum">
          {words.nameLead} {blank("name", words.name, "…")}
          {words.definitionLead} {blank("definition", words.definition, "+proj=…")}{" "}
          <button type="submit" class="button edged small" data-test="grid-add">
            {words.add}
          </button>
        </p>
        {fault && <Reason fault={fault} />}
      </form>
    </section>
  );
}

/** Without its grid a notation is none: positions are then written as at first, which is the host's rule too. */
function removeGrid(index: number): void {
  const { grids, gridName, notation } = settings.value;
  const chosen = grids[index]?.name === gridName;
  changeSettings({
    grids: grids.toSpliced(index, 1),
    ...(chosen ? { gridName: null, notation: notation === "grid" ? "mgrs" : notation } : {}),
  });
}
