/** What a leg crosses, as the list a walker checks off on the way. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import { crossingsOf, type LineCrossing } from "../map/crossings.ts";
import type { LineFeature } from "../map/features.ts";
import type { Kind } from "../map/kinds.ts";
import type { Profile } from "../terrain/profile.ts";
import type { LengthUnit } from "../units/format.ts";
import type { EntersAt } from "./crossings/area-edges.ts";
import { lineDetail } from "./crossings/crossing-detail.ts";
import type { Crossing } from "./line-aids.ts";
import { CROSSED_KINDS } from "./line-kinds.ts";
import { elevationAt } from "./profile-height.ts";

/** Meetings this close of lines of one kind and name are one to the walker: a line drawn twice, a wiggle on the leg. */
const ONE_M = 4;
/** The two halves of a dual road or double track lie up to this far apart along the leg. */
const DUAL_M = 15;
const DUAL_KINDS: ReadonlySet<Kind> = new Set<Kind>(["road", "rail"]);
/** … and are about parallel. */
const PARALLEL_DEG = 20;
/** A valley line beside the stream that runs down it is the same place. */
const VALLEY_M = 20;

/**
 * Crossings in order of distance. Lines drawn twice and the two halves of a dual road count once, at their middle;
 * of a valley line and its stream only the stream is given. Elevations are null where the profile has none.
 * Lines of the map only; see `withGround` for what the terrain adds.
 * @param pacesUpTo whole paces from the start to a distance, metres
 */
export function crossingList(
  frame: LegFrame,
  lines: readonly LineFeature[],
  profile: Profile,
  pacesUpTo: (distanceM: number) => number,
  unit: LengthUnit = "metric",
  enters: EntersAt = () => null,
): Crossing[] {
  const met = crossingsOf(
    frame,
    lines.filter(({ kind }) => CROSSED_KINDS.has(kind)),
  );
  const merged: LineCrossing[][] = [];
  for (const next of met) {
    const same = merged.find((group) => isSame(group.at(-1) as LineCrossing, next));
    if (same) same.push(next);
    else merged.push([next]);
  }
  const crossings = merged.map((group): Crossing => {
    const mean = (value: (crossing: LineCrossing) => number): number =>
      group.reduce((sum, c) => sum + value(c), 0) / group.length;
    const { line } = group[0] as LineCrossing;
    const atM = mean((c) => c.atM);
    const into = enters(line.kind, atM);
    return {
      kind: line.kind,
      name: line.name,
      atM,
      elevationM: elevationAt(profile, atM),
      paces: pacesUpTo(atM),
      crossingDeg: mean((c) => c.crossingDeg),
      detail: into === null ? lineDetail(line, unit) : `${into ? "into" : "out of"} ${AREA_WORDS[line.kind]}`,
      enters: into,
    };
  });
  return crossings
    .filter(
      ({ kind, atM }) =>
        kind !== "valley" ||
        !crossings.some(
          (c) => (c.kind === "stream" || c.kind === "river") && Math.abs(c.atM - atM) <= VALLEY_M,
        ),
    )
    .sort((a, b) => a.atM - b.atM);
}

const AREA_WORDS: Partial<Record<Kind, string>> = {
  woodEdge: "the wood",
  shore: "the water",
  restricted: "the restricted area",
};

function isSame(a: LineCrossing, b: LineCrossing): boolean {
  if (a.line.kind !== b.line.kind || a.line.name !== b.line.name) return false;
  const apart = Math.abs(a.atM - b.atM);
  if (apart <= ONE_M) return true;
  // One line met twice 10 m apart is a bend one really crosses twice; two lines are two carriageways.
  return (
    DUAL_KINDS.has(a.line.kind) &&
    a.line !== b.line &&
    apart <= DUAL_M &&
    Math.abs(a.crossingDeg - b.crossingDeg) <= PARALLEL_DEG
  );
}
