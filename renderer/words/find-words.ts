/** Words of the find slip: going to a place by name, reference or bearing, and how positions are written. */
import { formatNumber } from "../../core/units/format.ts";
import type { North } from "../../core/walk/walk.ts";
import type { ShownNotation } from "../../electron/contract.ts";

export const findWords = {
  command: "Find a place…",
  short: "Find",
  label: "Find a place",
  field: "Place to find",
  hint: "A name, a grid reference, latitude and longitude, a leg such as from B 247° 640 m, or what is to be done.",
  commands: "What it may mean to do",
  noPlaceButDo: "No place of that name here, but this can be done:",
  leave: "Leave",
  list: "What it may be",
  goThere: "Go there",
  addPoint: (letter: string) => `Add it as point ${letter}`,
  pickPoint: (label: string) => `Go to ${label}`,
  added: (label: string) => `Point ${label} is put there.`,
  shown: "It is shown on the map.",
  mark: (title: string) => `Place found: ${title}. Press to add it as a point, Escape to take the mark away.`,
  detail: "How this was worked out",
  notationGroup: "How positions are written",
  notationHint: "The chosen one is also used under the pointer.",
  notationMenu: "Positions as",

  position: "Position",
  pointKind: "point of the walk",
  endOfLeg: "End of the leg",
  norths: { magnetic: "magnetic", grid: "grid", true: "true" } satisfies Record<North, string>,
  notations: {
    mgrs: "MGRS",
    utm: "UTM",
    dd: "Degrees",
    dm: "Degrees, minutes",
    dms: "Degrees to seconds",
    british: "British grid",
    grid: "Own grid",
  } satisfies Record<ShownNotation, string>,
  side: (metres: number) =>
    metres >= 1000 ? `${formatNumber(metres / 1000)}\u00a0km` : `${formatNumber(metres)}\u00a0m`,

  readAs: {
    dd: "Read as latitude and longitude in degrees.",
    dm: "Read as latitude and longitude in degrees and minutes.",
    dms: "Read as latitude and longitude in degrees, minutes and seconds.",
    utm: "Read as UTM coordinates.",
    square: (reference: string, side: string) => `Read as ${reference}, a square of ${side}.`,
    british: (reference: string, side: string) =>
      `Read as ${reference} on the British grid, a square of ${side}.`,
    grid: (title: string) => `Read as easting and northing in ${title}.`,
    point: (label: string) => `Point ${label} of the walk.`,
    named: (kind: string, name: string) => `${name}, ${kind} on this map.`,
    leg: (label: string, bearing: string, north: string, distance: string) =>
      `From ${label} on ${bearing} ${north} for ${distance}.`,
  },

  elevation: "Height",
  noHeight: "not known here",
  from: (label: string) => `From ${label}`,
  samePlace: "the same place",
  offMap: (distance: string, side: string) =>
    `This place is off the map, ${distance} beyond its ${side} edge: the map cannot go there.`,
  noMap: "No map is open: there is nothing to go to, but the place can be added to the walk.",

  how: {
    middleOfSquare: (side: string) => `A reference names a square of ${side}; the place is its middle.`,
    middleOfNamed: (name: string) => `The place is somewhere about the middle of ${name}.`,
    geodesic: "Measured along the geodesic on WGS 84.",
    fromGrid: (convergence: string) => `Grid to true with the convergence ${convergence} at the start.`,
    fromMagnetic: (declination: string, rule: string) =>
      `Magnetic to true with the declination ${declination} at the start, ${rule}.`,
    rules: { model: "by the magnetic model on the day of the walk", printed: "as printed on the map" },
    utm: (zone: string, convergence: string, scale: string) =>
      `${zone} on WGS 84: convergence ${convergence} (grid north from true north), scale factor ${scale}.`,
    british: (convergence: string, scale: string, accuracy: string) =>
      `British grid: convergence ${convergence}, scale factor ${scale}; the datum is ${accuracy}.`,
    grid: (title: string, convergence: string, scale: string, accuracy: string) =>
      `${title}: convergence ${convergence}, scale factor ${scale}; the datum is ${accuracy}.`,
    groundLength: (perKm: string) => `There 1 km on the ground is ${perKm} on the grid.`,
    zone: (zone: number) => (zone === 0 ? "UPS" : `UTM zone ${zone}`),
    declination: (value: string, rule: string) => `Declination ${value}, ${rule}.`,
    height: "Height from the map’s terrain or contours.",
  },

  accuracyUnknown: "of an accuracy its definition does not state",
  accuracy: (metres: number, source: string | null) =>
    `good to about ${formatNumber(metres, metres % 1 ? 1 : 0)}\u00a0m${source ? ` (${source})` : ""}`,
  outsideGrid: (area: string) =>
    `The place lies outside the area (${area}) the grid’s constants were made for: its figures may be off by far more.`,

  // Faults: what is wrong, and the remedy.
  noGridChosen: "No grid of your own is chosen.",
  chooseGrid: "Choose one in the settings.",
  noSuchPoint: "The walk has no point called that.",
  nameAPoint: "Name a point by its letter or its name.",
  noSuchName: "Neither the walk nor the map around here has such a name.",
  whatToWrite:
    "Write a name on the map, a grid reference, latitude and longitude, or a bearing and a distance.",
  noStart: "There is no point for the leg to start from.",
  drawStart: "Put the first point on the map.",
  noDeclination: "A magnetic bearing cannot be turned here without a declination.",
  writeOtherNorth: "Write “true” or “grid” after the bearing.",
  britishOrMgrs: "This may be a British reference or an MGRS reference without its zone.",
  sayWhich: "Write “british” or the zone before it.",
  notEastNorth: "This is not an easting and a northing.",
  twoFigures: "Write two figures in the grid’s own unit, such as 465403 5247151.",
};
