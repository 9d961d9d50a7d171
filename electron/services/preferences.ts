/**
 * The person's compass, notations, grids, pace trials and what aids and odds go by: what the settings file may hold of them, and what becomes
 * of what it may not. One bad value must not cost a person the rest of the file.
 */
import * as v from "valibot";
import { Fault } from "../../core/fault.ts";
import { gridOf } from "../../core/geodesy/grid.ts";
import { type AidSettings, checkAids } from "../../core/legs/advice/aid-settings.ts";
import { isOfferedGrid } from "../../core/geodesy/offered-grids.ts";
import { checkDriftTrial, DRIFT_STEERINGS } from "../../core/travel/drift-trials.ts";
import { calibratePace } from "../../core/travel/pace-calibration.ts";
import {
  COMPASS_MARKS_DEG,
  type CompassSettings,
  type PaceTrialOnGround,
  type Settings,
  FIGURE_LOCALES,
  SHOWN_LENGTHS,
  SHOWN_NOTATIONS,
  type UserGrid,
  USUAL_SETTINGS,
} from "../contract.ts";
import { PRINT_CHOICES } from "./sheets/wish-shape.ts";

export type Preferences = Pick<
  Settings,
  | "lengths"
  | "figureLocale"
  | "compass"
  | "notation"
  | "grids"
  | "gridName"
  | "paceTrials"
  | "driftTrials"
  | "aids"
  | "print"
>;

const MAX_GRIDS = 100;
const MAX_TRIALS = 1000;

const gridName = v.pipe(v.string(), v.nonEmpty(), v.maxLength(80));
const grid = v.strictObject({
  name: gridName,
  definition: v.pipe(v.string(), v.nonEmpty(), v.maxLength(4000)),
});
const trial = v.strictObject({
  ground: v.picklist(["flat", "up", "down", "rough", "night", "load"]),
  distanceM: v.number(),
  paces: v.number(),
  seconds: v.nullable(v.number()),
});
const driftTrial = v.strictObject({
  steering: v.picklist(DRIFT_STEERINGS),
  distanceM: v.number(),
  asideM: v.number(),
});

const aids = v.strictObject({
  driftDeg: v.number(),
  handrailOffsetM: v.number(),
  handrailToleranceDeg: v.number(),
  handrailMinM: v.number(),
  backstopReachM: v.number(),
  steepDeg: v.pipe(v.array(v.number()), v.maxLength(10)),
  hopM: v.number(),
  openHopM: v.nullable(v.number()),
  steering: v.picklist(["marks", "unaided"]),
  settingDeg: v.number(),
  hopDeg: v.number(),
  unaidedSettingDeg: v.number(),
  unaidedHopDeg: v.number(),
  unaidedHopM: v.number(),
  paceError: v.number(),
  sightM: v.number(),
  walkers: v.number(),
  flagBelow: v.number(),
  escapeReachM: v.number(),
}) satisfies v.GenericSchema<AidSettings>;

/** What each member is made of; whether its values can be is `checkPreferences`'s to say. */
export const PREFERENCE_SHAPES = {
  lengths: v.nullable(v.picklist(SHOWN_LENGTHS)),
  figureLocale: v.nullable(v.picklist(FIGURE_LOCALES)),
  compass: v.strictObject({
    unit: v.picklist(["degrees", "quadrant", "mils"]),
    graduationDeg: v.number(),
    adjustable: v.boolean(),
  }),
  notation: v.picklist(SHOWN_NOTATIONS),
  grids: v.pipe(v.array(grid), v.maxLength(MAX_GRIDS)),
  gridName: v.nullable(gridName),
  paceTrials: v.pipe(v.array(trial), v.maxLength(MAX_TRIALS)),
  driftTrials: v.pipe(v.array(driftTrial), v.maxLength(MAX_TRIALS)),
  aids,
  print: PRINT_CHOICES,
} as const;

function checkCompass({ unit, graduationDeg }: CompassSettings): void {
  if (!COMPASS_MARKS_DEG[unit].includes(graduationDeg))
    throw new Fault(
      "bad-argument",
      unit === "mils"
        ? `No compass in mils has a mark every ${Number(((graduationDeg * 6400) / 360).toFixed(1))} mils.`
        : `No compass in degrees has a mark every ${graduationDeg}°.`,
      null,
      unit === "mils" ? "Choose 10, 20, 25, 50 or 100 mils." : "Choose 1°, 2° or 5°.",
    );
}

function checkGrid({ name, definition }: UserGrid, others: readonly UserGrid[]): void {
  if (isOfferedGrid(name) || others.some((other) => other.name === name))
    throw new Fault(
      "bad-argument",
      `There is a grid called “${name}” already.`,
      null,
      "Give it another name.",
    );
  gridOf(name, definition);
}

