/** Words of aids and advice: sentences of the slip, of the map's labels, of the table and of the settings about odds. */
import type { HowAdviceFigure } from "../../core/legs/how/how-advice.ts";

const people = (count: number, one: string, many: string): string => (count === 1 ? one : many);

export const adviceWords = {
  working: "working …",
  workingLong: "The odds are being worked out …",
  failed: (what: string) => `The odds could not be worked out: ${what}`,
  again: "Try again",
  low: "Low odds",
  lowTitle: (find: number, level: number) =>
    `${find} of 100 find the target; you want ${level} or more. The slip says what would help.`,

  howTitle: {
    attackPoints: "Where to go by",
    aimOff: "Aiming off",
    steering: "Steering marks and what to tick off",
    hazards: "What to mind",
    odds: "The odds",
    route: "The other way",
    escape: "The way out",
  } satisfies Record<HowAdviceFigure, string>,

  aimsOff: (deg: string, side: "left" | "right") => `${deg} ${side} of the target, aiming off`,
  straight: "Go straight",
  aimOffGone:
    "You chose to aim off here, but it no longer helps on this leg: the bearing is straight at the target.",

  instruction: {
    title: "In one line",
    label: "What to do on this leg, in one line",
    own: "yours",
    stale: "written before the leg was changed",
    back: "Take the program’s line",
    empty: "Empty it to have the program’s line again.",
  },

  more: (count: number) => `${count} more to follow`,
  less: "Fewer",
  second: "Behind it",
  secondLine: (thing: string, beyond: string, of100: string) =>
    ` ${thing}, ${beyond} beyond, stops ${of100} of 100.`,
  noStop: "Nothing stops you beyond the target.",

  goBy: "Go by",
  goByLine: (words: string, bearing: string, distance: string, paces: string) =>
    ` ${words}; from there ${bearing}, ${distance}, ${paces}.`,
  or: "Or by",
  aimOff: "Aim off",
  aimOffLine: (deg: string, side: string, bearing: string) => ` ${deg} to the ${side}, on ${bearing}.`,
  use: "Use this",
  stopUsing: "Stop aiming off",

  mind: "Mind",
  nothingToMind: "No danger on the map near this leg: there can be others.",
  moreDangers: (count: number) => `${count} more to mind`,

  marks: "Steer",
  marksLine: (count: number) =>
    count === 0
      ? " straight at the target: it is near enough to sight."
      : ` by ${count} ${people(count, "mark", "marks")}, then at the target.`,
  inSight: (from: string) => `The target is in sight from ${from}.`,
  inSightAll: "The target is in sight all the way.",
  ticks: "Tick off",
  tick: (thing: string, paces: string) => `${thing} ${paces}`,

  odds: {
    title: (to: string) => `Odds of finding ${to}`,
    find: "find it",
    stopped: "are stopped",
    missed: "pass by",
    legendFind: (count: number) => `${count} find it`,
    legendStopped: (count: number) => `${count} ${people(count, "is", "are")} stopped`,
    legendMissed: (count: number) => `${count} pass${count === 1 ? "es" : ""} by`,
    of100: "of 100",
    bar: (text: string) => `${text} of 100 walkers`,
    worth: "What each aid is worth",
    walkersKeep: "Walkers",
    steering: "How walkers keep the bearing",
    steerings: { marks: "sight along steering marks", unaided: "keep the compass in hand" },
    worthOf: {
      withMarks: "with steering marks",
      withoutMarks: "without steering marks",
      withHandrail: "following the handrail",
      withoutHandrail: "without the handrail",
      withAimOff: "aiming off",
      withoutAimOff: "straight at the target",
      withAttackPoint: "by way of",
      withoutAttackPoint: "without the attack point",
    },
    byPlace: "cut in two on the way",
    cloud: "Where they end is on the map: dots find it, bars are stopped, crosses pass by.",
    settings: "What this goes by",
    none: "There are no odds for this leg.",
  },

  better: {
    title: "Better",
    find: (count: number) => `${count} of 100 find it then`,
    none: "Nothing the program knows of would help more.",
    enough: "Already as good as the program can make it.",
    done: "Using steering marks is a setting: it holds for every leg.",
  },

  route: {
    title: "Another way",
    summary: (distance: string, find: number | null) =>
      find === null ? distance : `${distance}, ${find} of 100`,
    line: (distance: string, climb: string | null, time: string | null) =>
      [distance, climb === null ? null : climb, time].filter(Boolean).join(", "),
    parts: { straight: "straight", follow: "along" },
    straight: (bearing: string, distance: string) => `${bearing} for ${distance}`,
    follow: (thing: string, distance: string) => `along ${thing} for ${distance}`,
    to: (thing: string) => ` to ${thing}`,
    use: "Put its points into the walk",
    warn: "The walk gets a point where the way joins and leaves each line. Between them the legs of the walk run straight, the line does not: follow the line, not the bearing.",
  },

  escape: {
    title: "Way out",
    walkTitle: "Way out of the whole walk",
    line: (bearing: string, thing: string, worst: string) => `${bearing} to ${thing}, ${worst} at most`,
    clear: "Nothing the map knows of lies between.",
    none: "No one bearing leads out from everywhere on this leg.",
    noneWalk: "No one bearing leads out from everywhere on the walk.",
    drifted: (worst: string) => `Straying as far as the drift, ${worst} at most.`,
  },

  steps: {
    aimOff: (to: string) => `Aim off at ${to}`,
    straight: (to: string) => `Go straight at ${to}`,
    goBy: (what: string) => `Go by ${what}`,
    split: (n: number) => `Cut leg ${n} in two`,
    route: (n: number) => `Another way for leg ${n}`,
    instruction: (n: number) => `Line for leg ${n}`,
    instructionBack: (n: number) => `The program’s line for leg ${n}`,
  },

  view: {
    heading: "On the map",
    cloud: "Where walkers end",
    wayOut: "Ways out",
  },

  map: {
    attack: (words: string) => `Go by ${words}`,
    aim: "Aim off to here",
  },

  ribbon: {
    hazard: { on: "on the way", left: "left", right: "right" } as const,
  },

  table: {
    odds: "Odds",
    oddsTitle: "find it · are stopped · pass by, of 100",
    instruction: "Do",
    low: "low",
    stale: "may be out of date",
    wayOut: "Way out of the whole walk",
  },

  waiting: {
    title: "Odds and ways out",
    text: (done: number, all: number) => `Leg ${Math.min(done + 1, all)} of ${all} is being worked out.`,
    without: "Go on without them",
    cancel: "Cancel",
  },

  settings: {
    sheet: "Odds and drift",
    usual: (value: string) => `usually ${value}`,
    practice: "common practice, no source",
    noSource: "no source",
    restore: "Take the usual values",
    drift: "One may drift by",
    driftEnd: "to either side of a bearing.",
    follow: "A line is followed within",
    followEnd: "of the leg, turned from it by",
    followLeast: "at most, for",
    followLeastEnd: "at least.",
    stop: "What stops one is looked for up to",
    stopEnd: "beyond the target.",
    steep: "Steep ground is named from",
    steepEnd: "on.",
    marks: "A steering mark is chosen",
    marksEnd: "ahead in woods and",
    openEnd: "ahead in the open.",
    asWoods: "as far",
    steering: "Walkers",
    withMarks: "With marks the bearing is off by",
    withMarksEnd: "for the whole leg and by",
    withMarksLast: "for each mark.",
    unaided: "Without, by",
    unaidedEnd: "for the whole leg and by",
    unaidedHop: "for each",
    unaidedLast: "between two looks at the compass.",
    pace: "A counted distance is off by",
    paceEnd: "of it.",
    paceTrials: (share: string, count: number) => `Your ${count} trials say ${share}.`,
    useTrials: "Use that",
    sight: "The target is seen from",
    sightEnd: "away.",
    walkers: "Odds are those of",
    walkersEnd: "walkers. A leg is marked when fewer than",
    flagEnd: "of 100 find it.",
    escape: "On the way out one walks at most",
    escapeEnd: ".",
    spread:
      "All errors are standard deviations: two in three walkers are within them. Values with a star are common practice, no source; the others are this program’s own choice, no source either.",
    labels: {
      driftDeg: "Drift, degrees to either side",
      handrailOffsetM: "Distance to a line to follow",
      handrailToleranceDeg: "Difference in direction, degrees",
      handrailMinM: "Shortest stretch to follow",
      backstopReachM: "How far beyond the target to look",
      steepDeg: "Angles of steep ground, degrees",
      hopM: "Distance to a steering mark in woods",
      openHopM: "Distance to a steering mark in the open",
      settingDeg: "Error of the bearing with marks, degrees",
      hopDeg: "Error of a sighting, degrees",
      unaidedSettingDeg: "Error of the bearing without marks, degrees",
      unaidedHopDeg: "Error of a stretch without marks, degrees",
      unaidedHopM: "Stretch between two looks at the compass",
      paceError: "Error of the pace count, percent",
      sightM: "Distance from which the target is seen",
      walkers: "Number of walkers",
      flagBelow: "Odds a leg should have, of 100",
      escapeReachM: "Longest way out",
    },
    preview: { odds: "Odds", mind: "Dangers", marks: "Steering marks", escape: "Way out" },
  },
};
