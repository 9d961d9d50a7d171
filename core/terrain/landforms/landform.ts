/**
 * Landforms in the words of map reading: hill, saddle, valley, ridge, depression; spur, draw, cliff.
 * Source of the words: US Army FM 3-25.26, Map Reading and Land Navigation, chapter 10 (terrain features), and
 * TC 3-25.26 chapter 9; the wording of `MEANING` is ours.
 */
import type { Bbox, LonLat } from "../../units/position.ts";

export type LandformKind = "hill" | "saddle" | "valley" | "ridge" | "depression" | "spur" | "draw" | "cliff";

/** What makes each of them, to be read by a beginner. */
export const MEANING: Readonly<Record<LandformKind, string>> = {
  hill: "high ground from which the land falls in every direction",
  saddle: "a low place on the crest between two higher ones",
  valley: "a long, gently falling trough between higher ground",
  ridge: "a long line of high ground with the land falling away on both sides",
  depression: "low ground with higher ground all round",
  spur: "a tongue of high ground running down from a hill or ridge",
  draw: "a small, steep valley head between two spurs, without a flat floor",
  cliff: "a drop that is upright or nearly so",
};

export interface Landform {
  readonly kind: LandformKind;
  /** As on the map; null where it has none there. */
  readonly name: string | null;
  /** Top, lowest place, middle of the saddle, or the middle of the line. */
  readonly lonLat: LonLat;
  readonly elevationM: number;
  /**
   * Box around it: of a hill its top, no farther down than half its prominence or `TOP_M`; of a depression all that
   * lies below the level where it would run over.
   */
  readonly extent: Bbox;
  /**
   * Hill: prominence. Depression: depth. Saddle: below the lower of the two heights it joins. Ridge and spur: how high
   * they stand over the ground 100 m to either side, valley and draw how deep they lie below it. Cliff: its drop.
   */
  readonly reliefM: number;
  /** The relief was not followed to its end, because the heights known or looked at end first: it may be more. */
  readonly atLeast: boolean;
  /** Of a ridge, spur, valley, draw: the line along it, longitude, latitude … Else null. */
  readonly line: Float64Array | null;
}

/** How far down from its summit ground counts as a hill's top, metres. No source. */
export const TOP_M = 15;
/** Distance to either side at which the ground is compared with a crest or a trough, metres. No source. */
export const SIDE_M = 100;
/** A crest or trough stands out by this much over that distance on either side, metres. No source. */
export const LEAST_SIDE_RELIEF_M = 3;
/** A crest that falls along its own line as steeply is a spur, else a ridge; a trough a draw, else a valley. No source. */
export const STEEP_AXIS = Math.tan((6 * Math.PI) / 180);
/** Ground this steep is called a cliff, degrees. No source. */
export const CLIFF_DEG = 45;
/** So far around a leg the ground is looked at, metres; prepare at least that. */
export const LANDFORM_REACH_M = 400;