const checkTrial = (one: PaceTrialOnGround): void => void calibratePace([one], one.ground);

/**
 * The settings after a change.
 * A chosen grid that is no longer there is chosen no more, and positions are written as they are at first.
 * @throws Fault "bad-argument" for a compass, grid or trial that cannot be, or for a choice of a grid there is not
 */
export function changePreferences<T extends Preferences>(before: T, change: Partial<T>): T {
  for (const [key, shape] of Object.entries(PREFERENCE_SHAPES))
    if (Object.hasOwn(change, key) && !v.is(shape, change[key as keyof T]))
      throw new Fault("bad-argument", "These settings make no sense.", key);
  const after = { ...before, ...change };
  if (change.compass) checkCompass(change.compass);
  change.grids?.forEach((one, i, all) => checkGrid(one, all.slice(0, i)));
  change.paceTrials?.forEach(checkTrial);
  change.driftTrials?.forEach(checkDriftTrial);
  if (change.aids) checkAids(change.aids);
  if (typeof change.gridName === "string" && !isThere(change.gridName, after.grids))
    throw new Fault("bad-argument", `There is no grid called “${change.gridName}”.`, null, "Add it first.");
  const settled = settle(after);
  if (change.notation === "grid" && settled.notation !== "grid")
    throw new Fault("bad-argument", "No grid is chosen to write positions in.", null, "Choose a grid first.");
  return settled;
}

const isThere = (name: string, grids: readonly UserGrid[]): boolean =>
  isOfferedGrid(name) || grids.some((one) => one.name === name);

function settle<T extends Preferences>(one: T): T {
  const chosen = one.gridName !== null && isThere(one.gridName, one.grids) ? one.gridName : null;
  const notation = chosen === null && one.notation === "grid" ? USUAL_SETTINGS.notation : one.notation;
  return { ...one, gridName: chosen, notation };
}

/**
 * The preferences a file holds. What is not there yet is as usual; what cannot be is too, and is told.
 * Of lists only the bad entries are left out.
 */
export function readPreferences(file: Readonly<Record<string, unknown>>): {
  readonly preferences: Preferences;
  /** What was put right, a clause each: "the compass". */
  readonly mended: readonly string[];
} {
  const mended: string[] = [];
  const member = <K extends keyof Preferences>(
    key: K,
    title: string,
    check: (value: Preferences[K]) => void = () => undefined,
  ): Preferences[K] => {
    if (file[key] === undefined) return USUAL_SETTINGS[key];
    const value = read<Preferences[K]>(PREFERENCE_SHAPES[key], file[key], check);
    if (value === undefined) mended.push(title);
    return value === undefined ? USUAL_SETTINGS[key] : value;
  };
  const list = <T>(
    key: "grids" | "paceTrials" | "driftTrials",
    [one, many]: readonly [string, string],
    shape: v.GenericSchema<unknown, T>,
    limit: number,
    check: (value: T, others: readonly T[]) => void,
  ): readonly T[] => {
    const given = file[key];
    if (given === undefined) return [];
    if (!Array.isArray(given)) {
      mended.push(`the list of ${many}`);
      return [];
    }
    const good: T[] = [];
    for (const entry of (given as unknown[]).slice(0, limit)) {
      const value = read<T>(shape, entry, (found) => check(found, good));
      if (value !== undefined) good.push(value);
    }
    const lost = given.length - good.length;
    if (lost > 0) mended.push(`${lost} ${lost === 1 ? one : many}`);
    return good;
  };
  const found: Preferences = {
    lengths: member("lengths", "the unit of distances"),
    figureLocale: member("figureLocale", "the way numbers are written"),
    compass: member("compass", "the compass", checkCompass),
    notation: member("notation", "the notation of positions"),
    grids: list("grids", ["grid", "grids"], grid, MAX_GRIDS, checkGrid),
    gridName: member("gridName", "the chosen grid"),
    paceTrials: list("paceTrials", ["pace trial", "pace trials"], trial, MAX_TRIALS, checkTrial),
    driftTrials: list(
      "driftTrials",
      ["drift trial", "drift trials"],
      driftTrial,
      MAX_TRIALS,
      checkDriftTrial,
    ),
    aids: member("aids", "what aids and odds go by", (value) => void checkAids(value)),
    print: member("print", "what is chosen for printing"),
  };
  const preferences = settle(found);
  if (preferences.gridName !== found.gridName) mended.push("the chosen grid");
  return { preferences, mended };
}

/** The value when it has the shape and passes the check; undefined when not. */
function read<T>(
  shape: v.GenericSchema<unknown, unknown>,
  value: unknown,
  check: (value: T) => void,
): T | undefined {
  const parsed = v.safeParse(shape, value);
  if (!parsed.success) return undefined;
  try {
    check(parsed.output as T);
    return parsed.output as T;
  } catch {
    return undefined;
  }
}
