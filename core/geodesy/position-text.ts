/** What every reader of positions shares: typed characters made uniform, and the fault for what cannot be read. */
import { Fault } from "../fault.ts";

/** What a person typed, as a fault quotes it. */
export const quoted = (text: string): string => `“${text.length > 60 ? `${text.slice(0, 57)}…` : text}”`;

export const unreadable = (what: string, text: string, remedy: string | null = null): Fault =>
  new Fault("bad-argument", what, quoted(text), remedy);

/** The many signs people type and paste for degree, minute, second, minus and space become one each. */
export function tidyPosition(text: string): string {
  return (
    text
      // Direction marks and zero-width spaces come along when copying from web pages.
      .replace(/[\u200b-\u200f\u2060\ufeff]/g, "")
      .replace(/\s+/g, " ")
      .replace(/[º˚∘]/g, "°")
      .replace(/[−‐‑‒–—]/g, "-")
      .replace(/["″“”„‟ʺ]|['′’‘´`ʹʼ]{2}/g, '"')
      .replace(/[′’‘´`ʹʼ]/g, "'")
      .trim()
  );
}
