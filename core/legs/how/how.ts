/**
 * How each figure of a leg was worked out: short plain sentences with the leg's own numbers, the method, its source,
 * the settings it depends on and what is known of its error. For an absent figure, why it is absent.
 */
import type { LegFigures } from "../figures.ts";
import type { HowAbout } from "./how-about.ts";
import { howBackstop, howCrossings, howHandrail } from "./how-aids.ts";
import { howLandforms, howSight } from "./how-forms.ts";
import { howClimb, howDistance, howSlopeDistance, howSteepest } from "./how-ground.ts";
import { howBearing, howDeclination } from "./how-norths.ts";
import { howArrival, howDaylight, howPaces, howTime } from "./how-travel.ts";

/** Figures that can be explained, in the order of the leg slip, with the words a person calls them by. */
export const HOW_FIGURES = {
  bearing: "Bearing",
  declination: "Declination",
  distance: "Distance",
  slopeDistance: "Over the slope",
  climb: "Climb",
  descent: "Descent",
  steepest: "Steepest",
  paces: "Paces",
  time: "Time",
  arrival: "Arrival",
  daylight: "Daylight",
  crossings: "Meets",
  landforms: "Ground",
  sight: "Sight",
  handrail: "Follow",
  backstop: "Stop",
} as const;
export type HowFigure = keyof typeof HOW_FIGURES;

/** @returns sentences in the order they are to be read; at least one */
export function howOf(figure: HowFigure, leg: LegFigures, about: HowAbout): readonly string[] {
  switch (figure) {
    case "bearing":
      return howBearing(leg, about);
    case "declination":
      return howDeclination(leg, about);
    case "distance":
      return howDistance(leg, about);
    case "slopeDistance":
      return howSlopeDistance(leg, about);
    case "climb":
    case "descent":
      return howClimb(leg, about, figure);
    case "steepest":
      return howSteepest(leg, about);
    case "paces":
      return howPaces(leg, about);
    case "time":
      return howTime(leg, about);
    case "arrival":
      return howArrival(leg, about);
    case "daylight":
      return howDaylight(about);
    case "crossings":
      return howCrossings(leg, about);
    case "landforms":
      return howLandforms(leg, about);
    case "sight":
      return howSight(leg, about);
    case "handrail":
      return howHandrail(leg, about);
    case "backstop":
      return howBackstop(leg, about);
  }
}
