/** Places about half-way that cannot be taken for another: where a long leg may be cut in two. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { LonLat } from "../../units/position.ts";
import { candidatesNear, type Surroundings } from "../aids/attack-points-candidates.ts";

export interface SplitPlace {
  readonly lonLat: LonLat;
  /** With its article: "the junction of a path and Moor Road". */
  readonly words: string;
}

/** A leg shorter than this is not cut in two, metres. No source. */
const LEAST_LEG_M = 400;
/** The middle of a leg, shares of it. */
const [FROM, TO] = [0.25, 0.75];
/** No farther aside than this share of the leg: the way by it is hardly longer. */
const ASIDE = 0.15;
/** Known for sure on standing there, as candidates are judged. */
const DISTINCT = 0.7;
const SHOWN = 2;

/** The surest places near the middle of a leg, at most two. */
export function splitPlaces(frame: LegFrame, around: Surroundings): SplitPlace[] {
  const { lengthM } = frame;
  if (frame.bearing === null || lengthM < LEAST_LEG_M) return [];
  const middle = { s: lengthM / 2, t: 0 };
  return candidatesNear(around, middle, Math.hypot(lengthM / 4, ASIDE * lengthM))
    .filter(
      ({ s, t, distinct }) =>
        s >= FROM * lengthM && s <= TO * lengthM && Math.abs(t) <= ASIDE * lengthM && distinct >= DISTINCT,
    )
    .sort((a, b) => b.distinct - a.distinct || Math.abs(a.t) - Math.abs(b.t))
    .slice(0, SHOWN)
    .map(({ s, t, words }) => ({ lonLat: frame.toLonLat(s, t), words }));
}
