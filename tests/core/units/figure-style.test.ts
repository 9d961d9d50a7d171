import { afterEach, describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import {
  figureStyle,
  inPlainFigures,
  localeStyle,
  writeFiguresBy,
  SI_STYLE,
} from "../../../core/units/figure-style.ts";
import {
  formatBearing,
  formatDay,
  formatEastWest,
  formatLength,
  formatNumber,
  formatUpTo,
  typedNumber,
} from "../../../core/units/format.ts";
import { parseLength } from "../../../core/units/length.ts";
import { parseBearing } from "../../../core/units/parse-bearing.ts";
import { parseNumber } from "../../../core/units/parse-number.ts";
import { formatScale, parseScale } from "../../../core/units/scale.ts";

const [NBSP, THIN] = ["\u00a0", "\u202f"];
const by = (locale: string): void => {
  const style = localeStyle(locale);
  writeFiguresBy(() => style);
};
afterEach(() => writeFiguresBy(() => SI_STYLE));

/**
 * Decimal and group signs: Unicode CLDR, common/main, numbers/symbols of latn (de.xml "," "."; fr.xml "," U+202F;
 * en.xml "." ","; de_CH.xml "." and an apostrophe; cs.xml "," U+00A0; da.xml "," "."; de_AT.xml "," U+00A0). Days: the medium date
 * of the Gregorian calendar there (de "dd.MM.y", fr "d MMM y", en_GB "d MMM y", en "MMM d, y").
 */
const CLDR = [
  ["de-DE", "12.345,60", "4,5", "04.03.2026"],
  ["fr-FR", `12${THIN}345,60`, "4,5", "4 mars 2026"],
  ["en-GB", "12,345.60", "4.5", "4 Mar 2026"],
  ["en-US", "12,345.60", "4.5", "Mar 4, 2026"],
  ["de-CH", "12'345.60", "4.5", "04.03.2026"],
  ["de-AT", `12${NBSP}345,60`, "4,5", "04.03.2026"],
  ["cs-CZ", `12${NBSP}345,60`, "4,5", "4. 3. 2026"],
  ["da-DK", "12.345,60", "4,5", "4. mar. 2026"],
] as const;

describe.each(CLDR)("by the CLDR for %s", (locale, long, short, day) => {
  test("numbers, bearings and days", () => {
    by(locale);
    // Whether the Swiss apostrophe is the straight one differs between editions of the CLDR.
    expect(formatNumber(12345.6, 2).replace("’", "'")).toBe(long);
    expect(formatNumber(-12345.6, 2).replace("’", "'")).toBe(`−${long}`);
    // Four figures are read at a glance in every language.
    expect(formatNumber(1234)).toBe("1234");
    expect(formatUpTo(4.5, 3)).toBe(short);
    expect(formatBearing(4.51, { graduationDeg: 0.5 })).toBe(`${short}°`);
    expect(formatEastWest(-4.5)).toBe(`${short}°${NBSP}W`);
    expect(formatLength(1250)).toBe(`1${short[1]}25${NBSP}km`);
    // The kinds of space differ between editions of the CLDR.
    expect(formatDay("2026-03-04").replace(/\s/g, " ")).toBe(day);
  });

  test("what a field shows is read back as it was", () => {
    by(locale);
    for (const value of [0.333, 4.5, 1250, 12345.678, -2.5])
      expect(parseNumber(typedNumber(value))).toBe(value);
    expect(parseNumber(formatNumber(4.5, 1))).toBe(4.5);
    expect(parseLength(formatLength(1250))).toBe(1250);
    expect(parseBearing(formatBearing(4.5, { graduationDeg: 0.5 }))).toBe(4.5);
    for (const scale of [2500, 25_000, 1_000_000]) expect(parseScale(formatScale(scale))).toBe(scale);
  });

  test("a decimal point and a comma are both read", () => {
    by(locale);
    for (const text of ["1.5", "1,5"]) {
      expect(parseNumber(text)).toBe(1.5);
      expect(parseLength(`${text} km`)).toBe(1500);
      expect(parseBearing(`${text}°`)).toBe(1.5);
    }
  });
});

test("the system's own style is the one its Intl has", () => {
  const style = localeStyle(undefined);
  expect(style.decimal).toBe((0.5).toLocaleString().charAt(1));
  expect(style.number("0.5")).toBe((0.5).toLocaleString(undefined, { numberingSystem: "latn" }));
});

test("what is shown is rounded as in every other style, so that screen and paper agree", () => {
  const texts = (): string[] => [1.005, 2.675, 0.5, 1.5, 1e-7].map((value) => formatNumber(value, 2));
  const plain = texts();
  by("de-DE");
  expect(texts()).toEqual(plain.map((text) => text.replace(".", ",")));
});

test("files and other programs get their figures as ever", () => {
  by("de-DE");
  expect(inPlainFigures(() => [formatNumber(12345.6, 1), formatDay("2026-03-04")])).toEqual([
    `12${THIN}345.6`,
    "2026-03-04",
  ]);
  expect(() =>
    inPlainFigures(() => {
      throw new Error("no");
    }),
  ).toThrow("no");
  expect(figureStyle().decimal).toBe(",");
});

describe("a sign before three figures", () => {
  const fault = (read: () => unknown): Fault => {
    try {
      read();
    } catch (thrown) {
      return Fault.from(thrown);
    }
    throw new Error("It was read.");
  };

  test("is not guessed at: it may set off thousands", () => {
    expect(fault(() => parseNumber("1,250")).remedy).toBe("Write 1250 or 1.250.");
    expect(fault(() => parseLength("1,250 m")).code).toBe("bad-argument");
    by("de-DE");
    expect(fault(() => parseNumber("1.250")).remedy).toBe("Write 1250 or 1,250.");
  });

  test("is the decimal sign where the locale's own is written, or where nothing else can be meant", () => {
    expect(parseNumber("1.250")).toBe(1.25);
    expect(parseNumber("0,250")).toBe(0.25);
    expect(parseNumber("1234,567")).toBe(1234.567);
    by("de-DE");
    expect(parseNumber("1,250")).toBe(1.25);
  });
});
