/** Words of the map sums: scale, ruler, slope, bearings and norths, each with its working. */
import { formatNumber } from "../../core/units/format.ts";
import type { North } from "../../core/walk/walk.ts";

export const sumsWords = {
  command: "Map sums…",
  measured: "… mm",
  title: "Map sums",
  lead: "Fill in any blank: the rest follows.",
  close: "Close",

  scale: {
    title: "Scale",
    says: "The map says",
    scale: "Scale of the map",
    perKm: "1 km is",
    perInch: "1 inch is",
    perMile: "1 mile is",
    unknown: "On a map without a scale",
    knownGround: "Length known on the ground",
    is: "is",
    knownRuler: "The same length on the ruler",
    longSo: "long, so its scale is",
    use: "Use it here",
    how: {
      fraction: (scale: string) => `${scale}: one of anything on the map is that many of it on the ground.`,
      perKm: (mm: string, scale: string) => `${formatNumber(1_000_000)}\u00a0mm ÷ ${scale} = ${mm}\u00a0mm.`,
      perInch: (feet: string, scale: string) => `${scale}\u00a0in ÷ 12 = ${feet}\u00a0ft.`,
      toGround: (paper: string, scale: string, ground: string) => `${paper} × ${scale} = ${ground}.`,
      toRuler: (ground: string, scale: string, paper: string) => `${ground} ÷ ${scale} = ${paper}.`,
      compass: (compass: string, map: string, factor: string) =>
        `Its marks are those of ${compass}; on ${map} each is ${factor} times as much.`,
      times: (reading: string, factor: string, ground: string) => `${reading} × ${factor} = ${ground}.`,
      unknown: (ground: string, paper: string, scale: string) => `${ground} ÷ ${paper} = ${scale}.`,
      rulerError: (by: string) =>
        `Half a millimetre on the ruler makes about ${by} of it: it is given to that.`,
    },
  },

  ruler: {
    title: "Ruler and ground",
    at: (scale: string) => `On a map of ${scale}`,
    ruler: "Length on the ruler",
    isOnGround: "of ruler is",
    onGround: "on the ground.",
    ground: "Length on the ground",
    isOnRuler: "of ground is",
    onRuler: "on the ruler.",
    edge: "A compass edge ruled for",
    compassScale: "Scale of the compass’s edge",
    reads: "reads",
    reading: "What the edge reads",
    inTruth: "there: in truth it is",
  },

  slope: {
    title: "Slope",
    a: "A slope of",
    degrees: "Slope in degrees",
    percent: "Slope in percent",
    ratio: "Run for a rise of 1",
    oneIn: "or 1 in",
    climbs: "It climbs",
    rise: "Rise",
    in: "in",
    run: "Run on the map",
    onMap: "on the map.",
    longer: (metres: string) => `100 m on the map are ${metres} m on the slope.`,
    level: "level",
    how: {
      degrees: (degrees: string, percent: string) => `tan ${degrees}° × 100 = ${percent} %.`,
      percent: (percent: string, degrees: string) => `arctan (${percent} ÷ 100) = ${degrees}°.`,
      run: (run: string, degrees: string) => `arctan (1 ÷ ${run}) = ${degrees}°.`,
      rise: (rise: string, run: string, percent: string, degrees: string) =>
        `${rise} ÷ ${run} = ${percent} %, and the arctangent of that is ${degrees}°.`,
    },
    faults: {
      noNumber: (text: string) => `“${text}” is no figure for a slope.`,
      writeDegrees: "Write degrees, such as 12.5.",
      writePercent: "Write percent, such as 22.",
      writeRun: "Write the run for a rise of 1, such as 8 for 1 in 8.",
      tooSteep: (degrees: string) => `A slope of ${degrees}° does not exist.`,
      below90: "Write less than 90°.",
      noRun: (run: string) => `A run of ${run} has no slope.`,
      noDistance: "Without a distance on the map there is no slope.",
      writeDistance: "Write one, such as 180 m.",
    },
  },

  norths: {
    title: "Bearings and norths",
    at: "At",
    place: "Place",
    on: "on",
    day: "Day",
    bearingOf: "a bearing of",
    bearing: "Bearing",
    from: "from",
    fromNorth: "North of the bearing",
    northIs: "north is",
    north: { magnetic: "magnetic", grid: "grid", true: "true" } satisfies Record<North, string>,
    back: "Back",
    alsoMils: "in mils",
    alsoQuadrant: "by quadrant",
    zone: (zone: number) => `UTM zone ${zone}`,
    pointPlace: (label: string) => `point ${label}`,
    mapPlace: "the middle of the map",
    noPlace: "Write a place: norths differ from one to the next.",
    how: {
      step: (from: string, fromNorth: string, sign: string, turn: string, to: string, toNorth: string) =>
        `${from} ${fromNorth} ${sign} ${turn} = ${to} ${toNorth}.`,
      rule: (mapNorth: "grid" | "true", reason: string, to: string, from: string) => {
        const off = mapNorth === "grid" ? "Off the grid" : "Off true north";
        return `${off}: ${to}; ${from}, because ${reason}.`;
      },
      model: (declination: string, model: string, date: string, error: string) =>
        `Declination ${declination} by ${model} on ${date}, ±${error}.`,
      printed: (declination: string, date: string) =>
        `Declination ${declination} as printed on the map, brought to ${date}.`,
      convergence: (convergence: string, zone: string) => `Convergence ${convergence} in ${zone}.`,
    },
    faults: {
      noDeclination: "Without a declination a magnetic bearing cannot be turned.",
      writePrinted: "Write down the one printed on the map.",
    },
  },

  diagram: {
    names: { true: "true north", grid: "grid north", magnetic: "magnetic north" } satisfies Record<
      North,
      string
    >,
    offTrue: (angle: string) => `${angle} of true`,
    onTrue: "on true north",
    between: (angle: string) => `grid to magnetic ${angle}`,
    drawn: "Drawn to true angles.",
    noMagnetic: "Magnetic north is not known here.",
    text: (grid: string, magnetic: string | null, between: string | null) =>
      [
        "Norths drawn to true angles:",
        `grid north ${grid} of true north`,
        magnetic && `, magnetic north ${magnetic} of true north`,
        between && `, ${between} from grid to magnetic`,
        ".",
      ]
        .filter(Boolean)
        .join(" ")
        .replaceAll(" ,", ",")
        .replaceAll(" .", "."),
  },
};
