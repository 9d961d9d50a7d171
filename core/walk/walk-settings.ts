/** Reading the settings of a walk out of the `legwright` member of its file. */
import { Fault } from "../fault.ts";
import type { PrintedNorth } from "../geodesy/printed-declination.ts";
import { TIME_METHODS, type TimeFactors, type TimeMethod, withFactors } from "../travel/walking-time.ts";
import { members, number, text } from "./json-reading.ts";
import { emptyWalk, type North, type Walk, type WalkDeclination, type WalkPace } from "./walk.ts";
import { checkClock, checkDay, checkDeclination, checkPace, checkTimeZone } from "./walk-rules.ts";

/** Members of the file's `legwright` object, in the order they are written. */
export const WALK_SETTINGS = [
  "title",
  "date",
  "startTime",
  "backBy",
  "timeZone",
  "mapId",
  "north",
  "declination",
  "pace",
  "timeMethod",
  "timeFactors",
  "notes",
] as const satisfies readonly (keyof Walk)[];

type WalkSettings = Pick<Walk, (typeof WALK_SETTINGS)[number]>;

/** `own` beside what is read: an absent or null member takes the value of an empty walk. */
export function readWalkSettings(
  own: Readonly<Record<string, unknown>>,
  where: string,
  today: string,
  repairs: string[],
): WalkSettings {
  const base = emptyWalk(today);
  const read = <T>(key: keyof WalkSettings, fallback: T, check: (value: unknown, place: string) => T): T => {
    if (own[key] === undefined || own[key] === null) return fallback;
    const place = `${where}, legwright.${key}`;
    try {
      return check(own[key], place);
    } catch (error) {
      // A rule broken inside a file is a fault of the file.
      const { what, where: inner, remedy } = Fault.from(error);
      throw new Fault("bad-walk", what, inner ?? place, remedy);
    }
  };
  if (own["date"] === undefined) repairs.push(`The file has no date: ${today} was taken.`);
  return {
    title: read("title", base.title, text),
    date: read("date", base.date, (value, place) => checkDay(text(value, place), place)),
    startTime: read<string | null>("startTime", null, (value, place) =>
      checkClock(text(value, place), place),
    ),
    backBy: read<string | null>("backBy", null, (value, place) => checkClock(text(value, place), place)),
    timeZone: read<string | null>("timeZone", null, (value, place) =>
      checkTimeZone(text(value, place), place),
    ),
    mapId: read<string | null>("mapId", null, text),
    north: read<North>("north", base.north, (value) =>
      oneOf(value, ["magnetic", "grid", "true"], base.north, "north", repairs),
    ),
    declination: read("declination", base.declination, readDeclination),
    pace: read("pace", base.pace, readPace),
    timeMethod: read<TimeMethod>("timeMethod", base.timeMethod, (value) =>
      oneOf(
        value,
        Object.keys(TIME_METHODS) as TimeMethod[],
        base.timeMethod,
        "way of working out time",
        repairs,
      ),
    ),
    timeFactors: read("timeFactors", base.timeFactors, readFactors),
    notes: read("notes", "", text),
  };
}

function readPace(value: unknown, where: string): WalkPace {
  const pace = members(value, where);
  const steps = pace["steps"] ?? 2;
  if (steps !== 1 && steps !== 2) throw new Fault("bad-walk", "A pace is one step or two.", `${where}.steps`);
  const count = (key: string): number | null =>
    pace[key] === undefined || pace[key] === null ? null : number(pace[key], `${where}.${key}`);
  return checkPace({
    per100m: number(pace["per100m"], `${where}.per100m`),
    upPer100m: count("upPer100m"),
    downPer100m: count("downPer100m"),
    steps,
  });
}

function readFactors(value: unknown, where: string): TimeFactors {
  const given = members(value, where);
  const factors: TimeFactors = {
    party: number(given["party"] ?? 1, `${where}.party`),
    load: number(given["load"] ?? 1, `${where}.load`),
    surface: number(given["surface"] ?? 1, `${where}.surface`),
    breakMinPerHour: number(given["breakMinPerHour"] ?? 0, `${where}.breakMinPerHour`),
  };
  withFactors(0, factors);
  return factors;
}

function readDeclination(value: unknown, where: string): WalkDeclination {
  const given = members(value, where);
  return checkDeclination({
    use: given["use"] === "printed" ? "printed" : "model",
    printed:
      given["printed"] === undefined || given["printed"] === null
        ? null
        : readPrinted(given["printed"], `${where}.printed`),
    beyondModel: given["beyondModel"] === true,
  });
}

function readPrinted(value: unknown, where: string): PrintedNorth {
  const printed = members(value, where);
  return {
    valueDeg: number(printed["valueDeg"], `${where}.valueDeg`),
    of: printed["of"] === "gridMagnetic" ? "gridMagnetic" : "declination",
    year: number(printed["year"], `${where}.year`),
    annualChangeDeg: number(printed["annualChangeDeg"] ?? 0, `${where}.annualChangeDeg`),
  };
}

function oneOf<T extends string>(
  value: unknown,
  allowed: readonly T[],
  fallback: T,
  what: string,
  repairs: string[],
): T {
  const found = allowed.find((choice) => choice === value);
  if (found === undefined)
    repairs.push(`The ${what} “${String(value)}” is not known: ${fallback} was taken.`);
  return found ?? fallback;
}
