/** Every string the window shows or says, in one place. Figures come formatted; sentences are put together here. */
import type { North } from "../../core/walk/walk.ts";

const list = (parts: readonly (string | null | false)[]): string => parts.filter(Boolean).join(" · ");

export const words = {
  app: "Legwright",

  north: { magnetic: "magnetic", grid: "grid", true: "true" } satisfies Record<North, string>,
  northName: { magnetic: "Magnetic north", grid: "Grid north", true: "True north" } satisfies Record<
    North,
    string
  >,
  northShort: { magnetic: "mag", grid: "grid", true: "true" } satisfies Record<North, string>,
  northGroup: "Bearings from which north",
  pace: (steps: 1 | 2) => (steps === 2 ? "double paces" : "paces"),

  bar: {
    label: "Walk",
    walkMenu: "Walk",
    viewMenu: "View",
    toolsMenu: "Tools",
    toolsGround: "On the ground",
    toolsSums: "At the desk",
    toolsMaps: "Maps",
    title: "Title of the walk",
    untitled: "New walk",
    unsaved: "not saved",
    saved: "saved",
    newWalk: "New walk",
    open: "Open…",
    openDemo: "Open the practice walk",
    save: "Save",
    saveAs: "Save as…",
    print: "Print…",
    csv: "CSV…",
    exportCsv: "Save the leg table as CSV…",
    reverse: "Turn the walk round",
    undo: "Undo",
    redo: "Redo",
    undoStep: (name: string) => `Undo: ${name}`,
    redoStep: (name: string) => `Redo: ${name}`,
    nothingToUndo: "Nothing to undo yet",
    nothingToRedo: "Nothing to do again",
    date: "Day of the walk",
    map: "Map",
    noMap: "No map",
    needsLeg: "Draw a leg first",
    nothingToSave: "Everything is saved",
  },

  steps: {
    add: (label: string) => `Add ${label}`,
    insert: (label: string) => `Insert ${label}`,
    move: (label: string) => `Move ${label}`,
    remove: (label: string) => `Remove ${label}`,
    rename: (label: string) => `Rename ${label}`,
    title: "Change the title",
    date: "Change the day",
    north: "Change the north",
    reverse: "Turn the walk round",
    reorder: (label: string) => `Put ${label} elsewhere`,
    note: (label: string) => `Note on ${label}`,
  },

  view: {
    theme: "Colours",
    themes: { system: "As the system", light: "Light", dark: "Dark", night: "Night, red light" },
    north: "Bearings from",
    units: "Lengths",
    unitNames: { metric: "Metres", imperial: "Feet and miles" },
    cautions: "Before you rely on it…",
    grid: "Grid lines",
    textSize: "Text",
    percent: (share: number) => `${Math.round(100 * share)}\u00a0%`,
    fullScreen: "Fill the screen",
    program: "The program",
    magnetic: "Lines to magnetic north",
    catching: "Points catch on what is near (not with Shift)",
  },

  map: {
    label: "Map. Arrow keys move it, plus and minus zoom, Enter puts a point under the cross.",
    legend: "Map",
    foot: "Scale and view of the map",
    nearer: "Nearer",
    farther: "Farther",
    wholeWalk: "Whole walk",
    northUp: "North up",
    turnToLeg: "Turn the map to the leg",
    tilt: "Look at the map aslant",
    fromAbove: "Look at the map from above",
    wholeMap: "Whole map",
    loading: (title: string) => `Opening ${title} …`,
    scale: (length: string, paces: string, paceWord: string) => `${length} · ${paces} ${paceWord}`,
    firstPoint: "Click on the map where the walk starts.",
    nextPoint: (label: string) => `Click where the first leg ends: that will be ${label}.`,
    hintDrag: "Drag a point to move it; drag the middle of a leg to put a point in.",
    noMapTitle: "No map is open",
    noMapText: "Choose one below. Its contours, streams and paths are what the figures are worked out from.",
    point: (label: string, place: string, elevation: string | null) =>
      `Point ${label}, ${list([place, elevation])}`,
    pointKeys:
      "Arrow keys move it by 10 metres, with Shift by 1; Delete removes it; I puts a point into the next leg.",
  },

  readOut: {
    label: "Under the pointer",
    from: (label: string) => `from ${label}`,
    noHeight: "no height here",
  },

  ribbon: {
    label: "Walk ribbon: the ground along the whole walk",
    panel: "The whole walk: profile or leg table",
    empty: "The ground along the walk appears here with its first leg.",
    noHeights: "This map gives no heights here: there is no profile.",
    noMapHeights: "Without a map there are no heights and nothing to cross.",
    leg: (n: number, from: string, to: string, summary: string) => `Leg ${n}, ${from} to ${to}: ${summary}`,
    climb: (climb: string, descent: string) => `+${climb} −${descent}`,
    at: (distance: string, from: string, elevation: string | null, landform: string | null) =>
      list([`${distance} from ${from}${elevation ? `, height ${elevation}` : ""}`, landform]),
  },

  slip: {
    label: "Leg slip",
    heading: (n: number, from: string, to: string) => `Leg ${n}, ${from} to ${to}`,
    of: (count: number) => `of ${count}`,
    previous: "Leg before",
    next: "Leg after",
    emptyTitle: "No leg yet",
    empty:
      "A leg runs straight from one point to the next and is walked on one bearing. Click two places on the map to draw the first.",
    openDemo: "Open the practice walk",
    working: "Working it out …",
    toSet: ", to set",
    compass: (bearing: string, north: string) => `Compass set to ${bearing} ${north}`,
    lines: {
      magnetic: (v: string) => `magnetic ${v}`,
      grid: (v: string) => `grid ${v}`,
      true: (v: string) => `true ${v}`,
      back: (v: string) => `back ${v}`,
    },
    noBearing: "Start and end are the same place: there is no bearing.",
    onMap: "on the map",
    onSlope: "on the slope",
    climb: "climb",
    descent: "descent",
    time: "time",
    steepest: (angle: string) => `Steepest over 20 m: ${angle}.`,
    heightError: (error: string) => `Heights from contours, within ±${error}.`,
    follow: "Follow",
    followLine: (thing: string, side: "left" | "right", offset: string, stretch: string) =>
      ` ${thing} on your ${side}, ${offset} off, ${stretch}.`,
    /** Null: from the leg's start, to its end. */
    stretch: (from: string | null, to: string | null) =>
      from === null
        ? to === null
          ? "all the way"
          : `from the start to ${to}`
        : to === null
          ? `from ${from} to the end`
          : `from ${from} to ${to}`,
    noFollow: "Nothing on the map runs beside this leg.",
    stops: "Stops you",
    stopsLine: (thing: string, beyond: string, target: string, how: string, of100: string) =>
      ` ${thing}, ${beyond} beyond ${target}, ${how}; it stops ${of100} of 100.`,
    stopsAtLine: (thing: string, target: string, how: string, of100: string) =>
      ` ${thing}, right at ${target}, ${how}; it stops ${of100} of 100.`,
    straightAcross: "straight across",
    aslant: "aslant",
    glancing: "at a narrow angle",
    way: "On the way",
    noWay: "There is nothing to tell of the ground on this leg.",
    crossings: "Crosses",
    sight: {
      lead: "Sight",
      seen: (to: string, from: string) => `${to} is in view from ${from}.`,
      hidden: (to: string, by: string, along: string) =>
        `${to} is hidden by the ground at ${by}; you can sight a person up to ${along} along the leg.`,
      hiddenOnly: (to: string, by: string) => `${to} is hidden by the ground at ${by}.`,
      landmarks: (from: string) => `Landmarks in view from ${from}`,
    },
    noCrossings: "Nothing on the map crosses this leg.",
    noteAt: (label: string) => `Note at ${label}`,
    noNote: "Write what to look for there",
    declination: (value: string, model: string, uncertainty: string | null) =>
      `Declination ${value}${uncertainty ? ` ±${uncertainty}` : ""}, ${model}`,
    found: "Found by computer from map data: look before you rely on it.",
    invented: "Invented terrain, not a real place.",
    open: "Leg slip",
    close: "Close the slip",
  },

  table: {
    label: "Leg table",
    reorder: (label: string) => `Move ${label} in the order of the walk`,
    reorderHint: "Drag, or move with the arrow keys, to another place in the walk",
    show: "Leg table",
    showRibbon: "Profile",
    columns: {
      leg: "Leg",
      from: "From",
      to: "To",
      bearing: (north: string) => `Bearing, ${north}`,
      back: "Back",
      distance: "On the map",
      slope: "On the slope",
      climb: "Climb",
      descent: "Descent",
      steepest: "Steepest",
      paces: (pace: string) => pace[0]!.toUpperCase() + pace.slice(1),
      time: "Time",
      runningDistance: "So far",
      runningTime: "Time so far",
      follow: "Follow",
      stops: "Stops you",
    },
    total: "Whole walk",
    rename: (label: string) => `Name of point ${label}`,
    pick: (n: number) => `Show leg ${n}`,
    empty: "The table fills with the first leg.",
  },

  dialogs: {
    cancel: "Cancel",
    close: "Close",
    openTitle: "Open a walk",
    openFrom: (folder: string) => `Walks in ${folder}`,
    noWalks: (folder: string) => `There is no walk in ${folder} yet.`,
    upload: "Or choose a file from anywhere",
    saveTitle: "Save the walk",
    csvTitle: "Save the leg table as CSV",
    name: "File name",
    saveIn: (folder: string) => `It is kept in ${folder}.`,
    save: "Save",
    replaceTitle: (name: string) => `Replace ${name}?`,
    replaceText: "A file of that name is there already.",
    replace: "Replace it",
    changedTitle: (name: string) => `${name} was changed by another program`,
    unsavedTitle: (title: string) => `Save “${title}” first?`,
    unsavedText: "What you changed since the last save would be gone.",
    unsavedSave: "Save",
    unsavedDrop: "Don’t save",
    unsavedKeep: "Go back",
    cautionTitle: "Before you rely on it",
    cautionLead:
      "Legwright cuts a walk into legs and works out what to set on the compass for each. It can be wrong.",
    cautionSeen: "Understood",
  },

  notices: {
    label: "Notices",
    dismiss: "Put this notice away",
    saved: (name: string) => `Saved as ${name}.`,
    exported: (name: string) => `${name} is written.`,
    repaired: (name: string, repairs: readonly string[]) =>
      `${name} was put right while reading: ${repairs.join(" ")}`,
    foreign: (name: string) =>
      `${name} is GeoJSON of another program: its points were taken. Save the walk under a name of its own.`,
    newer: (name: string) =>
      `${name} was written by a newer Legwright. You can look at it; save it under another name.`,
    otherMap: "This walk was planned on a map that is not in the map case. It is shown without it.",
    terrain: (what: string) => `Heights come from contours alone: ${what}`,
    noLeg: "There is no leg to print yet: draw one first.",
  },
};
