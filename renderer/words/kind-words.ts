/** What things on the ground are called in a sentence. */
import type { Kind } from "../../core/map/kinds.ts";

const KIND_WORDS: Record<Kind, string> = {
  stream: "stream",
  river: "river",
  water: "water",
  shore: "shore",
  path: "path",
  road: "road",
  rail: "railway",
  wall: "wall",
  fence: "fence",
  powerLine: "power line",
  cliff: "cliff",
  wetland: "wetland",
  wood: "wood",
  woodEdge: "edge of the wood",
  building: "building",
  boundary: "boundary",
  restricted: "closed area",
  peak: "summit",
  spotHeight: "spot height",
  ridge: "ridge",
  valley: "valley",
  spur: "spur",
  draw: "draw",
  saddle: "saddle",
  hill: "hill",
  depression: "depression",
  junction: "junction",
  confluence: "confluence",
  bend: "bend",
  corner: "corner",
  steep: "steep ground",
  rise: "rising ground",
  drop: "falling ground",
  contour: "contour",
};

export const kindWord = (kind: Kind): string => KIND_WORDS[kind];

/** What has no name of its own but that of the area it bounds. */
const EDGES: Partial<Record<Kind, string>> = { woodEdge: "edge of", shore: "shore of" };

/** Its own name, or what it is: "Sallow Water", "edge of Ashcroft Wood", "stream". */
export function thingName(kind: Kind, name: string | null): string {
  if (name === null) return KIND_WORDS[kind];
  return EDGES[kind] ? `${EDGES[kind]} ${name}` : name;
}

/** As in a sentence: "Sallow Water", "the edge of Ashcroft Wood", "the stream". */
export const theThing = (kind: Kind, name: string | null): string =>
  name === null || EDGES[kind] ? `the ${thingName(kind, name)}` : name;
