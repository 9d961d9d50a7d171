/** Which lines of the map serve as what, how surely a walker notices them, and what they are called. */
import type { Kind } from "../map/kinds.ts";

/**
 * Lines a leg is said to cross. Contours are not among them: nobody sees one on the ground; the profile uses them.
 */
export const CROSSED_KINDS: ReadonlySet<Kind> = new Set<Kind>([
  "stream",
  "river",
  "shore",
  "path",
  "road",
  "rail",
  "wall",
  "fence",
  "powerLine",
  "cliff",
  "wetland",
  "woodEdge",
  "boundary",
  "restricted",
  "ridge",
  "valley",
]);

/**
 * How surely a line can be followed, 0–1. Only the order matters much: things one walks on or keeps a hand on come
 * before edges, edges before the shape of the ground. Common practice, no source for the figures.
 */
const FOLLOWED: ReadonlyMap<Kind, number> = new Map<Kind, number>([
  ["path", 1],
  ["road", 1],
  ["wall", 0.95],
  ["shore", 0.95],
  ["river", 0.95],
  ["stream", 0.9],
  ["fence", 0.9],
  ["rail", 0.85], // followed beside it, never on it
  ["powerLine", 0.75],
  ["woodEdge", 0.75], // edges move, power lines cross gaps on high
  ["ridge", 0.6],
  ["valley", 0.55],
]);
export const FOLLOWED_KINDS: ReadonlySet<Kind> = new Set(FOLLOWED.keys());
export const followedSurely = (kind: Kind): number => FOLLOWED.get(kind) ?? 0;

/**
 * How surely a walker who meets a line stops at it, 0–1. Cliffs are not here: a line that is dangerous to meet is a
 * hazard. Common practice, no source for the figures.
 */
const STOPPED_AT: ReadonlyMap<Kind, number> = new Map<Kind, number>([
  ["road", 1],
  ["rail", 1],
  ["river", 1],
  ["shore", 1],
  ["wall", 0.95],
  ["fence", 0.9],
  ["stream", 0.9],
  ["path", 0.85],
  ["powerLine", 0.85],
  ["woodEdge", 0.8],
  ["ridge", 0.5],
  ["valley", 0.5],
  ["rise", 0.5],
  ["drop", 0.5],
]);
export const STOPPING_KINDS: ReadonlySet<Kind> = new Set(STOPPED_AT.keys());
export const stopsSurely = (kind: Kind): number => STOPPED_AT.get(kind) ?? 0;
/** The shape of the ground alone: walked over unnoticed in mist, so second choice to anything built or wet. */
export const isGroundShape = (kind: Kind): boolean => (STOPPED_AT.get(kind) ?? 1) <= 0.5;

/** Every line kind the figures of a leg ask the map for. */
export const LEG_LINE_KINDS: ReadonlySet<Kind> = new Set<Kind>([
  ...CROSSED_KINDS,
  ...FOLLOWED_KINDS,
  ...STOPPING_KINDS,
]);

const WORDS: Readonly<Record<Kind, string>> = {
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
  woodEdge: "wood edge",
  building: "building",
  boundary: "boundary",
  restricted: "restricted area",
  filled: "ground whose heights were filled in",
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
  place: "named place",
  steep: "steep ground",
  rise: "rising ground",
  drop: "falling ground",
  contour: "contour",
};
/** What a person calls it, in lower case. */
export const kindWord = (kind: Kind): string => WORDS[kind];
/**
 * "stream Fern Beck", "edge of High Wood"; the kind alone when it has no name, the name alone when it says the kind
 * itself ("Moor Road").
 */
export function kindAndName(kind: Kind, name: string | null): string {
  const word = kindWord(kind);
  if (name === null) return word;
  if (kind === "woodEdge") return `edge of ${name}`;
  if (kind === "shore") return `shore of ${name}`;
  return name
    .toLowerCase()
    .split(/[\s-]+/)
    .includes(word)
    ? name
    : `${word} ${name}`;
}
