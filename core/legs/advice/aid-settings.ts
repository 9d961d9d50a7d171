/** What a person may choose of aids and odds, for every walk: how far is drifted, looked, seen and counted. */
import { Fault } from "../../fault.ts";
import { formatUpTo } from "../../units/format.ts";
import { DEFAULT_LEG_SETTINGS, type LegSettings } from "../leg-settings.ts";
import { type AdviceSettings, DEFAULT_ADVICE_SETTINGS } from "./advice-settings.ts";

/** The part of a leg's settings that is the person's to choose. */
export const LEG_CHOICES = [
  "driftDeg",
  "handrailOffsetM",
  "handrailToleranceDeg",
  "handrailMinM",
  "backstopReachM",
  "steepDeg",
  "hopM",
  "openHopM",
] as const satisfies readonly (keyof LegSettings)[];

export type LegChoices = Pick<LegSettings, (typeof LEG_CHOICES)[number]>;
export type AidSettings = LegChoices & Omit<AdviceSettings, "seed">;

const { seed: SEED, ...USUAL_ADVICE } = DEFAULT_ADVICE_SETTINGS;

export const legChoicesOf = (aids: LegChoices): LegChoices => {
  const { driftDeg, handrailOffsetM, handrailToleranceDeg, handrailMinM, backstopReachM } = aids;
  const { steepDeg, hopM, openHopM } = aids;
  return {
    driftDeg,
    handrailOffsetM,
    handrailToleranceDeg,
    handrailMinM,
    backstopReachM,
    steepDeg,
    hopM,
    openHopM,
  };
};

export const USUAL_AIDS: AidSettings = { ...legChoicesOf(DEFAULT_LEG_SETTINGS), ...USUAL_ADVICE };

/** The advice's part; the same walkers set out each time, so that two ways can be compared. */
export function adviceSettingsOf(aids: AidSettings): AdviceSettings {
  const {
    driftDeg: _drift,
    handrailOffsetM: _offset,
    handrailToleranceDeg: _tolerance,
    handrailMinM: _min,
    backstopReachM: _reach,
    steepDeg: _steep,
    hopM: _hop,
    openHopM: _open,
    ...advice
  } = aids;
  return { ...advice, seed: SEED };
}

interface Bounds {
  readonly what: string;
  readonly low: number;
  readonly high: number;
  readonly unit: "°" | " m" | "" | " %";
}

/** What each figure may be. Beyond these a search would find all of the map or none of it. No source. */
export const AID_BOUNDS: Readonly<
  Record<Exclude<keyof AidSettings, "steering" | "steepDeg" | "openHopM">, Bounds>
> = {
  driftDeg: { what: "The drift", low: 1, high: 30, unit: "°" },
  handrailOffsetM: { what: "The distance to a line to follow", low: 5, high: 500, unit: " m" },
  handrailToleranceDeg: { what: "The difference in direction", low: 5, high: 80, unit: "°" },
  handrailMinM: { what: "The shortest stretch to follow", low: 10, high: 2000, unit: " m" },
  backstopReachM: { what: "How far beyond the target to look", low: 50, high: 3000, unit: " m" },
  hopM: { what: "The distance to a steering mark", low: 5, high: 1000, unit: " m" },
  settingDeg: { what: "The error of the bearing set", low: 0, high: 30, unit: "°" },
  hopDeg: { what: "The error of a sighting", low: 0, high: 45, unit: "°" },
  unaidedSettingDeg: { what: "The error of the bearing held", low: 0, high: 45, unit: "°" },
  unaidedHopDeg: { what: "The error of a stretch without marks", low: 0, high: 60, unit: "°" },
  unaidedHopM: { what: "The stretch between two looks at the compass", low: 5, high: 500, unit: " m" },
  paceError: { what: "The error of the pace count", low: 0, high: 0.4, unit: " %" },
  sightM: { what: "The distance from which the target is seen", low: 1, high: 1000, unit: " m" },
  walkers: { what: "The number of walkers", low: 1000, high: 100_000, unit: "" },
  flagBelow: { what: "The odds a leg should have", low: 0, high: 1, unit: " %" },
  escapeReachM: { what: "How far one may walk on the way out", low: 200, high: 10_000, unit: " m" },
};

/** The steepest ground looked for, and how many classes of it. */
const MOST_CLASSES = 5;

/**
 * The settings themselves when each can be.
 * @throws Fault "bad-argument" naming the first that cannot
 */
export function checkAids(aids: AidSettings): AidSettings {
  for (const [key, { what, low, high, unit }] of Object.entries(AID_BOUNDS)) {
    const value = aids[key as keyof typeof AID_BOUNDS];
    if (typeof value === "number" && value >= low && value <= high) continue;
    const shown = (figure: number): string =>
      `${formatUpTo(unit === " %" ? figure * 100 : figure, 2)}${unit}`;
    throw bad(`${what} must lie between ${shown(low)} and ${shown(high)}, not ${shown(value)}.`);
  }
  if (!Number.isInteger(aids.walkers)) throw bad(`Of walkers there are whole ones, not ${aids.walkers}.`);
  const { openHopM, hopM, steepDeg, steering } = aids;
  if (openHopM !== null && !(openHopM >= AID_BOUNDS.hopM.low && openHopM <= AID_BOUNDS.hopM.high))
    throw bad(
      `${AID_BOUNDS.hopM.what} in the open must lie between ${AID_BOUNDS.hopM.low} m and ${AID_BOUNDS.hopM.high} m, not ${openHopM} m.`,
    );
  if (openHopM !== null && openHopM < hopM)
    throw bad("In the open a steering mark is not nearer than in woods.");
  if (steering !== "marks" && steering !== "unaided")
    throw bad("A bearing is kept along marks or compass in hand.");
  const rising = steepDeg.every((deg, i) => deg >= 10 && deg <= 80 && deg > (steepDeg[i - 1] ?? 0));
  if (steepDeg.length === 0 || steepDeg.length > MOST_CLASSES || !rising)
    throw bad(
      `Steep ground is named by one to ${MOST_CLASSES} angles between 10° and 80°, each steeper than the one before.`,
    );
  return aids;
}

const bad = (what: string): Fault => new Fault("bad-argument", what, null, "Correct it in the settings.");
