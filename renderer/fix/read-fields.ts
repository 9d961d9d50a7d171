/** What is written in the slip's fields: known places, bearings, lengths. Each fault says what to do. */
import { Fault } from "../../core/fault.ts";
import type { FixSettings, North, Sighting } from "../../core/fix/sighting.ts";
import { usualFixSettings } from "../../core/fix/sighting.ts";
import { METRES, parseLength } from "../../core/units/length.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import { parseNumber } from "../../core/units/parse-number.ts";
import { isMetric } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";
import { lengthUnit } from "../app/settings.ts";
import { findContext } from "../find/find-context.ts";
import { understand } from "../find/understand.ts";
import { walk } from "../walk-state/walk-document.ts";
import { findWords } from "../words/find-words.ts";
import { fixWords } from "../words/fix-words.ts";

export interface KnownPlace {
  readonly lonLat: LonLat;
  /** Null for a place given by its figures alone. */
  readonly name: string | null;
}

/** Null while nothing is written. @throws Fault with what cannot be read */
export function readPlace(text: string): KnownPlace | null {
  const meant = understand(text, findContext.value);
  if (meant.kind === "fault") throw meant.fault;
  const point = meant.kind === "places" ? meant.places[0] : undefined;
  if (!point) return null;
  // Places by their figures have no name of their own: they are called by their row.
  return { lonLat: point.lonLat, name: point.title === findWords.position ? null : point.title };
}

/** Written with enough figures that it is the place clicked, within a few centimetres. */
export const writtenPlace = ([lon, lat]: LonLat): string => `${lat.toFixed(6)} ${lon.toFixed(6)}`;

export interface BearingRow {
  readonly bearing: string;
  readonly north: North;
  readonly known: string;
}

export const emptyBearing = (): BearingRow => ({ bearing: "", north: walk.peek().north, known: "" });

/** Null while the row is empty. @throws Fault for what is wrong or missing */
export function readSighting({ bearing, north, known }: BearingRow): Sighting | null {
  if (bearing.trim() === "" && known.trim() === "") return null;
  const point = readPlace(known);
  if (!point) throw new Fault("bad-argument", fixWords.noPoint);
  if (bearing.trim() === "") throw new Fault("bad-argument", fixWords.noBearing);
  return { known: point.lonLat, name: point.name, deg: parseBearing(bearing), north };
}

/** "640", in the person's own unit, or "640 m", "2100 ft". @throws Fault */
export function readHeight(text: string): number {
  if (!/^[-+]?[\d.,]+$/.test(text.trim())) return parseLength(text);
  return readNumber(text) * (isMetric(lengthUnit.value) ? 1 : METRES.ft);
}

/** @throws Fault */
export function readNumber(text: string): number {
  const value = parseNumber(text.trim().replace(/°$/, ""));
  if (value === null) throw new Fault("bad-argument", fixWords.noNumber(text.trim()));
  return value;
}

/** The walk's day and declination rule bearings that were taken. */
export function fixSettings(): FixSettings {
  const { date, declination } = walk.value;
  return { ...usualFixSettings(date), declination };
}

/** A value, or the fault met on the way to it. */
export function orFault<T>(read: () => T): T | Fault {
  try {
    return read();
  } catch (thrown) {
    return Fault.from(thrown);
  }
}
