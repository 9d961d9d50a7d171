/**
 * Units of length. Source: the international yard and pound agreement of 1959 (1 ft = 0.3048 m exactly; the mile
 * 5280 ft, the yard 3 ft, the chain 66 ft, the inch 25.4 mm).
 */
import { Fault } from "../fault.ts";
import { parseNumber } from "./parse-number.ts";

export const METRES = {
  mm: 0.001,
  cm: 0.01,
  m: 1,
  km: 1000,
  in: 0.0254,
  ft: 0.3048,
  yd: 0.9144,
  ch: 20.1168,
  mi: 1609.344,
} as const;
export type LengthUnitName = keyof typeof METRES;

export const toMetres = (value: number, unit: LengthUnitName): number => value * METRES[unit];
export const fromMetres = (metres: number, unit: LengthUnitName): number => metres / METRES[unit];

const NAMES: Readonly<Record<string, LengthUnitName>> = {
  mm: "mm",
  millimetre: "mm",
  millimeter: "mm",
  cm: "cm",
  centimetre: "cm",
  centimeter: "cm",
  m: "m",
  metre: "m",
  meter: "m",
  km: "km",
  kilometre: "km",
  kilometer: "km",
  in: "in",
  inch: "in",
  inches: "in",
  '"': "in",
  "″": "in",
  ft: "ft",
  foot: "ft",
  feet: "ft",
  "'": "ft",
  "′": "ft",
  yd: "yd",
  yard: "yd",
  ch: "ch",
  chain: "ch",
  mi: "mi",
  mile: "mi",
};

/** The unit a word means, in singular or plural; null when it is none. */
export function lengthUnit(word: string): LengthUnitName | null {
  const name = word.toLowerCase().replace(/\.$/, "");
  const known = (one: string): LengthUnitName | null =>
    Object.hasOwn(NAMES, one) ? (NAMES[one] ?? null) : null;
  return known(name) ?? known(name.replace(/s$/, ""));
}

/**
 * A length as typed, in metres: "3.2 in", "250m", "1,5 km", "2 miles".
 * @param unit what a bare number means; null refuses it
 * @throws Fault "bad-argument" with the reason
 */
export function parseLength(text: string, unit: LengthUnitName | null = null): number {
  const form = /^([\d.,\s]*\d)\s*(\D*)$/.exec(text.trim());
  const value = form ? parseNumber(form[1] ?? "") : null;
  const word = form?.[2]?.trim() ?? "";
  const named = word === "" ? unit : lengthUnit(word);
  if (value === null)
    throw new Fault(
      "bad-argument",
      `“${text}” is not a length.`,
      null,
      "Write a number and a unit, such as 250 m.",
    );
  if (!named)
    throw new Fault(
      "bad-argument",
      word === "" ? `“${text}” has no unit.` : `“${word}” is no unit of length.`,
      null,
      "Use m, km, ft, yd, mi, ch, mm, cm or in.",
    );
  return toMetres(value, named);
}
