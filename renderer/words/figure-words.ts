/** Figures of a leg as short pieces of text, alike on map, ribbon, slip and table. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatBearing, formatHeight, type LengthUnit } from "../../core/units/format.ts";
import type { North } from "../../core/walk/walk.ts";
import { words } from "./words.ts";

/** The leg's bearing on the wanted north, degrees; null when it cannot be had. */
export function bearingOn(leg: LegFigures, north: North): number | null {
  if (north === "magnetic") return leg.bearingMagneticDeg;
  return north === "grid" ? leg.bearingGridDeg : leg.bearingTrueDeg;
}

/** "51° mag". */
export const bearingText = (leg: LegFigures, north: North): string =>
  `${formatBearing(bearingOn(leg, north))} ${words.northShort[north]}`;

/** "+52 −11 m"; empty when heights are missing. */
export function climbText(climbM: number | null, descentM: number | null, unit: LengthUnit): string {
  if (climbM === null || descentM === null) return "";
  const bare = formatHeight(climbM, unit).replace(/\u00a0\S+$/, "");
  return words.ribbon.climb(bare, formatHeight(descentM, unit));
}

/** "51° mag · 590 m · +52 −11 m". */
export function legSummary(leg: LegFigures, north: North, unit: LengthUnit): string {
  return [
    bearingText(leg, north),
    formatAlong(leg.distanceM, unit),
    climbText(leg.climbM, leg.descentM, unit),
  ]
    .filter(Boolean)
    .join(" · ");
}

/** "20–45 m", or "30 m" when both ends read alike. */
export function rangeText(fromM: number, toM: number, unit: LengthUnit): string {
  const [from, to] = [formatAlong(fromM, unit), formatAlong(toM, unit)];
  return from === to ? to : `${from.split("\u00a0")[0]}–${to}`;
}
