/** Declination by the model and by the map's margin at one place: which of them rules, and how they compare. */
import { Fault } from "../../fault.ts";
import { declinationAt, type Declination } from "../../geodesy/declination.ts";
import {
  DIAGRAM_YEARS,
  printedDeclinationOn,
  type PrintedDeclination,
} from "../../geodesy/printed-declination.ts";
import { formatEastWest, formatNumber } from "../../units/format.ts";
import type { LonLat } from "../../units/position.ts";
import type { LegSettings } from "../leg-settings.ts";
import { plainSpaces } from "../leg-words.ts";

export interface Declinations {
  /** The one that rules, degrees, east positive; null when it cannot be had. */
  readonly deg: number | null;
  readonly from: "model" | "printed";
  readonly model: Declination | null;
  /** Why the model gives none; null when it does. */
  readonly modelMissing: string | null;
  readonly printed: PrintedDeclination | null;
}

/**
 * Both declinations at a place on the day of the walk.
 * @param heightM metres; null takes sea level, which 1000 m of height change by about 0.01°
 * @param convergenceDeg at the same place, for a margin that gives the grid–magnetic angle
 * @throws Fault "bad-argument" for a day that is none or a printed figure that cannot be
 */
export function declinationsAt(
  lonLat: LonLat,
  heightM: number | null,
  convergenceDeg: number,
  { date, declination: { use, printed: margin, beyondModel } }: Pick<LegSettings, "date" | "declination">,
): Declinations {
  const { model, modelMissing } = modelOrReason(lonLat, heightM ?? 0, date, beyondModel);
  const printed = margin && printedDeclinationOn(margin, date, convergenceDeg);
  const deg = use === "printed" ? (printed?.deg ?? null) : (model?.deg ?? null);
  return { deg, from: use, model, modelMissing, printed };
}

function modelOrReason(
  lonLat: LonLat,
  heightM: number,
  date: string,
  beyond: boolean,
): Pick<Declinations, "model" | "modelMissing"> {
  try {
    return { model: declinationAt(lonLat, heightM, date, beyond), modelMissing: null };
  } catch (thrown) {
    if (thrown instanceof Fault && thrown.code === "out-of-range")
      return { model: null, modelMissing: thrown.what };
    throw thrown;
  }
}

/** Printed less model, degrees; null when either is absent. */
export const differenceDeg = ({ model, printed }: Declinations): number | null =>
  model && printed ? printed.deg - model.deg : null;

/** What a walker must know of the magnetic figures at this place: none, not to be trusted, or a compass that fails. */
export function declinationNotes({ deg, from, model, modelMissing }: Declinations): string[] {
  const notes: string[] = [];
  if (deg === null)
    notes.push(
      `No magnetic bearing: ${from === "printed" ? "the declination printed on the map is to rule, but none was given." : modelMissing}`,
    );
  if (from === "model" && model?.beyondModel)
    notes.push(
      `Declination and magnetic bearings rest on ${model.model} carried on beyond its years: they may be wrong by degrees.`,
    );
  if (model?.zone === "blackout") notes.push("So near a magnetic pole a compass is useless here.");
  if (model?.zone === "caution") notes.push("So near a magnetic pole a compass may be unreliable here.");
  return notes.map(plainSpaces);
}

/** How the printed value stands beside the model; empty when they agree within the model's error and it is not old. */
export function comparisonNotes(declinations: Declinations): string[] {
  const { model, printed } = declinations;
  if (!printed) return [];
  const notes: string[] = [];
  const apart = differenceDeg(declinations);
  if (model && apart !== null && Math.abs(apart) > model.uncertaintyDeg)
    notes.push(
      `The declination printed on the map, brought to the day ${formatEastWest(printed.deg)}, and ${model.model}, ${formatEastWest(model.deg)}, differ by ${formatNumber(Math.abs(apart), 1)}°: more than the model’s error of ${formatNumber(model.uncertaintyDeg, 1)}°.`,
    );
  if (printed.old)
    notes.push(
      `The declination printed on the map is ${formatNumber(printed.ageYears)} years old: after ${DIAGRAM_YEARS} years its annual change is not to be trusted.`,
    );
  return notes.map(plainSpaces);
}
