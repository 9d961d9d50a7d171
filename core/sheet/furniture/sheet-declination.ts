/** The declination a sheet states: at its centre, by the walk's choice of the model or the printed map. */
import type { DeclinationFigure } from "../../legs/figures.ts";
import type { LegSettings } from "../../legs/leg-settings.ts";
import { declinationFigure } from "../../legs/norths/declination-figure.ts";
import { declinationsAt } from "../../legs/norths/declinations.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";

/**
 * @param heightM at the sheet's centre; null takes sea level
 * @throws Fault "bad-argument" for a day that is none or a printed figure that cannot be
 */
export const sheetDeclination = (
  { centre, convergenceDeg }: Pick<SheetFrame, "centre" | "convergenceDeg">,
  heightM: number | null,
  settings: Pick<LegSettings, "date" | "declination">,
): DeclinationFigure =>
  declinationFigure(declinationsAt(centre, heightM, convergenceDeg, settings), convergenceDeg);
