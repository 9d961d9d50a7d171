/** What takes longer than a leg's figures: how likely the target is found, what would help, and how to get out. */
import type { LonLat } from "../../units/position.ts";
import type { MagneticBearing } from "../../units/angle.ts";
import type { Escape } from "../aids/escape.ts";
import type { AdviceSettings } from "./advice-settings.ts";
import type { HandrailRoute } from "../aids/handrail-route.ts";
import type { CloudPoint } from "../odds/cloud.ts";
import type { Odds } from "../odds/simulate.ts";
import type { Changed } from "../odds/worth-of-aids.ts";

/** A change to how the leg is walked that one click makes. */
export type Proposal =
  | { readonly change: "marks" | "handrail" | "aimOff"; readonly odds: Odds; readonly words: string }
  | {
      /** A point put in between: an attack point near the target, or a sure place on the way. */
      readonly change: "attackPoint" | "split";
      readonly lonLat: LonLat;
      /** What is there, with its article: "the junction of a path and Moor Road". */
      readonly place: string;
      readonly odds: Odds;
      readonly words: string;
    };

/** A longer way along lines, with the odds of going it. */
export interface RouteAdvice extends HandrailRoute {
  /** Null when a straight part of it cannot be judged. */
  readonly odds: Odds | null;
  /** Walking time by the walk's own rule, by Naismith's where that needs the ground along the way; null when heights are missing. */
  readonly timeS: number | null;
}

export interface EscapeFigure extends Escape {
  readonly bearingMagneticDeg: MagneticBearing | null;
}

export interface LegAdvice {
  /** Place of the leg in the walk, from 1. */
  readonly n: number;
  /** Of the leg as planned; null without length or without a map. */
  readonly odds: Odds | null;
  /** Where simulated walkers end. */
  readonly cloud: readonly CloudPoint[];
  /** The odds with one thing changed, the one that helps most first. */
  readonly worth: readonly Changed[];
  /** What helps by more than the noise, the best first. */
  readonly better: readonly Proposal[];
  /** The odds fall below the level chosen in the settings. */
  readonly flagged: boolean;
  readonly route: RouteAdvice | null;
  /** Why no way along lines is offered. */
  readonly routeReason: string | null;
  readonly escape: EscapeFigure | null;
  readonly notes: readonly string[];
}

export interface WalkAdvice {
  readonly settings: AdviceSettings;
  readonly legs: readonly LegAdvice[];
  /** One bearing out from anywhere on the walk; null when none serves. */
  readonly escape: EscapeFigure | null;
  readonly notes: readonly string[];
}
