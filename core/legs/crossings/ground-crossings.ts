/** Of the shape of the ground, what is met on the way as one meets a line: spurs, draws, ridges, valleys, changes of slope. */
import type { LegLandform } from "../../terrain/landforms/landforms-along.ts";
import type { Profile } from "../../terrain/profile.ts";
import { type SlopeChange, slopeChanges } from "../../terrain/slope-changes.ts";
import type { Crossing } from "../line-aids.ts";
import { elevationAt } from "../profile-height.ts";

/** A crest read from the terrain and one drawn on the map are one within this distance along the leg, metres. No source. */
const SAME_CREST_M = 40;
/** A stream within the flanks of a valley and so near its lowest line is that valley's, metres. No source. */
const IN_VALLEY_M = 80;
/** A turn from climbing to falling so near a crest, or back so near a trough, is that crest or trough, metres. No source. */
const SAME_TURN_M = 50;
/** Ground that becomes this steep is called so, degrees. No source. */
const STEEP_DEG = 20;

const WHERE: Readonly<Record<string, string>> = {
  valley: "in the valley bottom",
  draw: "in a draw",
  ridge: "on a ridge",
  spur: "on a spur",
};
/** A line of the map that is itself the shape of the ground, by what the terrain calls it. */
const GROUND_LINES: ReadonlySet<string> = new Set(["ridge", "valley"]);
const CALLED: Readonly<Record<string, string>> = { draw: "a draw", spur: "a spur" };

/**
 * Adds what the terrain tells to the lines of the map. Nothing is named twice: of a draw and its stream, a spur and the
 * ridge line drawn on it, the line of the map stays, and its detail says where it runs; a change of slope that only says
 * that a crest or trough was crossed is left out.
 */
export function withGround(
  lines: readonly Crossing[],
  landforms: readonly LegLandform[],
  profile: Profile,
  pacesUpTo: (distanceM: number) => number,
): Crossing[] {
  const crossings = [...lines];
  const terrain = (kind: Crossing["kind"], atM: number, detail: string | null): Crossing => ({
    kind,
    name: null,
    atM,
    elevationM: elevationAt(profile, atM),
    paces: pacesUpTo(atM),
    crossingDeg: null,
    detail,
    enters: null,
  });
  for (const form of landforms) {
    const where = WHERE[form.kind];
    if (form.way !== "across" || !where) continue;
    const same = drawnAt(crossings, form);
    if (same < 0) crossings.push(terrain(form.kind, form.atM, null));
    else {
      const line = crossings[same] as Crossing;
      const ground = GROUND_LINES.has(line.kind) ? CALLED[form.kind] : where;
      const detail = [line.detail, ground].filter((part) => part !== null && part !== undefined);
      if (ground && !line.detail?.includes(ground)) crossings[same] = { ...line, detail: detail.join(", ") };
    }
  }
  for (const change of slopeChanges(profile)) {
    // The leg's own highest or lowest place is where a walker notices that he is over a crest or through a trough.
    const turned = reversedAt(crossings, change);
    if (turned >= 0) crossings[turned] = terrain((crossings[turned] as Crossing).kind, change.atM, null);
    else if (!isTurnOf(change, crossings, landforms))
      crossings.push(terrain(slopeKind(change), change.atM, slopeDetail(change)));
  }
  return crossings.sort((a, b) => a.atM - b.atM);
}

/** Index of the line of the map that lies on the crest or in the trough; −1 when none does. */
function drawnAt(crossings: readonly Crossing[], { kind, atM, fromM, toM }: LegLandform): number {
  const crest = kind === "spur" || kind === "ridge";
  let best = -1;
  let bestOff = Infinity;
  crossings.forEach((c, i) => {
    const off = Math.abs(c.atM - atM);
    const near = crest
      ? c.kind === "ridge" && off <= SAME_CREST_M
      : (c.kind === "valley" && off <= SAME_CREST_M) ||
        ((c.kind === "stream" || c.kind === "river") &&
          (off <= SAME_CREST_M || (off <= IN_VALLEY_M && c.atM >= fromM && c.atM <= toM)));
    if (near && off < bestOff) [best, bestOff] = [i, off];
  });
  return best;
}

const CRESTS: ReadonlySet<string> = new Set(["spur", "ridge", "hill"]);
const TROUGHS: ReadonlySet<string> = new Set(["valley", "draw", "depression", "stream", "river"]);

/** Index of the crest or trough, read from the terrain alone, that the leg turns at; −1 for none. */
function reversedAt(crossings: readonly Crossing[], { kind, atM, beforeDeg, afterDeg }: SlopeChange): number {
  if (beforeDeg * afterDeg >= 0 || (kind !== "falls" && kind !== "climbs")) return -1;
  const forms = kind === "falls" ? CRESTS : TROUGHS;
  return crossings.findIndex(
    (c) => c.crossingDeg === null && forms.has(c.kind) && Math.abs(c.atM - atM) <= SAME_TURN_M,
  );
}

function isTurnOf(
  { kind, atM, beforeDeg, afterDeg }: SlopeChange,
  crossings: readonly Crossing[],
  landforms: readonly LegLandform[],
): boolean {
  const forms =
    beforeDeg > 0 && (kind === "falls" || kind === "levels")
      ? CRESTS
      : beforeDeg < 0 && afterDeg >= 0 && (kind === "climbs" || kind === "levels")
        ? TROUGHS
        : null;
  const saddle = landforms.some((l) => l.kind === "saddle" && Math.abs(l.atM - atM) <= SAME_TURN_M);
  if (!forms) return saddle && kind === "levels";
  return (
    saddle ||
    [...crossings, ...landforms.filter((l) => l.way === "across")].some(
      (c) => forms.has(c.kind) && Math.abs(c.atM - atM) <= SAME_TURN_M,
    )
  );
}

function slopeKind({ kind, beforeDeg, afterDeg }: SlopeChange): "rise" | "drop" | "steep" {
  if (kind === "steeper" && Math.abs(afterDeg) >= STEEP_DEG) return "steep";
  return (Math.abs(afterDeg) >= Math.abs(beforeDeg) ? afterDeg : beforeDeg) > 0 ? "rise" : "drop";
}

function slopeDetail({ kind, beforeDeg, afterDeg }: SlopeChange): string {
  const after = `${Math.round(Math.abs(afterDeg))}°`;
  const before = `${Math.round(Math.abs(beforeDeg))}°`;
  const way = afterDeg > 0 ? "climb" : "fall";
  switch (kind) {
    case "climbs":
      return `the ground begins to climb at ${after}`;
    case "falls":
      return `the ground begins to fall at ${after}`;
    case "levels":
      return `the ${beforeDeg > 0 ? "climb" : "fall"} of ${before} levels out`;
    case "steeper":
      return `the ${way} steepens from ${before} to ${after}`;
    case "easier":
      return `the ${way} eases from ${before} to ${after}`;
  }
}
