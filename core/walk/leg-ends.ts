import type { LegEnd } from "../legs/leg-figures.ts";
import { pointLabel, type Walk } from "./walk.ts";

/** The walk's points as the figures take them. */
export const legEndsOf = (walk: Walk): readonly LegEnd[] =>
  walk.points.map(({ lonLat, aimOff }, i) => ({
    label: pointLabel(walk, i),
    lonLat,
    ...(aimOff && { aimOff }),
  }));
