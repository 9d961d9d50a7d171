/** The index contours a leg crosses: seen on the map only, where they are counted. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import { crossingsOf } from "../../map/crossings.ts";
import type { MapFeatures } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import { type Bbox, bboxOf, growBbox } from "../../units/position.ts";
import type { Crossing } from "../line-aids.ts";

const CONTOURS: ReadonlySet<Kind> = new Set<Kind>(["contour"]);
/** One contour met twice this close is met once: the leg grazes it. */
const ONE_M = 4;

export function indexContours(
  frame: LegFrame,
  map: MapFeatures,
  pacesUpTo: (distanceM: number) => number,
): Crossing[] {
  if (!(frame.lengthM > 0)) return [];
  const box = growBbox(bboxOf([frame.from, frame.to]) as Bbox, 1);
  const lines = map.lines(box, CONTOURS).filter((l) => l.index && !Number.isNaN(l.elevationM));
  const found: Crossing[] = [];
  for (const { line, atM, crossingDeg } of crossingsOf(frame, lines)) {
    const last = found.at(-1);
    if (last && last.elevationM === line.elevationM && atM - last.atM <= ONE_M) continue;
    found.push({
      kind: "contour",
      name: null,
      atM,
      elevationM: line.elevationM,
      paces: pacesUpTo(atM),
      crossingDeg,
      detail: null,
      enters: null,
    });
  }
  return found;
}
