/** The declination stated for a walk or a sheet, from both declinations at one place. */
import type { DeclinationFigure } from "../figures.ts";
import { type Declinations, differenceDeg } from "./declinations.ts";

/** @param convergenceDeg grid minus true north at the same place, east positive */
export function declinationFigure(declinations: Declinations, convergenceDeg: number): DeclinationFigure {
  const { deg, from, model, printed } = declinations;
  return {
    deg,
    uncertaintyDeg: from === "model" ? (model?.uncertaintyDeg ?? null) : null,
    annualChangeDeg: (from === "model" ? model : printed)?.annualChangeDeg ?? null,
    model: model?.model ?? null,
    from,
    modelDeg: model?.deg ?? null,
    modelUncertaintyDeg: model?.uncertaintyDeg ?? null,
    printedDeg: printed?.deg ?? null,
    printedAgeYears: printed?.ageYears ?? null,
    differenceDeg: differenceDeg(declinations),
    beyondModel: model?.beyondModel ?? false,
    zone: model?.zone ?? null,
    gridConvergenceDeg: convergenceDeg,
  };
}
