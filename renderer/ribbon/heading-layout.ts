/** Figures over the legs of the ribbon: as many as fit over each; the leg on the slip always has its own. Pure. */
import { longestThatFits } from "./label-layout.ts";

export interface HeadingWanted {
  readonly leg: number;
  /** Where the leg begins and ends, pixels. */
  readonly x0: number;
  readonly x1: number;
  readonly bearing: string;
  /** What may follow the bearing, longest first, the empty text last. */
  readonly rests: readonly string[];
}

export interface HeadingPlaced {
  readonly leg: number;
  readonly middle: number;
  readonly bearing: string;
  readonly rest: string;
}

export interface HeadingWidths {
  readonly bearing: (text: string) => number;
  readonly rest: (text: string) => number;
}

/** How much the shown leg says when its own room is too narrow: its north, no more. */
const BORROWED = 2;

/**
 * @param shown leg on the slip: where its room is too narrow it stands over its neighbours, who give way
 * @param room ends of the ribbon and least distance between two headings, pixels
 */
export function placeHeadings(
  wanted: readonly HeadingWanted[],
  shown: number | null,
  widths: HeadingWidths,
  room: { readonly left: number; readonly right: number; readonly gap: number },
): readonly HeadingPlaced[] {
  const place = (one: HeadingWanted, x0: number, x1: number): HeadingPlaced | null => {
    const width = x1 - x0 - room.gap;
    const bearing = widths.bearing(one.bearing);
    // Half the gap is given up before the bearing is.
    if (bearing > width + room.gap / 2) return null;
    const rest = longestThatFits(one.rests, width - bearing, widths.rest);
    return { leg: one.leg, middle: (x0 + x1) / 2, bearing: one.bearing, rest };
  };

  const own = wanted.find(({ leg }) => leg === shown);
  const taken = own && !place(own, own.x0, own.x1) ? borrowed(own, widths, room) : null;
  return wanted.flatMap((one) => {
    if (taken && one.leg === taken.leg) return [taken];
    const x0 = taken && one.leg > taken.leg ? Math.max(one.x0, taken.x1) : one.x0;
    const x1 = taken && one.leg < taken.leg ? Math.min(one.x1, taken.x0) : one.x1;
    return place(one, x0, x1) ?? [];
  });
}

function borrowed(
  own: HeadingWanted,
  widths: HeadingWidths,
  room: { readonly left: number; readonly right: number },
): HeadingPlaced & { readonly x0: number; readonly x1: number } {
  const rest = own.rests.at(-BORROWED) ?? "";
  const half = (widths.bearing(own.bearing) + widths.rest(rest)) / 2;
  const middle = Math.min(Math.max((own.x0 + own.x1) / 2, room.left + half), room.right - half);
  return { leg: own.leg, middle, bearing: own.bearing, rest, x0: middle - half, x1: middle + half };
}
