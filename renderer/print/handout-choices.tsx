/** What learners work out by themselves, and how far off counts as right. */
import { Fault } from "../../core/fault.ts";
import { LEG_COLUMNS } from "../../core/legs/table/leg-table.ts";
import { ASKED_COLUMNS, usualHidden } from "../../core/sheet/tables/handout.ts";
import type { Tolerance } from "../../core/sheet/tables/tolerance.ts";
import { formatHeight, formatLength, formatUpTo } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import { parseNumber } from "../../core/units/parse-number.ts";
import { settings } from "../app/settings.ts";
import { Entry } from "../settings/entry.tsx";
import { figures } from "../walk-state/figures.ts";
import { printWords } from "../words/print-words.ts";
import { legTableWith } from "./leg-table-of-walk.ts";
import { choices, choose } from "./print-state.ts";
import { Tick } from "./tick.tsx";

const { handout: say } = printWords;

export function HandoutChoices() {
  const { hidden } = choices.value;
  const found = figures.value;
  if (!found) return null;
  const table = legTableWith(found);
  const asked: readonly string[] = hidden ?? usualHidden(table);
  return (
    <fieldset class="print-part">
      <legend>{say.heading}</legend>
      <p>{say.asks}</p>
      {ASKED_COLUMNS.map((id) => (
        <Tick
          key={id}
          on={asked.includes(id)}
          turn={(on) =>
            choose({ hidden: ASKED_COLUMNS.filter((one) => (one === id ? on : asked.includes(one))) })
          }
          test={`ask-${id}`}
        >
          {say.asked(id, LEG_COLUMNS[id].heading(table).toLowerCase())}
        </Tick>
      ))}
      <Off />
    </fieldset>
  );
}

/** "An answer counts as right within 2° of the bearing, …": the sentence of the sheet, with blanks. */
function Off() {
  const { tolerance } = choices.value;
  const unit = settings.value.lengthUnit;
  const put = (change: Partial<Tolerance>): void => choose({ tolerance: { ...tolerance, ...change } });
  const percent = (share: number): string => `${formatUpTo(share * 100, 2)} %`;
  const perCent = (text: string): number =>
    checked(parseNumber(text.replace(/%\s*$/, "")), text, 100, "100 %");
  /** A number alone is in the unit the blank shows. */
  const metres = (text: string, most: number): number => {
    return checked(parseLength(text, unit === "metric" ? "m" : "ft"), text, most, `${most} m`);
  };
  const blanks: readonly (readonly [keyof typeof say.labels, string, (text: string) => void])[] = [
    [
      "bearing",
      `${formatUpTo(tolerance.bearingDeg, 1)}°`,
      (text) => put({ bearingDeg: checked(parseNumber(text.replace(/°\s*$/, "")), text, 90, "90°") }),
    ],
    ["share", percent(tolerance.distanceShare), (text) => put({ distanceShare: perCent(text) / 100 })],
    ["distance", formatLength(tolerance.distanceM, unit), (text) => put({ distanceM: metres(text, 10_000) })],
    ["paces", percent(tolerance.pacesShare), (text) => put({ pacesShare: perCent(text) / 100 })],
    ["height", formatHeight(tolerance.heightM, unit), (text) => put({ heightM: metres(text, 1000) })],
  ];
  return (
    <p>
      {blanks.map(([id, value, take]) => (
        <span key={id}>
          {say.tolerance[id][0]} <Entry label={say.labels[id]} value={value} take={take} test={`off-${id}`} />{" "}
          {say.tolerance[id][1]}{" "}
        </span>
      ))}
    </p>
  );
}

/** @throws Fault for what is no figure from 0 to the most there can be */
function checked(value: number | null, text: string, most: number, written: string): number {
  if (value !== null && value >= 0 && value <= most) return value;
  throw new Fault("bad-argument", say.noFigure(text), null, say.refused(written));
}
