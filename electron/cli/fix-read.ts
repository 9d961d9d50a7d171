/** Bearings and legs as a person writes them on the command line. */
import { Fault } from "../../core/fault.ts";
import type { ReckonedLeg } from "../../core/fix/dead-reckoning.ts";
import { type FixSettings, type North, type Sighting, usualFixSettings } from "../../core/fix/sighting.ts";
import { parseLength } from "../../core/units/length.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import type { LonLat } from "../../core/units/position.ts";
import { checkDay } from "../../core/walk/walk-rules.ts";
import { namedGrid } from "./named-grid.ts";
import { type PrintedOptions, printedNorth } from "./printed-north.ts";
import { readPosition } from "./read-position.ts";

export interface FixOptions extends PrintedOptions {
  readonly date?: string;
  readonly grid?: string;
  readonly near?: string;
  readonly beyondModel?: true;
  readonly format?: "text" | "json";
}

export const placeOf = (text: string, near: LonLat | null): LonLat =>
  readPosition(text, { from: "any", near, grid: null }).lonLat;

export const nearOf = ({ near }: FixOptions): LonLat | null =>
  near === undefined ? null : placeOf(near, null);

/** @throws Fault "bad-argument" for an option that cannot be */
export async function fixSettingsOf(options: FixOptions, somewhere: LonLat): Promise<FixSettings> {
  const date = checkDay(options.date ?? new Date().toISOString().slice(0, 10), "--date");
  const printed = printedNorth(options);
  return {
    ...usualFixSettings(date),
    declination: { use: printed ? "printed" : "model", printed, beyondModel: options.beyondModel === true },
    grid: options.grid === undefined ? null : (await namedGrid(options.grid)).at(somewhere),
  };
}

const NORTHS: Readonly<Record<string, North>> = {
  magnetic: "magnetic",
  mag: "magnetic",
  m: "magnetic",
  grid: "grid",
  g: "grid",
  true: "true",
  t: "true",
};
const NORTH = "(magnetic|mag|m|grid|g|true|t)";
const BEARING = new RegExp(`^(.+?) ?\\b${NORTH} (to|from) (.+?)(?: as (.+))?$`, "i");
const LEG = new RegExp(`^(.+?) ?\\b${NORTH}(?: for)? (.+)$`, "i");

/**
 * "247 magnetic to 54.46 N 3.21 W as Knott"
 * @param way how bearings of this kind run, "to" known points or "from" them: the other is refused, not guessed
 * @throws Fault "bad-argument" with the reason
 */
export function readSighting(
  text: string,
  way: "to" | "from",
  errorDeg: number,
  near: LonLat | null,
): Sighting {
  const form = BEARING.exec(text.trim().replace(/\s+/g, " "));
  if (!form)
    throw new Fault(
      "bad-argument",
      `“${text}” is not a bearing and a known point.`,
      null,
      `Write such as "247 magnetic ${way} 54.46 N 3.21 W as Knott", with magnetic, grid or true.`,
    );
  const [, bearing = "", north = "", said = "", position = "", name] = form;
  if (said.toLowerCase() !== way)
    throw new Fault(
      "bad-argument",
      way === "to"
        ? "For the own position bearings run to the known points, not from them."
        : "For a far point bearings run from the known places, not to them.",
      `“${text}”`,
      `Write ${way}, and turn the bearing by 180° if it was one from the other end.`,
    );
  return {
    known: placeOf(position, near),
    name: name ?? null,
    deg: parseBearing(bearing),
    north: NORTHS[north.toLowerCase()] as North,
    errorDeg,
  };
}

/** "247 magnetic 650 paces", "30 grid for 400 m" @throws Fault "bad-argument" with the reason */
export function readLeg(text: string): ReckonedLeg {
  const form = LEG.exec(text.trim().replace(/\s+/g, " "));
  if (!form)
    throw new Fault(
      "bad-argument",
      `“${text}” is not a leg.`,
      null,
      'Write such as "247 magnetic 650 paces" or "30 grid 400 m", with magnetic, grid or true.',
    );
  const [, bearing = "", north = "", far = ""] = form;
  const paces = /^(\d+(?:\.\d+)?) ?paces?$/i.exec(far);
  return {
    deg: parseBearing(bearing),
    north: NORTHS[north.toLowerCase()] as North,
    length: paces ? { paces: Number(paces[1]) } : { metres: parseLength(far) },
  };
}

const FACING = new RegExp(`^(.+?) ?\\b${NORTH}$`, "i");

/** "240 magnetic" @throws Fault "bad-argument" with the reason */
export function readFacing(text: string): Pick<Sighting, "deg" | "north"> {
  const form = FACING.exec(text.trim().replace(/\s+/g, " "));
  if (!form)
    throw new Fault(
      "bad-argument",
      `“${text}” is not a way the ground faces.`,
      null,
      'Write such as "240 magnetic", with magnetic, grid or true.',
    );
  return { deg: parseBearing(form[1] ?? ""), north: NORTHS[(form[2] ?? "").toLowerCase()] as North };
}

/** A number given as an option. @throws Fault "bad-argument" when it is none */
export function numberOf(text: string | undefined, usual: number, option: string): number {
  if (text === undefined) return usual;
  const value = Number(text.replace(/°$/, ""));
  if (text.trim() !== "" && Number.isFinite(value)) return value;
  throw new Fault("bad-argument", `“${text}” is not a number.`, option);
}
