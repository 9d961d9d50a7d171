/** What a person did with the maps of the case, by where they lie: kept in the settings, the files untouched. */
import * as v from "valibot";
import type { MapView } from "../contract.ts";

export interface CaseNotes {
  /** Taken out of the case though they lie in a folder that is always in it. */
  readonly hidden: readonly string[];
  /** Titles given by the person, by path. */
  readonly titles: Readonly<Record<string, string>>;
  /** Titles as last read, by path: what a map was, once its file is gone. */
  readonly seen: Readonly<Record<string, string>>;
  /** Where each map was last looked at, by path. */
  readonly views: Readonly<Record<string, MapView>>;
}

export const NO_NOTES: CaseNotes = { hidden: [], titles: {}, seen: {}, views: {} };

const MOST = 1000;
const path = v.pipe(v.string(), v.nonEmpty(), v.maxLength(10_000));
export const MAP_TITLE = v.pipe(v.string(), v.trim(), v.nonEmpty(), v.maxLength(200));
export const MAP_VIEW = v.strictObject({
  lonLat: v.strictTuple([
    v.pipe(v.number(), v.minValue(-180), v.maxValue(180)),
    v.pipe(v.number(), v.minValue(-90), v.maxValue(90)),
  ]),
  zoom: v.pipe(v.number(), v.minValue(0), v.maxValue(24)),
});

/** The notes a settings file holds; each entry that makes no sense is passed over. */
export function readCaseNotes(value: unknown): CaseNotes {
  const { hidden, titles, seen, views } = (
    typeof value === "object" && value !== null ? value : {}
  ) as Readonly<Record<string, unknown>>;
  return {
    hidden: (Array.isArray(hidden) ? (hidden as unknown[]) : [])
      .filter((one): one is string => v.is(path, one))
      .slice(-MOST),
    titles: entriesOf(titles, MAP_TITLE),
    seen: entriesOf(seen, MAP_TITLE),
    views: entriesOf(views, MAP_VIEW),
  };
}

function entriesOf<S extends v.GenericSchema>(
  value: unknown,
  shape: S,
): Readonly<Record<string, v.InferOutput<S>>> {
  const entries = typeof value === "object" && value !== null ? Object.entries(value) : [];
  return Object.fromEntries(entries.filter(([, one]) => v.is(shape, one)).slice(-MOST));
}

/** A record with an entry put last, so that the oldest go first; null takes it out. */
export function withEntry<T>(
  record: Readonly<Record<string, T>>,
  key: string,
  value: T | null,
): Readonly<Record<string, T>> {
  const { [key]: _before, ...rest } = record;
  return value === null ? rest : { ...rest, [key]: value };
}
