/** What is chosen for a map to be made, from the fields as typed to the order for the host. */
import { signal } from "@preact/signals";
import { parseNumber } from "../../core/units/parse-number.ts";
import { Fault } from "../../core/fault.ts";
import { bboxesMeet, type Bbox } from "../../core/units/position.ts";
import type { MapOrder } from "../../electron/contract.ts";
import { settings } from "../app/settings.ts";
import { readTyped } from "../find/read-typed.ts";
import { mapWords } from "../words/map-words.ts";
import { crsOf, dataFiles, filesOf, heightUnit, isLook } from "./data-files.ts";

export interface Fields {
  readonly title: string;
  readonly attribution: string;
  readonly whole: boolean;
  readonly southWest: string;
  readonly northEast: string;
  readonly automatic: boolean;
  readonly interval: string;
  readonly unit: "m" | "ft";
  readonly derive: MapOrder["derive"];
  readonly fill: boolean;
  readonly fillCells: string;
}

const USUAL: Fields = {
  title: "",
  attribution: "",
  whole: true,
  southWest: "",
  northEast: "",
  automatic: true,
  interval: "10",
  unit: "m",
  derive: { streams: true, ridges: true, spotHeights: true, cliffs: true },
  fill: false,
  fillCells: "10",
};

export const fields = signal<Fields>(USUAL);
export const setField = (change: Partial<Fields>): void => {
  fields.value = { ...fields.peek(), ...change };
};
export const clearFields = (): void => {
  fields.value = USUAL;
};

const { making: say } = mapWords;

/** Box around all elevation that was looked at; null when none was. */
export function elevationBounds(): Bbox | null {
  const boxes = filesOf("elevation").flatMap(({ look }) =>
    isLook(look) && look.bounds ? [look.bounds] : [],
  );
  if (boxes.length === 0) return null;
  const all = (i: number): number[] => boxes.map((box) => box[i]!);
  return [Math.min(...all(0)), Math.min(...all(1)), Math.max(...all(2)), Math.max(...all(3))];
}

/** Feature files that were read and lie wholly off the elevation. */
export function featuresApart(): boolean {
  const ground = elevationBounds();
  const boxes = filesOf("features").flatMap(({ look }) => (isLook(look) && look.bounds ? [look.bounds] : []));
  return ground !== null && boxes.length > 0 && !boxes.some((box) => bboxesMeet(box, ground));
}

function boundsOf({ whole, southWest, northEast }: Fields): Bbox | null {
  if (whole) return null;
  const { notation, grids, gridName } = settings.value;
  const ground = elevationBounds();
  const near = ground && ([(ground[0] + ground[2]) / 2, (ground[1] + ground[3]) / 2] as const);
  const [first, second] = [southWest, northEast].map(
    (text) => readTyped(text, { notation, grids, gridName, near }).lonLat,
  );
  const box = [first![0], first![1], second![0], second![1]] as const;
  if (box[0] >= box[2] || box[1] >= box[3]) throw new Fault("bad-argument", say.badCorners);
  return box;
}

/** NaN for what cannot be read as one number. */
function numberIn(text: string): number {
  try {
    return parseNumber(text) ?? Number.NaN;
  } catch {
    return Number.NaN;
  }
}

/** The order, or the sentence that says what is missing. */
export function orderOf(now: Fields): MapOrder | string {
  const files = dataFiles.value;
  if (filesOf("elevation").length === 0) return say.needElevation;
  if (files.some(({ look }) => look === null)) return say.wait;
  if (files.some(({ look }) => look instanceof Fault)) return say.needGood;
  if (now.title.trim() === "") return say.needTitle;
  const value = numberIn(now.interval);
  if (!now.automatic && !(value > 0)) return say.badInterval;
  const cells = Number(now.fillCells);
  if (now.fill && !(Number.isInteger(cells) && cells >= 1 && cells <= 1000)) return say.badCells;
  try {
    return {
      elevation: filesOf("elevation").map(({ handle }) => handle.id),
      features: filesOf("features").map(({ handle }) => handle.id),
      title: now.title.trim(),
      attribution: now.attribution.trim() || null,
      bounds: boundsOf(now),
      interval: now.automatic ? null : { value, unit: now.unit },
      crs: crsOf("elevation"),
      featuresCrs: crsOf("features"),
      heightUnit: heightUnit.value,
      derive: now.derive,
      fillVoids: now.fill ? cells : null,
    };
  } catch (thrown) {
    return Fault.from(thrown).what;
  }
}
