/** The stretches of a leg on which the map is not blind. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import type { MapFeatures } from "../map/features.ts";
import { type Bbox, bboxOf } from "../units/position.ts";

export interface Stretch {
  readonly fromM: number;
  readonly toM: number;
}

/** In order from the start; the whole leg when the map sees all of it, none when it sees nothing. */
export function seeingStretches(map: MapFeatures, frame: LegFrame): Stretch[] {
  const box = bboxOf([frame.from, frame.to]) as Bbox;
  let seeing: Stretch[] = [{ fromM: 0, toM: frame.lengthM }];
  for (const { bbox } of map.blind(box)) {
    const hidden = within(frame, bbox);
    if (hidden) seeing = seeing.flatMap((s) => without(s, hidden));
  }
  return seeing;
}

/** The stretch of a leg within a box: on the small boxes of blind tiles, the leg is a straight line in degrees too. */
function within(frame: LegFrame, [west, south, east, north]: Bbox): Stretch | null {
  const [lonA, latA] = frame.from;
  const [lonB, latB] = frame.to;
  let enter = 0;
  let leave = 1;
  for (const [p, q] of [
    [lonA - lonB, lonA - west],
    [lonB - lonA, east - lonA],
    [latA - latB, latA - south],
    [latB - latA, north - latA],
  ] as const) {
    if (p === 0 && q < 0) return null;
    if (p < 0) enter = Math.max(enter, q / p);
    if (p > 0) leave = Math.min(leave, q / p);
  }
  return enter <= leave ? { fromM: enter * frame.lengthM, toM: leave * frame.lengthM } : null;
}

function without(s: Stretch, hidden: Stretch): Stretch[] {
  if (hidden.toM < s.fromM || hidden.fromM > s.toM) return [s];
  const rest: Stretch[] = [];
  if (hidden.fromM > s.fromM) rest.push({ fromM: s.fromM, toM: hidden.fromM });
  if (hidden.toM < s.toM) rest.push({ fromM: hidden.toM, toM: s.toM });
  return rest;
}
