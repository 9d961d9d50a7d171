/** Figures of a leg as short pieces of text, alike on map, ribbon, slip and table. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { bearingToSet, type Compass } from "../../core/legs/norths/bearing-to-set.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatHeight, type LengthUnit } from "../../core/units/format.ts";
import type { North } from "../../core/walk/walk.ts";
import { words } from "./words.ts";

/** The bearing to set, as it is on the slip, and the short name of its north: "51°" and "mag", "910 mils" and "true". */
export function bearingParts(
  leg: LegFigures,
  north: North,
  compass: Compass,
): { readonly bearing: string; readonly north: string } {
  const set = bearingToSet(leg, compass, north);
  return { bearing: set.text, north: words.northShort[set.north] };
}

/** "+52 −11 m"; empty when heights are missing. */
export function climbText(climbM: number | null, descentM: number | null, unit: LengthUnit): string {
  if (climbM === null || descentM === null) return "";
  const bare = formatHeight(climbM, unit).replace(/\u00a0\S+$/, "");
  return words.ribbon.climb(bare, formatHeight(descentM, unit));
}

/** "51° mag · 590 m · +52 −11 m". */
export function legSummary(leg: LegFigures, north: North, unit: LengthUnit, compass: Compass): string {
  const set = bearingParts(leg, north, compass);
  return [
    `${set.bearing} ${set.north}`,
    formatAlong(leg.distanceM, unit),
    climbText(leg.climbM, leg.descentM, unit),
  ]
    .filter(Boolean)
    .join(" · ");
}

/** "20–45 m", or "30 m" when both ends read alike. */
export function rangeText(fromM: number, toM: number, unit: LengthUnit): string {
  const [from, to] = [formatAlong(fromM, unit), formatAlong(toM, unit)];
  // Some locales set off thousands by the very space that stands before the unit.
  return from === to ? to : `${from.slice(0, from.lastIndexOf("\u00a0"))}–${to}`;
}
