/** The sums of a leg table. */
import { unitOf } from "../../legs/how/how-about.ts";
import type { LegTable } from "../../legs/table/leg-table.ts";
import { formatDuration, formatHeight, formatLength, formatNumber } from "../../units/format.ts";

/** Sums under their columns, in the table's units; empty for columns that have none. */
export function totalsOf(table: LegTable): Readonly<Record<string, string>> {
  const { totals } = table.figures;
  const unit = unitOf(table);
  return {
    distanceM: formatLength(totals.distanceM, unit),
    slopeDistanceM: formatLength(totals.slopeDistanceM, unit),
    paces: formatNumber(totals.paces),
    climbM: formatHeight(totals.climbM, unit),
    descentM: formatHeight(totals.descentM, unit),
    timeS: formatDuration(totals.timeS),
  };
}
