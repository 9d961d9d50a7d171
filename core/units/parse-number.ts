/** A number as a person types it, with a decimal point or a decimal comma whatever the locale. */
import { Fault } from "../fault.ts";
import { figureStyle } from "./figure-style.ts";

/** "1,234": a thousand to some, one and a bit to others. */
const EITHER = /^[+-]?[1-9]\d{0,2}([.,])\d{3}$/;

/**
 * "1.5", "1,5", ".5", "−3", "12 345" with any space before three figures.
 * @returns null for what is no number
 * @throws Fault "bad-argument" where the sign before three figures may set off thousands: a leg a thousand times too
 *   short would be no small mistake. The locale's own decimal sign is taken at its word.
 */
export function parseNumber(text: string): number | null {
  const typed = text
    .trim()
    .replace("−", "-")
    .replace(/(?<=\d)[\s](?=\d{3}(?!\d))/g, "");
  const sign = EITHER.exec(typed)?.[1];
  const { decimal } = figureStyle();
  if (sign !== undefined && sign !== decimal)
    throw new Fault(
      "bad-argument",
      `“${text.trim()}” can mean thousands or a fraction.`,
      null,
      `Write ${typed.replace(sign, "")} or ${typed.replace(sign, decimal)}.`,
    );
  return /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(typed) ? Number(typed.replace(",", ".")) : null;
}
