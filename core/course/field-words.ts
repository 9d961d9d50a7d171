/** What sheets and lists of small ground say to learner and setter, as sentences. */
import { formatBearing, formatNumber, formatQuantity } from "../units/format.ts";
import type { ClosingError } from "./closing-error.ts";
import type { FieldCourse, FieldPaces } from "./small-ground.ts";

/** Stakes are set with a tape: to the decimetre, and to half a degree where no tape leads. */
export const tapeText = (metres: number): string => formatQuantity(metres, "m", 1);
export const sightText = (degrees: number): string =>
  formatBearing(degrees, { threeFigures: true, graduationDeg: 0.5 });

const WAY_BACK: Readonly<Record<FieldCourse["wish"]["shape"], string>> = {
  even: " The last leg brings you back to it.",
  closed: " The last leg brings you back to it.",
  open: "",
  return: " From the last stake walk back over each of them, on bearings back.",
};

/** What a learner is to do. */
export const fieldTask = ({ wish: { shape, paces } }: FieldCourse): string =>
  `Start at stake 1. Walk each leg by compass and paces; write the mark of the stake you find.${WAY_BACK[shape]} Bearings are magnetic: dial them as they stand.${paces ? ` ${pacesWords(paces)}` : ""}`;

const pacesWords = ({ per100m, steps }: FieldPaces): string =>
  `Paces are ${steps === 2 ? "double paces of two steps" : "single steps"}, ${formatNumber(per100m, Number.isInteger(per100m) ? 0 : 1)} to 100\u00a0m: is that your count?`;

/** What a closed walk does not close by, for the setter. */
export const closingWords = ({ distanceM, bearingDeg }: ClosingError): string =>
  distanceM < 0.05
    ? "Walked exactly as written, the last leg ends at stake 1."
    : `Walked exactly as written, the last leg ends ${tapeText(distanceM)} from stake 1, at ${sightText(bearingDeg)} of it: bearings and lengths are rounded. Take that off a learner’s error.`;
