/**
 * The demo walk: second morning of a weekend practice for beginners, who walk in pairs with an instructor. Points lie on
 * things that can be found: each is looked up among the reserve's features, never typed as a number.
 */
import { emptyWalk, NOTHING_UNKNOWN, type Walk, type WalkPoint } from "../../core/walk/walk.ts";
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
    name: "Bunkhouse, start",
    at: { on: "building", called: "Ulder Bunkhouse" },
    note: "From the bunkhouse door. Everyone sets the first bearing and shows it to their partner before the first step.",
  },
  {
    name: "Lowder fork",
    at: { on: "junction", near: km(6.97, 2.74) },
    note: "Uphill all the way, out of Merle Wood and over the wall. Lowder Path draws near on the left and is met only at the fork: count paces.",
  },
  {
    name: "Lowder Knott",
    at: { on: "summit", called: "Lowder Knott" },
    note: "The path loops away and comes back: leave it and climb. Where the ground falls on every side, take three back bearings.",
  },
  {
    name: "Saddle path",
    at: { on: "way", near: km(8.35, 2.55) },
    note: "Down along the shoulder. Stop at the path: a small crag lies beyond it.",
  },
  {
    name: "Merle bend",
    at: { on: "way", near: km(8.8, 3.3) },
    note: "The leg cuts a corner of Merle Wood, where one sees no distance: short hops from one steering mark to the next.",
  },
  {
    name: "Lake junction",
    at: { on: "junction", near: km(8.82, 4.18) },
    note: "Downhill. Dale Road stops you, and the lake behind it. Aim off to one side and know which way to turn.",
  },
  {
    name: "Bay bend",
    at: { on: "way", near: km(8.37, 4.0) },
    note: "The lake's southern bay is on the right, the road on the left: stop where the road bends round the head of the bay.",
  },
  {
    name: "Boathouse",
    at: { on: "building", called: "Boathouse" },
    note: "Between road and shore, which draw together like a funnel.",
  },
  {
    name: "Foot Bridge",
    at: { on: "bridge", called: "Foot Bridge" },
    note: "Straight over the bend of the road, twice across it. Aim off a little to the left: Shore Path then leads to the bridge.",
  },
  {
    name: "Kell Bridge",
    at: { on: "bridge", called: "Kell Bridge" },
    note: "Over the bridge, then Foot Moss: soft ground and no path, the river always on the left. Pairs leapfrog, one sighting the other.",
  },
  {
    name: "Bunkhouse, end",
    at: { on: "building", called: "Ulder Bunkhouse" },
    note: "Away from the river to the house behind Dale Road, which leads home whoever misses it.",
  },
];

/** How far a thing may be from where a stage looks for it, metres. */
const WITHIN_M = 150;

export function findLandmark(features: ReserveFeatures, at: Landmark): Place {
  const nearest = (places: readonly Place[], near: Place): Place | undefined => {
    const best = places.reduce<Place | undefined>(
      (a, b) => (a && apart(a, near) <= apart(b, near) ? a : b),
      undefined,
    );
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
        return nearest(
          features.streams.map(({ line }) => line[line.length - 1] as Place),
          at.near,
        );
      case "way":
        return nearest(
          features.network.ways.map(({ line }) => nearestOn(line, at.near).place),
          at.near,
        );
    }
  })();
  if (!found) throw new Error(`The walk looks for a ${at.on} that is not there: ${JSON.stringify(at)}`);
  return found;
}

export function practiceWalk(features: ReserveFeatures, mapId: string): Walk {
  const points = STAGES.map(({ name, at, note }, i): WalkPoint => ({
    id: `p${i + 1}`,
    name,
    lonLat: toLonLat(findLandmark(features, at)),
    note,
    unknown: NOTHING_UNKNOWN,
    aimOff: false,
    instruction: null,
    unknownOfLeg: NOTHING_UNKNOWN,
  }));
  return {
    ...emptyWalk("2027-05-16"),
    title: "Uldermoor weekend: Sunday practice",
    mapId,
    // The sun does not know that the place is borrowed: this clock keeps its noon near 13:00.
    timeZone: "America/Anchorage",
    points,
    notes:
      "An invented place: for trying the program, not for walking. Practice for beginners in pairs with an instructor: " +
      "out over Lowder Knott, back by the lake. The nesting ground at Merle Scar stays closed. Turn back to Dale Road in doubt.",
  };
}
