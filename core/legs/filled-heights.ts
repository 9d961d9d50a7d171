/** Where along a leg the map's heights are made up. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import type { MapFeatures } from "../map/features.ts";
import type { Kind } from "../map/kinds.ts";
import type { LengthUnit } from "../units/format.ts";
import { type Bbox, bboxOf, growBbox } from "../units/position.ts";
import { stretchesWithin, stretchesWords } from "./stretches.ts";

const FILLED: ReadonlySet<Kind> = new Set<Kind>(["filled"]);

/** What to know of the heights of a leg over ground that was filled in when the map was made; nothing elsewhere. */
export function filledNotes(frame: LegFrame, map: MapFeatures, unit: LengthUnit): string[] {
  if (map.info.filled === undefined || frame.bearing === null) return [];
  const box = growBbox(bboxOf([frame.from, frame.to]) as Bbox, 1);
  const parts = stretchesWithin(frame, map.areas(box, FILLED));
  if (parts.length === 0) return [];
  const all = parts.some(({ fromM, toM }) => fromM <= 0 && toM >= frame.lengthM);
  const where = all ? "on the whole leg" : stretchesWords(parts, frame.lengthM, unit);
  return [
    `Heights were missing ${where} and were filled in from those around: climb, slope and time there are a guess.`,
  ];
}
