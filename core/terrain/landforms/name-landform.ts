/** What landform a place lies on, and why, in a plain sentence. */
import { DEG, trueBearing } from "../../units/angle.ts";
import { formatNumber } from "../../units/format.ts";
import { type Bbox, growBbox, type LonLat } from "../../units/position.ts";
import type { Ground } from "../ground.ts";
import { type Area, areaAround } from "./area.ts";
import { bendOf, kindOf, sideRelief } from "./crest.ts";
import { between } from "./height-grid.ts";
import { contourLandforms } from "./contour-rings.ts";
import { CLIFF_DEG, LANDFORM_REACH_M, type LandformKind, MEANING, SIDE_M } from "./landform.ts";
import { landformsReason, leastReliefM, peakName, placeOf } from "./landforms-in.ts";

export interface NamedLandform {
  /** Null where the ground is a plain slope or level, or not known. */
  readonly kind: LandformKind | null;
  readonly name: string | null;
  /** What it is and what about the ground makes it so. */
  readonly why: string;
}

/** So near a crest or trough a place lies on it, metres. No source. */
const ON_M = 40;
const SADDLE_M = 60;
/** Gentler ground is called level, degrees. No source. */
const LEVEL_DEG = 2;

const WINDS = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];

/** Over ground prepared to `LANDFORM_REACH_M` around the place. */
export function nameLandformAt(ground: Ground, lonLat: LonLat): NamedLandform {
  const box = growBbox([...lonLat, ...lonLat] as unknown as Bbox, LANDFORM_REACH_M);
  const { elevation } = ground;
  if (!elevation) return fromContours(ground, box, lonLat);
  const area = areaAround(elevation, box, leastReliefM(ground));
  const [column, row] = area.grid.toGrid(lonLat);
  if (Number.isNaN(between(area.grid.heights, area.grid, column, row)))
    return { kind: null, name: null, why: "The height of the ground is not known here." };
  return (
    closedAt(ground, area, column, row) ??
    saddleAt(area, column, row) ??
    lineAt(area, column, row) ??
    slopeAt(area, column, row)
  );
}

const because = (kind: LandformKind, figures: string): string => {
  const article = /^[aeiou]/.test(kind) ? "An" : "A";
  return `${article} ${kind}: ${MEANING[kind]}. ${figures}`;
};
const metres = (m: number): string => `${Math.round(m)} m`;

function closedAt(ground: Ground, area: Area, column: number, row: number): NamedLandform | null {
  const { closed, at } = area.closed;
  const form = closed[(at[Math.round(row) * area.grid.columns + Math.round(column)] ?? 0) - 1];
  if (!form) return null;
  const more = form.atLeast ? "at least " : "";
  if (form.kind === "depression")
    return {
      kind: "depression",
      name: null,
      why: because(
        "depression",
        `Its floor lies ${more}${metres(form.reliefM)} below the lowest place of its rim.`,
      ),
    };
  return {
    kind: "hill",
    name: peakName(ground, area, placeOf(area, form.sample)),
    why: because("hill", `Its top stands ${more}${metres(form.reliefM)} above the saddle to higher ground.`),
  };
}

function saddleAt(area: Area, column: number, row: number): NamedLandform | null {
  const { grid } = area;
  const reach = Math.max(SADDLE_M, 1.5 * grid.eastM);
  for (const { sample, reliefM } of area.closed.saddles) {
    const c = sample % grid.columns;
    const r = (sample - c) / grid.columns;
    if (Math.hypot((c - column) * grid.eastM, (r - row) * grid.southM) <= reach)
      return {
        kind: "saddle",
        name: null,
        why: because("saddle", `It lies ${metres(reliefM)} below the lower of the two heights it joins.`),
      };
  }
  return null;
}

function lineAt(area: Area, column: number, row: number): NamedLandform | null {
  const { grid, fit } = area;
  let best: { kind: LandformKind; reliefM: number; axisSlope: number; crest: boolean } | null = null;
  const surface = fit.at(column, row);
  for (const crest of [true, false]) {
    const bend = bendOf(surface, crest);
    if (!bend || Math.abs(bend.offsetM) > ON_M || area.isRound(column, row, bend)) continue;
    const reliefM = sideRelief(grid, column, row, bend.across, crest);
    if (reliefM !== null && (!best || reliefM > best.reliefM))
      best = { kind: kindOf(crest, bend.axisSlope), reliefM, axisSlope: bend.axisSlope, crest };
  }
  if (!best) return null;
  const { kind, reliefM, axisSlope, crest } = best;
  const figures =
    `${SIDE_M} m to either side the ground lies ${metres(reliefM)} ${crest ? "lower" : "higher"} on average; ` +
    `along its own line it falls at ${Math.round(Math.atan(axisSlope) / DEG)}°.`;
  return { kind, name: null, why: because(kind, figures) };
}

function slopeAt({ fit }: Area, column: number, row: number): NamedLandform {
  const { fx: east, fy: north } = fit.at(column, row);
  const deg = Math.atan(Math.hypot(east, north)) / DEG;
  if (Number.isNaN(deg))
    return { kind: null, name: null, why: "The ground around here is not known well enough to name it." };
  if (deg >= CLIFF_DEG)
    return { kind: "cliff", name: null, why: because("cliff", `The ground falls at ${Math.round(deg)}°.`) };
  if (deg < LEVEL_DEG)
    return {
      kind: null,
      name: null,
      why: `Nearly level ground: it falls at ${formatNumber(deg, 1)}°, under ${LEVEL_DEG}°.`,
    };
  const wind = WINDS[Math.round(trueBearing(Math.atan2(-east, -north) / DEG) / 45) % 8];
  return {
    kind: null,
    name: null,
    why: `A plain slope: the ground falls to the ${wind} at ${Math.round(deg)}° and bends neither into a spur nor into a draw.`,
  };
}

function fromContours(ground: Ground, box: Bbox, [lon, lat]: LonLat): NamedLandform {
  const form = contourLandforms(ground, box).find(
    ({ extent }) => lon >= extent[0] && lat >= extent[1] && lon <= extent[2] && lat <= extent[3],
  );
  if (!form) return { kind: null, name: null, why: landformsReason(ground) as string };
  return {
    kind: form.kind,
    name: form.name,
    why: because(form.kind, "Its innermost contour is closed all round."),
  };
}
