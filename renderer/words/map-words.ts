/** Words of the map case, and of making a map. */
import { formatNumber } from "../../core/units/format.ts";
import type { MapEntry } from "../../electron/contract.ts";

const list = (parts: readonly (string | null | false)[]): string => parts.filter(Boolean).join(" · ");

export const mapWords = {
  title: "Map case",
  empty: "There is no map on this computer yet.",
  add: "Add a map…",
  make: "Make a map…",
  backToMaking: "To the map being made",
  open: "Open",
  isOpen: "open now",
  openTitle: (title: string) => `Open ${title}`,
  rename: "Rename…",
  renameTitle: (title: string) => `Rename ${title}`,
  newName: "Name of the map in the case",
  renameHint: "The file stays as it is. An empty name calls the map as its file does.",
  keepName: "Keep this name",
  reveal: "Show the file",
  revealTitle: (title: string) => `Show the file of ${title}`,
  lies: (place: string) => `The file is ${place}.`,
  remove: "Remove…",
  removeTitle: (title: string) => `Remove ${title} from the case`,
  removeAsk: (title: string) => `Remove “${title}” from the map case?`,
  removeText: (file: string) => `The file ${file} stays where it is. Add it again and the map is back.`,
  removeYes: "Remove it from the case",
  removed: (title: string) => `${title} is no longer in the case; its file is where it was.`,
  findAgain: "Find it again…",
  findAgainTitle: (title: string) => `Find the file of ${title} again`,
  missing:
    "The file is not where it was: it was moved or renamed, or its disk is not connected. Connect the disk, or find the file again.",
  layers: "What its layers are…",
  preview: (title: string) => `Small picture of ${title}`,
  noPreview: "no picture",
  calledInFile: (own: string) => `its file says “${own}”`,
  invented: "Invented: not a real place",
  sheet: "A scanned sheet: a picture, with the ground of another map under it",
  between: (southWest: string, northEast: string, size: string) => `${southWest} to ${northEast}, ${size}`,
  interval: (value: number, unit: string) => `contours every ${value}\u00a0${unit}`,
  noInterval: "contour interval not said",
  terrain: "terrain beside it",
  noTerrain: "heights from contours only",
  fileLine: (entry: MapEntry, size: string) => list([entry.fileName, size]),
  source: (source: string) => `From ${source}`,
  noSource: "It does not say what it was made from",
  data: (date: string, age: string) => `data of ${date}, ${age}`,
  written: (day: string, age: string) => `file written on ${day}, ${age}; date of the data not said`,
  age: (years: number, months: number) =>
    years >= 2
      ? `${years} years old`
      : months >= 2
        ? `${months} months old`
        : months === 1
          ? "a month old"
          : "less than a month old",
  model: {
    ok: (name: string, until: string) =>
      `Magnetic model ${name} covers today here, until the end of ${until}`,
    caution: (name: string) =>
      `Near a magnetic pole: a compass may be unreliable here (caution zone of ${name})`,
    blackout: (name: string) => `At a magnetic pole: a compass is useless here (blackout zone of ${name})`,
    none: "No magnetic model covers today: enter the declination from a printed map",
  },
  converting: (name: string) => `Converting ${name}. A large archive takes some minutes.`,
  added: (title: string) => `${title} is in the map case.`,
  takingIn: (name: string, share: string) => `Taking in ${name}: ${share}`,
  stop: "Stop",
  drop: "Files can also be dropped on this window.",
  dropCopied: (folder: string) => `Files can also be dropped on this window: they are copied into ${folder}.`,
  notTaken: (name: string) =>
    `${name} is no map archive and no file that a map is made of. Walks are opened from the Walk menu.`,
  terrainAlone:
    "This is the terrain beside a map, not the map: drop the archive of the same name without “.terrain” with it.",

  pick: {
    map: "Add a map",
    elevation: "Add elevation files",
    features: "Add feature files",
    inFolder: (folder: string) => `In ${folder}`,
    none: (folder: string) => `There is no such file in ${folder}.`,
    take: "Take what is ticked",
    upload: (folder: string) => `Or choose files from anywhere: they are copied into ${folder}`,
  },

  firstMap: "This is the demo map, an invented place to try things on.",
  firstWays: "Three ways to a map of your own…",

  ways: {
    title: "Three ways to a map of your own",
    first:
      "The map above is a demo: an invented place to try things on. For a walk you need a map of where you will be.",
    lead: "Legwright fetches nothing itself: get the data with a browser, then bring it here.",
    list: [
      [
        "Make one from data.",
        "An elevation model gives contours and terrain; a file of features gives paths, streams and woods. National mapping agencies and space agencies publish open elevation models; extracts of OpenStreetMap and the open data of mapping agencies, parks and provinces have the features.",
      ],
      [
        "Add one that someone made.",
        "Archives of map tiles (.pmtiles, .mbtiles) come from mapping clubs, rescue teams and colleagues. What their layers are is guessed, and can be put right.",
      ],
      [
        "Take a scanned sheet as background.",
        "A sheet that was given its place on earth and cut into tiles is an archive too. It shows what the surveyor drew; contours and terrain still come from another map.",
      ],
    ] as readonly (readonly [string, string])[],
    check: "Check the licence of the data, its date, and the ground itself: a map can be old or wrong.",
  },

  making: {
    title: "Make a map",
    elevation: "Elevation",
    elevationHint:
      "One or more elevation models: GeoTIFF, .hgt (also zipped) or ASCII grid. They are joined where they meet.",
    addElevation: "Add elevation files…",
    features: "Features",
    featuresHint:
      "Paths, streams, woods and so on, if you have them: OpenStreetMap extract (.osm.pbf, .osm), GeoJSON, shapefile, GPX, KML. Missing streams, ridges and heights are worked out from the ground.",
    addFeatures: "Add feature files…",
    take: (name: string) => `Leave ${name} out`,
    leaveOut: "Leave out",
    looking: "Looking at it …",
    model: (columns: number, rows: number, cell: string) => `${columns} by ${rows} heights, ${cell} apart`,
    count: (count: number) => (count === 1 ? "1 feature" : `${formatNumber(count)} features`),
    tooLarge: "too large to be read twice: read when the map is made",
    unknown: (count: number) =>
      count === 1 ? "1 that no rule knows" : `${formatNumber(count)} that no rule knows`,
    nothingOnMap: "nothing in it that a map shows",
    crs: (name: string) => `coordinates: ${name}`,
    noCrs: "It does not say in which coordinate system it is.",
    heights: (from: string, to: string) => `Heights together from ${from} to ${to}.`,
    voids: (share: string) => `${share} of the heights are missing.`,
    heightsLater: "The heights are too many to be looked over first; they are read when the map is made.",
    apart: "The features lie off the elevation: none of them will be on the map.",
    crsOfElevation: "Coordinate system of the elevation files",
    crsOfFeatures: "Coordinate system of feature files that do not say theirs",
    crsHint: "As EPSG code, for example EPSG:2193. It stands in the papers of the data.",
    heightsIn: "Heights",
    heightUnit: "They are in",
    cells: "In gaps up to so many cells wide",
    badCells: "Cells to fill are a whole number from 1 to 1000.",
    asFileSays: "what the file says",
    metres: "metres",
    feet: "feet",
    area: "Area",
    whole: "All of the elevation",
    part: "Only between two corners",
    southWest: "South-west corner",
    northEast: "North-east corner",
    cornerHint: "In any notation: 47.1 N 8.2 E, or a grid reference.",
    badCorners: "The second corner has to lie north and east of the first.",
    interval: "Contours",
    automatic: "Every so far as suits the ground",
    automaticIs: (text: string) => `Suits the ground: every ${text}`,
    set: "Every",
    unit: "Unit of the contour interval",
    badInterval: "A contour interval is a number above zero.",
    name: "Title",
    attribution: "Who is to be named",
    attributionHint:
      "What the licence of the data asks to be said. Left empty, OpenStreetMap data is credited as it asks.",
    derive: "Work out from the ground, where the files have none",
    derived: {
      streams: "streams",
      ridges: "ridges and valleys",
      spotHeights: "spot heights",
      cliffs: "cliffs",
    },
    deriveHint: "What is worked out is marked so: it may be dry, overgrown or not there.",
    fill: "Fill missing heights",
    fillHint:
      "Filled heights are made up from those around them. The map says how many; do not trust the ground there.",
    start: "Make the map",
    needElevation: "Add an elevation file first.",
    needGood: "Leave out, or put right, what cannot be read.",
    needTitle: "Give the map a title.",
    wait: "The files are still being looked at.",
    folder: (folder: string) =>
      `The map is written into ${folder}. Files can also be dropped on this window: they are copied there.`,
    folderPlain: "The map is written into your folder of walks. Files can also be dropped on this window.",
    running: (title: string) => `Making ${title}`,
    stage: (stage: string, share: string) => `${stage} … ${share}`,
    left: (seconds: number) =>
      seconds < 90
        ? `about ${Math.max(1, Math.round(seconds))} s left`
        : `about ${Math.round(seconds / 60)} min left`,
    leftUnknown: "how long it takes shows soon",
    stop: "Stop, and leave nothing behind",
    stopping: "Stopping …",
    stopped: "Making the map was stopped. Nothing of it is left.",
    meanwhile: "Go on working meanwhile",
    made: (title: string) => `${title} is made, and in the map case.`,
    failed: "The map could not be made.",
  },
};
