/**
 * Map scales: one number, the denominator of the representative fraction (25 000 for 1:25 000).
 * Lengths on paper are metres too, so that no unit is lost on the way; the ruler's units are in length.ts.
 */
import { Fault } from "../fault.ts";
import { formatNumber } from "./format.ts";
import { lengthUnit, METRES, parseLength } from "./length.ts";

/** Scales a walker's map may have: from a garden's plan to a map of the world. */
const SMALLEST = 10;
const LARGEST = 1e9;

function checkScale(denominator: number, text: string): number {
  if (!(denominator >= SMALLEST && denominator <= LARGEST))
    throw new Fault(
      "bad-argument",
      `“${text}” is no map scale.`,
      null,
      "Write a scale such as 1:25000 or 1 inch = 2000 feet.",
    );
  return denominator;
}

/** Metres on the ground for metres on paper, and back. */
export const groundLength = (paperM: number, scale: number): number => paperM * scale;
export const paperLength = (groundM: number, scale: number): number => groundM / scale;

/** Millimetres of a ruler on the map for a kilometre on the ground. */
export const millimetresPerKm = (scale: number): number => 1_000_000 / scale;
/** "One inch equals N feet". */
export const feetPerInch = (scale: number): number => scale / 12;
export const inchesPerMile = (scale: number): number => METRES.mi / METRES.in / scale;

/**
 * The scale of an unknown map from a distance known on the ground.
 * @throws Fault "bad-argument" when either is not positive or the scale cannot be
 */
export function scaleFromLengths(paperM: number, groundM: number): number {
  if (!(paperM > 0 && groundM > 0))
    throw new Fault("bad-argument", `Both lengths must be more than 0, not ${paperM} m and ${groundM} m.`);
  return checkScale(groundM / paperM, `1:${groundM / paperM}`);
}

/** "1:25 000" with the SI brochure's narrow spaces from five figures on. */
export const formatScale = (scale: number): string => `1:${formatNumber(scale)}`;

/**
 * A scale as typed: "1:25 000", "1/24000", "25000", "1 inch = 2000 feet", "2.5 inches to the mile", "4 cm = 1 km".
 * @returns the denominator
 * @throws Fault "bad-argument" with the reason
 */
export function parseScale(text: string): number {
  const typed = text.replace(/\s+/g, " ").trim().toLowerCase();
  const ratio = /^(?:(\d+(?:\.\d+)?) ?[:/] ?)?(\d{1,3}(?:[ ,.'’]\d{3})+|\d+(?:\.\d+)?)$/.exec(typed);
  if (ratio) {
    const one = Number(ratio[1] ?? "1");
    // A separator before three figures sets off thousands: there are no scales with three decimals.
    const other = Number((ratio[2] ?? "").replace(/[ ,.'’](?=\d{3})/g, ""));
    return checkScale(one > 0 ? other / one : Number.NaN, text);
  }
  const sides = typed.split(/ ?(?:=|\bequals?\b|\bto (?:the|a|an|one)\b|\bto\b) ?/);
  const [paper, ground] = sides;
  if (sides.length !== 2 || !paper || !ground) return checkScale(Number.NaN, text);
  // "One inch" and "the mile" count as 1.
  const figure = (side: string): string => (lengthUnit(side) ? `1 ${side}` : side.replace(/^one\b/, "1"));
  return checkScale(parseLength(figure(ground)) / parseLength(figure(paper)), text);
}
