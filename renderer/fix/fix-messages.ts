/** What the slip asks the worker of the map's lines, and what comes back: plain data, lines by the stretch that matters. */
import type { WalkedFrom } from "../../core/fix/back-on-track.ts";
import type { Clue } from "../../core/fix/clues.ts";
import type { ReckonedPlace, ReckoningSettings } from "../../core/fix/dead-reckoning.ts";
import type { FixSettings } from "../../core/fix/sighting.ts";
import type { Kind } from "../../core/map/kinds.ts";
import type { TrueBearing } from "../../core/units/angle.ts";
import type { LengthUnit } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";

/** The line a person meant, by a place on it. */
export interface LineNear {
  readonly kind: Kind;
  readonly name: string | null;
  readonly lonLat: LonLat;
}

export interface OnLineQuestion {
  readonly line: LineNear;
  /** Any line of its kind around it, not that one alone. */
  readonly any: boolean;
  readonly clues: readonly Clue[];
  readonly settings: FixSettings;
  readonly unit: LengthUnit;
}

export interface TrackQuestion {
  readonly walked: WalkedFrom;
  readonly kinds: readonly Kind[];
  readonly clues: readonly Clue[];
  readonly next: LonLat | null;
  readonly settings: ReckoningSettings;
  readonly unit: LengthUnit;
}

export interface Spot {
  readonly at: LonLat;
  /** Share of the chance on the lines, 0 to 1. */
  readonly probability: number;
  /** The stretches of line that hold 95 % of this place's chance. */
  readonly stretches: readonly (readonly LonLat[])[];
  readonly why: string;
  readonly onward: { readonly bearing: TrueBearing; readonly distanceM: number } | null;
}

export interface Spots {
  /** Most likely first. */
  readonly spots: readonly Spot[];
  readonly warnings: readonly string[];
  /** Where the count ends; null when nothing was counted. */
  readonly reckoned: ReckonedPlace | null;
}
