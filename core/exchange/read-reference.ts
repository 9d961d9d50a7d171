/** One position written out, as people write them: a grid reference, or latitude and longitude. */
import { Fault } from "../fault.ts";
import { parseBritish } from "../geodesy/british-reference.ts";
import { parsePosition } from "../geodesy/parse-position.ts";
import { type Bbox, bboxesMeet, type LonLat } from "../units/position.ts";
import { middleOf, type ReadOptions } from "./exchange.ts";

export interface ReferenceReader {
  /** @throws Fault "bad-argument", "out-of-range" with the reason */
  read(text: string): LonLat;
  /** What was assumed, for the report. */
  readonly told: readonly string[];
}

/** Letters before figures, without a zone: of the British grid, or a square of MGRS. */
const TWO_LETTERS = /^[A-Z]{2}\s*\d/i;
const within = ([lon, lat]: LonLat, box: Bbox): boolean => bboxesMeet([lon, lat, lon, lat], box);

/** Partial references are completed by where positions may be expected; that also tells the British grid from MGRS. */
export function referenceReader({ near, frame }: Pick<ReadOptions, "near" | "frame">): ReferenceReader {
  const middle = middleOf(near);
  const british = frame?.figures === "grid" && frame.title.startsWith("OSGB36");
  const told: string[] = [];
  return {
    told,
    read(text) {
      if (british) return parseBritish(text).lonLat;
      if (near && TWO_LETTERS.test(text.trim())) {
        const there = attempt(() => parseBritish(text).lonLat);
        const here = attempt(() => parsePosition(text, middle).lonLat);
        if (there && within(there, near) && !(here && within(here, near))) {
          const said =
            "References of two letters and figures were read on the British grid: there they lie on the open map.";
          if (!told.includes(said)) told.push(said);
          return there;
        }
      }
      return parsePosition(text, middle).lonLat;
    },
  };
}

/** Null where the text is no position. */
export function attempt<T>(read: () => T): T | null {
  try {
    return read();
  } catch (thrown) {
    if (Fault.from(thrown).code === "internal") throw thrown;
    return null;
  }
}
