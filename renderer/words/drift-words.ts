/** Words of the drift trial in the settings. */
import type { DriftSteering } from "../../core/travel/drift-trials.ts";

export const driftWords = {
  heading: "Your own drift",
  lead: "Walk a known distance on a bearing towards a mark you cannot see, on safe open ground with someone watching. Stop at your count, and measure how far to the left or right of the mark you stand.",
  none: "No trials yet.",
  steerings: {
    marks: "from mark to mark",
    unaided: "compass in hand, without marks",
  } satisfies Record<DriftSteering, string>,
  sides: { left: "left", right: "right" },
  trial: (how: string, distance: string, aside: string, side: string) =>
    `${distance}, ${how}: ${aside} ${side}`,
  onMark: (how: string, distance: string) => `${distance}, ${how}: on the mark`,
  walked: "Walking",
  steering: "How the bearing was kept",
  over: "over",
  distance: "Distance walked",
  i: "I came out",
  aside: "How far aside",
  side: "To which side",
  of: "of the mark.",
  add: "Add",
  remove: (text: string) => `Remove ${text}`,
  found: (how: string, trials: number) =>
    `${how.charAt(0).toUpperCase()}${how.slice(1)}, ${trials} ${trials === 1 ? "trial" : "trials"}:`,
  off: (deg: string) => `off by ${deg} all in all.`,
  spread: (deg: string, from: string, to: string) =>
    `Spread ${deg}; from so few trials it may be ${from} to ${to} (95 %).`,
  leans: (side: string, deg: string, within: string) =>
    `You lean ${deg} to the ${side} (± ${within}): watch that side, or have your compass checked.`,
  straight: (deg: string, side: string, within: string) =>
    `Mean ${deg} ${side} (± ${within}): no leaning that is more than chance.`,
  use: (setting: string, hop: string, cone: string) =>
    `For the odds: ${setting} for the whole leg, ${hop} for each stretch; the cone opens ${cone} to either side.`,
  useIt: "Use that",
  used: "In use",
  useFor: (shown: string, how: string) => `${shown}: the drift ${how}`,
};
