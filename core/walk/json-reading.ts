/** Checked reading of JSON values out of walk files: each refuses with the place of what is wrong. */
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";
import type { UnknownMembers } from "./walk.ts";
import { checkPointPosition, MAX_TEXT } from "./walk-rules.ts";

export type Members = Readonly<Record<string, unknown>>;

/** @throws Fault "bad-walk" when the value is not a JSON object */
export function members(value: unknown, where: string): Members {
  if (typeof value !== "object" || value === null || Array.isArray(value))
    throw new Fault("bad-walk", "Something here should be a JSON object and is not.", where);
  return value as Members;
}

/** @throws Fault "bad-walk" when the value is not text of a sensible length */
export function text(value: unknown, where: string): string {
  if (typeof value !== "string")
    throw new Fault("bad-walk", "Something here should be text and is not.", where);
  if (value.length > MAX_TEXT)
    throw new Fault("bad-walk", `A text is longer than ${MAX_TEXT} characters.`, where);
  return value;
}

/** @throws Fault "bad-walk" when the value is not a finite number */
export function number(value: unknown, where: string): number {
  if (typeof value !== "number" || !Number.isFinite(value))
    throw new Fault("bad-walk", "Something here should be a number and is not.", where);
  return value;
}

/**
 * A GeoJSON position, RFC 7946 §3.1.1; a third number (height) is allowed and not used.
 * @throws Fault "bad-walk" when it is not two finite numbers within range
 */
export function position(value: unknown, where: string): LonLat {
  if (
    !Array.isArray(value) ||
    value.length < 2 ||
    typeof value[0] !== "number" ||
    typeof value[1] !== "number"
  )
    throw new Fault(
      "bad-walk",
      `A position must be two numbers, longitude and latitude, not ${JSON.stringify(value)?.slice(0, 60)}.`,
      where,
      "Put the coordinates right in the file.",
    );
  try {
    return checkPointPosition([value[0], value[1]], where);
  } catch (error) {
    const fault = Fault.from(error);
    throw new Fault(
      "bad-walk",
      fault.what,
      fault.where,
      "Put the coordinates right in the file: longitude first, then latitude.",
    );
  }
}

/** The members other than the named ones, as own data properties whatever their names (`__proto__` included). */
export function without(from: Members, known: readonly string[]): UnknownMembers {
  return Object.fromEntries(Object.entries(from).filter(([key]) => !known.includes(key)));
}

/**
 * ", line L column C" for an error of JSON.parse, as far as the engine tells the place; else "".
 * Engines word it differently: "at position 17 (line 2 column 4)", "at line 2 column 4 of the JSON data".
 */
export function locateJsonError(content: string, error: unknown): string {
  const message = error instanceof Error ? error.message : "";
  const lineColumn = /line (\d+) column (\d+)/.exec(message);
  if (lineColumn) return `, line ${lineColumn[1]} column ${lineColumn[2]}`;
  const offset = /position (\d+)/.exec(message)?.[1];
  if (offset !== undefined) {
    const before = content.slice(0, Number(offset)).split("\n");
    return `, line ${before.length} column ${(before.at(-1) ?? "").length + 1}`;
  }
  // V8 gives no place for a text that ends too soon, and quotes a snippet for some stray tokens.
  if (/end of JSON input/i.test(message)) return `, line ${content.split("\n").length} (the end)`;
  const token = /Unexpected token '(.)', (?:\.\.\.)?"([\s\S]*?)"(?:\.\.\.)? is not valid JSON/.exec(message);
  if (token) {
    const at = content.indexOf(token[2] as string);
    if (at >= 0)
      return `, line ${content.slice(0, at + (token[2] as string).indexOf(token[1] as string)).split("\n").length}`;
  }
  return "";
}
