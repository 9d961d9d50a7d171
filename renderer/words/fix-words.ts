/** Words of the slip that finds a position from bearings. */
import type { North } from "../../core/walk/walk.ts";

export const fixWords = {
  command: "Position from bearings…",
  label: "Position from bearings",
  close: "Close",
  ways: {
    resect: "Where am I?",
    intersect: "What is over there?",
  },
  lead: {
    resect: "Bearings you took to things you know, two or more, well spread.",
    intersect: "Bearings to one far thing, taken at two places you know, or more.",
  },
  list: "Bearings",
  bearing: (n: number) => `Bearing ${n}`,
  north: (n: number) => `North of bearing ${n}`,
  norths: { magnetic: "magnetic", grid: "grid", true: "true" } satisfies Record<North, string>,
  way: { resect: "to", intersect: "from" },
  known: (n: number) => `Known point ${n}`,
  knownHint: "name, point or reference",
  pick: (n: number) => `Pick known point ${n} on the map`,
  pickShort: "Map",
  picking: (n: number) => `Click known point ${n} on the map. Esc leaves it.`,
  another: "Another bearing",
  waiting: "Two bearings with their points are needed.",
  noPoint: "Which point?",
  noBearing: "Which bearing?",
  place: "Place",
  sure: (major: string, minor: string, way: string, back: string) =>
    `Known 95 times in 100 within ${major} along ${way} or ${back} true, ${minor} across.`,
  off: (deg: string, far: string) => `${far} away; ${deg} off this place`,
  offTwo: (far: string) => `${far} away`,
  warnings: "Mind",
  cautions: "Before you trust it",
  addPoint: (letter: string) => `Put point ${letter} here`,
  added: (letter: string) => `Point ${letter} is put there.`,
  offMap: "The place is not on this map.",
  drawn: (n: number) => `${n} bearings drawn on the map, and where they meet`,
};
