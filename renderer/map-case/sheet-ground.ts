/** Which map of the case gives a scanned sheet its ground: the one chosen for it, else the one that covers most of it. */
import { intersectBbox } from "../../core/map/tile-grid.ts";
import type { Bbox } from "../../core/units/position.ts";
import type { MapEntry, Settings } from "../../electron/contract.ts";

/** The maps that can lie under a sheet. */
export const groundsAmong = (entries: readonly MapEntry[]): readonly MapEntry[] =>
  entries.filter(({ pictures, fault }) => pictures === null && fault === null);

/** @returns the id of the sheet's ground; null when there is none, or none is wanted */
export function groundOf(
  sheet: MapEntry,
  entries: readonly MapEntry[],
  chosen: Settings["sheetGrounds"],
): string | null {
  const choice = chosen[sheet.id];
  if (choice === null) return null;
  const grounds = groundsAmong(entries);
  return grounds.find(({ id }) => id === choice)?.id ?? bestGround(sheet, grounds);
}

/** Of maps that cover as much, the smallest: it was made for the place. */
function bestGround({ bounds }: MapEntry, grounds: readonly MapEntry[]): string | null {
  if (!bounds) return null;
  const [best] = grounds
    .flatMap(({ id, bounds: own }) =>
      own ? [{ id, covered: area(intersectBbox(bounds, own)), size: area(own) }] : [],
    )
    .filter(({ covered }) => covered > 0)
    .toSorted((a, b) => b.covered - a.covered || a.size - b.size);
  return best?.id ?? null;
}

/** In square degrees, which all compare alike about one sheet. */
const area = (box: Bbox | null): number => (box ? (box[2] - box[0]) * (box[3] - box[1]) : 0);
