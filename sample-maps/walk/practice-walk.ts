/**
 * The demo walk: second morning of a weekend practice for beginners, who walk in pairs with an instructor. Points lie on
 * things that can be found: each is looked up among the reserve's features, never typed as a number.
 */
import { emptyWalk, type Walk, type WalkPoint } from "../../core/walk/walk.ts";
import { NOTHING_UNKNOWN } from "../../core/walk/walk.ts";
import { apart, nearestOn } from "../features/line-shape.ts";
import type { ReserveFeatures } from "../features/reserve-features.ts";
import { toLonLat } from "../features/sheet-frame.ts";
import type { Place } from "../terrain/recipe.ts";

/** What a point stands on. */
export type Landmark =
  | { readonly on: "building" | "bridge" | "summit"; readonly called: string }
  | { readonly on: "junction" | "wall corner" | "way" | "confluence"; readonly near: Place };

export interface Stage {
  readonly name: string;
  readonly at: Landmark;
  readonly note: string;
}

const km = (east: number, north: number): Place => [east * 1000, north * 1000];

export const STAGES: readonly Stage[] = [
  {
    name: "Bunkhouse junction",
    at: { on: "junction", near: km(7.08, 3.6) },
    note: "Start where Lowder Path leaves Dale Road. Everyone sets the first bearing and shows it to their partner.",
  },
  {
    name: "Fork below Lowder",
    at: { on: "junction", near: km(6.98, 2.73) },
    note: "Lowder Path runs on your left or right most of the way. Count paces; the fork confirms the count.",
  },
  {
    name: "Lowder Knott",
    at: { on: "summit", called: "Lowder Knott" },
    note: "Straight up: when the ground falls away on every side you are there. Take three back bearings from the top.",
  },
  {
    name: "Saddle path",
    at: { on: "way", near: km(8.35, 2.55) },
    note: "Small crags lie on the right before the end: stay on the bearing, use steering marks, do not drift down.",
  },
  {
    name: "Merle Wood bend",
    at: { on: "way", near: km(8.8, 3.3) },
    note: "Wood edge on the left. If the path is lost, it lies to the right.",
  },
  {
    name: "Lake junction",
    at: { on: "junction", near: km(8.75, 4.18) },
    note: "The road stops you, the lake behind it as well. Aim off a little to the left and turn right along the road.",
  },
  {
    name: "Boathouse",
    at: { on: "building", called: "Boathouse" },
    note: "The bay cuts into the leg: go round it by the road, and use the count of paces on the far side.",
  },
  {
    name: "Foot Bridge",
    at: { on: "bridge", called: "Foot Bridge" },
    note: "Shore on the right. The river below the lake stops you.",
  },
  {
    name: "Kell Footbridge",
    at: { on: "bridge", called: "Kell Footbridge" },
    note: "Across Foot Moss: soft going, no path. Pairs leapfrog, one sighting the other.",
  },
  {
    name: "Ulder Bunkhouse",
    at: { on: "building", called: "Ulder Bunkhouse" },
    note: "The road leads home for whoever misses the house.",
  },
];

/** How far a thing may be from where a stage looks for it, metres. */
const WITHIN_M = 150;

export function findLandmark(features: ReserveFeatures, at: Landmark): Place {
  const nearest = (places: readonly Place[], near: Place): Place | undefined => {
    const best = places.reduce<Place | undefined>((a, b) => (a && apart(a, near) <= apart(b, near) ? a : b), undefined);
    return best && apart(best, near) <= WITHIN_M ? best : undefined;
  };
  const found = ((): Place | undefined => {
    switch (at.on) {
      case "building":
        return features.buildings.find(({ plan }) => plan.name === at.called)?.middle;
      case "bridge":
        return features.bridges.find(({ name }) => name === at.called)?.shape;
      case "summit":
        return features.summits.find(({ name }) => name === at.called)?.shape.place;
      case "junction":
        return nearest(features.network.junctions, at.near);
      case "wall corner":
        return nearest(features.walls.flat(), at.near);
      case "confluence":
        return nearest(features.streams.map(({ line }) => line[line.length - 1] as Place), at.near);
      case "way":
        return nearest(features.network.ways.map(({ line }) => nearestOn(line, at.near).place), at.near);
    }
  })();
  if (!found) throw new Error(`The walk looks for a ${at.on} that is not there: ${JSON.stringify(at)}`);
  return found;
}

export function practiceWalk(features: ReserveFeatures, mapId: string): Walk {
  const points = STAGES.map(
    ({ name, at, note }, i): WalkPoint => ({
      id: `p${i + 1}`,
      name,
      lonLat: toLonLat(findLandmark(features, at)),
      note,
      unknown: NOTHING_UNKNOWN,
      unknownOfLeg: NOTHING_UNKNOWN,
    }),
  );
  return {
    ...emptyWalk("2027-05-16"),
    title: "Uldermoor weekend: Sunday practice",
    mapId,
    points,
    notes:
      "An invented place: for trying the program, not for walking. Practice for beginners in pairs with an instructor: " +
      "out over Lowder Knott, back by the lake. The nesting ground at Merle Scar stays closed. Turn back to Dale Road in doubt.",
  };
}
