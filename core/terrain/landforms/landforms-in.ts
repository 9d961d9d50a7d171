/** The landforms of a box. */
import { type Bbox, bboxesMeet, bboxOf, type LonLat } from "../../units/position.ts";
import type { PointFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import type { ElevationModel } from "../elevation.ts";
import type { Ground } from "../ground.ts";
import { type Area, areaAround } from "./area.ts";
import { contourLandforms } from "./contour-rings.ts";
import { CLIFF_DEG, type Landform } from "./landform.ts";
import { boxAround, patchFrom } from "./patches.ts";
import { trueTop } from "./true-top.ts";

/** A hill stands out by as much where the map does not tell its interval, metres. No source. */
const LEAST_RELIEF_M = 10;
const METRES_PER_FOOT = 0.3048;
/** A summit takes the name of a peak so near, metres. */
const NAMED_WITHIN_M = 200;
const PEAKS: ReadonlySet<Kind> = new Set<Kind>(["peak"]);

/** Why landforms are missing or fewer than there may be; null where terrain tiles tell them all. For notes. */
export function landformsReason(ground: Ground): string | null {
  return ground.elevation
    ? null
    : "Landforms are read from terrain tiles, which this map does not have: from contours alone only hills and depressions with a contour all round them are known.";
}

/** A hill must stand out by as much to count: one contour interval, from 5 to 20 m. */
export function leastReliefM({ map }: Ground): number {
  const { interval } = map.info;
  if (!interval) return LEAST_RELIEF_M;
  return Math.max(5, Math.min(20, interval.value * (interval.unit === "ft" ? METRES_PER_FOOT : 1)));
}

/**
 * Landforms that meet a box, from terrain tiles, over prepared ground: what was not prepared shows none, and hills
 * beside it say `atLeast`. Large boxes are looked at more coarsely. From contours alone: see `contourLandforms`.
 * Hills, depressions, saddles, then ridges, spurs, valleys, draws, then cliffs; each the most prominent first.
 */
export function landformsIn(ground: Ground, box: Bbox): Landform[] {
  const { elevation } = ground;
  if (!elevation) return contourLandforms(ground, box);
  const area = areaAround(elevation, box, leastReliefM(ground));
  const found = [...pointForms(ground, elevation, area), ...lineForms(area), ...cliffs(area)];
  const order = ["hill", "depression", "saddle", "ridge", "spur", "valley", "draw", "cliff"];
  return found
    .filter((f) => bboxesMeet(f.extent, box))
    .sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind) || b.reliefM - a.reliefM);
}

export function placeOf({ grid }: Area, sample: number): LonLat {
  const c = sample % grid.columns;
  return grid.toLonLat(c, (sample - c) / grid.columns);
}

function pointForms(ground: Ground, elevation: ElevationModel, area: Area): Landform[] {
  const { grid } = area;
  const { closed, saddles } = area.closed;
  const forms: Landform[] = closed.map(({ kind, sample, reliefM, atLeast, patch }) => {
    const { lonLat, elevationM } = trueTop(elevation, grid, sample, kind === "hill");
    return {
      kind,
      name: kind === "hill" ? peakName(ground, area, lonLat) : null,
      lonLat,
      elevationM,
      extent: boxAround(grid, patch),
      reliefM: reliefM + Math.abs(elevationM - grid.heights[sample]!),
      atLeast,
      line: null,
    };
  });
  for (const { sample, reliefM } of saddles)
    forms.push({
      kind: "saddle",
      name: null,
      lonLat: placeOf(area, sample),
      elevationM: grid.heights[sample]!,
      extent: boxAround(grid, [sample]),
      reliefM,
      atLeast: false,
      line: null,
    });
  return forms;
}

/** The name of the nearest peak on the map, where the map has been prepared. */
export function peakName({ map }: Ground, { grid }: Area, lonLat: LonLat): string | null {
  const [c, r] = grid.toGrid(lonLat);
  const reach = NAMED_WITHIN_M / Math.min(grid.eastM, grid.southM);
  const box = bboxOf([grid.toLonLat(c - reach, r + reach), grid.toLonLat(c + reach, r - reach)]) as Bbox;
  if (!map.isPrepared(box)) return null;
  let nearest: { peak: PointFeature; farM: number } | null = null;
  for (const peak of map.points(box, PEAKS)) {
    const [pc, pr] = grid.toGrid(peak.lonLat);
    const farM = Math.hypot((pc - c) * grid.eastM, (pr - r) * grid.southM);
    if (peak.name && farM <= NAMED_WITHIN_M && (!nearest || farM < nearest.farM)) nearest = { peak, farM };
  }
  return nearest?.peak.name ?? null;
}

function lineForms(area: Area): Landform[] {
  const { grid } = area;
  return area.lines.map(({ kind, samples, reliefM }) => {
    const middle = samples[samples.length >> 1] as number;
    return {
      kind,
      name: null,
      lonLat: placeOf(area, middle),
      elevationM: grid.heights[middle]!,
      extent: boxAround(grid, samples),
      reliefM,
      atLeast: false,
      line: Float64Array.from(samples.flatMap((i) => placeOf(area, i))),
    };
  });
}

/** Patches of ground steeper than `CLIFF_DEG` by differences over two steps: a coarse model shows only big ones. */
function cliffs({ grid }: Area): Landform[] {
  const { columns, heights } = grid;
  const steep = Math.tan((CLIFF_DEG * Math.PI) / 180);
  const isSteep = (i: number): boolean => {
    const east = (heights[i + 1]! - heights[i - 1]!) / (2 * grid.eastM);
    const south = (heights[i + columns]! - heights[i - columns]!) / (2 * grid.southM);
    return east * east + south * south >= steep * steep;
  };
  const seen = new Set<number>();
  const forms: Landform[] = [];
  for (let i = columns; i < heights.length - columns; i++) {
    if (seen.has(i) || !isSteep(i)) continue;
    const patch = patchFrom(grid, i, (j) => j > columns && j < heights.length - columns && isSteep(j));
    for (const j of patch) seen.add(j);
    const around = patch.flatMap((j) => [
      heights[j - 1]!,
      heights[j + 1]!,
      heights[j - columns]!,
      heights[j + columns]!,
    ]);
    const middle = patch[patch.length >> 1] as number;
    const c = middle % columns;
    forms.push({
      kind: "cliff",
      name: null,
      lonLat: grid.toLonLat(c, (middle - c) / columns),
      elevationM: heights[middle]!,
      extent: boxAround(grid, patch),
      reliefM: Math.max(...around) - Math.min(...around),
      atLeast: false,
      line: null,
    });
  }
  return forms;
}
