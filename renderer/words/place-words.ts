/** Words of what is asked about one place: what its ground is, and which landmarks can be seen from it. */
import type { LandformKind } from "../../core/terrain/landforms/landform.ts";

const capital = (text: string): string => `${text[0]?.toUpperCase() ?? ""}${text.slice(1)}`;

const WINDS = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];

export const placeWords = {
  command: "What is this ground?",
  landmarksCommand: "Landmarks in view from here",
  noMap: "Open a map first",
  label: "This ground",
  at: (label: string) => `At ${label}`,
  working: "Looking at the ground …",
  heading: (kind: LandformKind | null, name: string | null) =>
    kind === null ? "Plain ground" : name === null ? capital(kind) : `${name}, ${kind}`,
  /** In the find slip. */
  ground: "Ground",
  height: "height",
  slope: "slope here",
  noHeight: "not known here",
  facing: (deg: string, aspectDeg: number | null) =>
    aspectDeg === null ? deg : `${deg}, facing ${WINDS[Math.round(aspectDeg / 45) % 8] ?? ""}`,
  close: "Close",
  mark: "The place asked about",

  inView: (crown: string) => `A summit counts as in view when all but its last ${crown} can be seen.`,
  landmarks: "Landmarks in view",
  showLandmarks: "Landmarks in view",
  hideLandmarks: "Without landmarks",
  lookingAround: "Looking around …",
  reach: (metric: boolean) => (metric ? "10\u00a0km" : "6\u00a0miles"),
  none: (reach: string) => `The map names no summit or spot within ${reach} of here.`,
  noneInView: (reach: string) => `None of those the map names within ${reach} is in view.`,
  ahead: (leg: number, off: string, side: "left" | "right" | null) =>
    side === null
      ? `Straight ahead on leg ${leg}: a mark to steer by.`
      : `Nearly ahead on leg ${leg}, ${off} to the ${side}: a mark to steer by.`,
  notKnown: "Not known",
  hidden: "Hidden",
  hiddenBy: (distance: string) => `by ground at ${distance}`,
  more: (count: number) => `${count} more, farther off, are not listed.`,
  fan: (count: number) => `Lines to ${count} landmarks in view`,
};
