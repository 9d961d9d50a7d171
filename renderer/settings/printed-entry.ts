/** The declination in a map's margin as typed in three blanks, and back. Pure. */
import { Fault } from "../../core/fault.ts";
import {
  parseEastWest,
  printedDeclinationOn,
  type PrintedNorth,
} from "../../core/geodesy/printed-declination.ts";
import { typedNumber } from "../../core/units/format.ts";
import { settingsWords } from "../words/settings-words.ts";

export interface PrintedEntry {
  readonly of: PrintedNorth["of"];
  /** "12°30' E" */
  readonly value: string;
  /** "2012" */
  readonly year: string;
  /** "6' W"; empty when the map gives none. */
  readonly change: string;
}

export type PrintedBlank = "value" | "year" | "change";

export interface PrintedReading {
  /** What the blanks say together; null while one that is needed is empty or wrong. */
  readonly printed: PrintedNorth | null;
  /** Nothing is written at all. */
  readonly empty: boolean;
  /** The sentence that belongs beside a blank. */
  readonly faults: Readonly<Partial<Record<PrintedBlank, Fault>>>;
}

const ANY_DAY = "2026-01-01";

export function readPrinted({ of, value, year, change }: PrintedEntry): PrintedReading {
  const faults: Partial<Record<PrintedBlank, Fault>> = {};
  const blank = (name: PrintedBlank, text: string, read: (text: string) => number): number | null => {
    if (text.trim() === "") return null;
    try {
      return read(text);
    } catch (thrown) {
      faults[name] = Fault.from(thrown);
      return null;
    }
  };
  // Each is looked at by the rule of the whole, beside figures that can be.
  const checked = (part: Partial<PrintedNorth>): void =>
    void printedDeclinationOn({ valueDeg: 0, of, year: 2020, annualChangeDeg: 0, ...part }, ANY_DAY, 0);
  const valueDeg = blank("value", value, (text) => {
    const deg = parseEastWest(text);
    checked({ valueDeg: deg });
    return deg;
  });
  const yearIs = blank("year", year, (text) => {
    if (!/^\s*\d{4}([.,]\d+)?\s*$/.test(text)) throw new Fault("bad-argument", settingsWords.faults.year);
    const figure = Number(text.replace(",", "."));
    checked({ year: figure });
    return figure;
  });
  const annual = blank("change", change, (text) => {
    const deg = parseEastWest(text);
    checked({ annualChangeDeg: deg });
    return deg;
  });
  const whole = valueDeg !== null && yearIs !== null && !faults.change;
  return {
    printed: whole ? { valueDeg, of, year: yearIs, annualChangeDeg: annual ?? 0 } : null,
    empty: [value, year, change].every((text) => text.trim() === ""),
    faults,
  };
}

export const entryOf = (printed: PrintedNorth | null): PrintedEntry =>
  printed === null
    ? { of: "declination", value: "", year: "", change: "" }
    : {
        of: printed.of,
        value: eastWestText(printed.valueDeg),
        year: typedNumber(printed.year),
        change: printed.annualChangeDeg === 0 ? "" : eastWestText(printed.annualChangeDeg),
      };

/** As margins print it: "12° 30′ E", "6′ W"; in decimals when it is no whole minute. */
export function eastWestText(deg: number): string {
  if (deg === 0) return "0°";
  const side = deg > 0 ? "E" : "W";
  const minutes = Math.abs(deg) * 60;
  const whole = Math.round(minutes);
  if (Math.abs(minutes - whole) > 1e-6) return `${typedNumber(Math.abs(deg), 5)}° ${side}`;
  const [degrees, rest] = [Math.floor(whole / 60), whole % 60];
  const parts = [degrees > 0 && `${degrees}°`, rest > 0 && `${rest}′`];
  return [...parts.filter(Boolean), side].join(" ");
}

export const samePrinted = (a: PrintedNorth | null, b: PrintedNorth | null): boolean =>
  a === b ||
  (a !== null &&
    b !== null &&
    a.of === b.of &&
    a.valueDeg === b.valueDeg &&
    a.year === b.year &&
    a.annualChangeDeg === b.annualChangeDeg);
