/** Which dangers are told first where there is no room for all: by what they can do, on the line before beside it. Pure. */
import type { Hazard } from "../../core/legs/aids/hazards.ts";

/** No source: what one falls off, drowns in, is forbidden or is run over by, before what slows. */
const GRAVEST: readonly Hazard["kind"][] = [
  "cliff",
  "steep",
  "water",
  "river",
  "rail",
  "restricted",
  "road",
  "wetland",
  "stream",
];

export const gravestFirst = (hazards: readonly Hazard[]): readonly Hazard[] =>
  hazards.toSorted(
    (a, b) =>
      GRAVEST.indexOf(a.kind) - GRAVEST.indexOf(b.kind) ||
      Number(a.side !== "on") - Number(b.side !== "on") ||
      (b.steep?.fromDeg ?? 0) - (a.steep?.fromDeg ?? 0) ||
      a.fromM - b.fromM,
  );
