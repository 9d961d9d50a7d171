/** What landforms a leg goes over, in order of walking. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import { type Bbox, bboxOf, growBbox } from "../../units/position.ts";
import type { ElevationModel } from "../elevation.ts";
import type { Ground } from "../ground.ts";
import { type Area, areaAround } from "./area.ts";
import { bendOf } from "./crest.ts";
import { between } from "./height-grid.ts";
import { CLIFF_DEG, LANDFORM_REACH_M } from "./landform.ts";
import { leastReliefM, peakName, placeOf } from "./landforms-in.ts";
import { crossed, followed, type LegLandform, type Look } from "./leg-crests.ts";

export type { LegLandform } from "./leg-crests.ts";

const EVERY_M = 10;
/** Longer legs are looked at part by part, so that each part's ground is read as finely. */
const PART_M = 2500;
/** Parts overlap by what the sides of a crest reach. */
const OVERLAP_M = 400;
/** A leg that passes a saddle within this goes over it, metres. No source. */
const SADDLE_M = 60;

/**
 * The landforms a leg meets, in order, from terrain tiles; none without: see `landformsReason`. The ground has to be
 * prepared to `LANDFORM_REACH_M` around the leg; what was not shows none.
 */
export function landformsAlong(ground: Ground, frame: LegFrame): LegLandform[] {
  const { elevation } = ground;
  const { lengthM } = frame;
  if (!elevation || !(lengthM > 0)) return [];
  const parts = Math.ceil(lengthM / PART_M);
  const found: LegLandform[] = [];
  for (let i = 0; i < parts; i++) {
    const [startM, endM] = [(lengthM * i) / parts, (lengthM * (i + 1)) / parts];
    for (const form of partOf(ground, elevation, frame, startM, endM)) {
      if (form.way === "across") {
        if (form.atM >= startM && (form.atM < endM || i === parts - 1)) found.push(form);
        continue;
      }
      const [fromM, toM] = [Math.max(startM, form.fromM), Math.min(endM, form.toM)];
      const before = found.findLast((f) => f.way === "along" && f.kind === form.kind && f.toM === startM);
      // What runs on from one part into the next is one.
      if (before && fromM === startM) found[found.indexOf(before)] = { ...before, toM };
      else if (toM > fromM) found.push({ ...form, atM: fromM, fromM, toM });
    }
  }
  return found.sort((a, b) => a.atM - b.atM || a.fromM - b.fromM);
}

function partOf(
  ground: Ground,
  elevation: ElevationModel,
  frame: LegFrame,
  startM: number,
  endM: number,
): LegLandform[] {
  const low = Math.max(0, startM - OVERLAP_M);
  const high = Math.min(frame.lengthM, endM + OVERLAP_M);
  const ends = bboxOf([frame.toLonLat(low, 0), frame.toLonLat(high, 0)]) as Bbox;
  // No box spans the 180° meridian, and no map does.
  if (ends[2] - ends[0] > 180) return [];
  const area = areaAround(elevation, growBbox(ends, LANDFORM_REACH_M), leastReliefM(ground));
  const { grid, fit } = area;
  const steps = Math.max(1, Math.ceil((high - low) / EVERY_M));
  const looks = Array.from({ length: steps + 1 }, (_, i): Look => {
    const s = i === steps ? high : low + ((high - low) * i) / steps;
    const [column, row] = grid.toGrid(frame.toLonLat(s, 0));
    const surface = fit.at(column, row);
    return { s, column, row, ground: surface, crest: bendOf(surface, true), trough: bendOf(surface, false) };
  });
  const lines = [true, false].flatMap((crest) => [
    ...crossed(area, looks, crest),
    ...followed(area, looks, crest),
  ]);
  // A crest is crossed on every top and in every saddle, a trough in every hole, and what is gone along aslant is crossed
  // as well: the word that says more is kept.
  const special = [...closedForms(ground, area, looks), ...saddlesOver(area, frame)];
  const more = [...special, ...lines.filter((l) => l.way === "along")];
  const said = lines.filter(
    (l) => l.way === "along" || !more.some((m) => l.atM >= m.fromM && l.atM <= m.toM),
  );
  return [...special, ...said, ...cliffsOn(area, looks)];
}

/** Tops and hollows the leg goes over. */
function closedForms(ground: Ground, area: Area, looks: readonly Look[]): LegLandform[] {
  const { grid } = area;
  const { closed, at } = area.closed;
  const labels = looks.map(({ column, row }) => {
    const [c, r] = [Math.round(column), Math.round(row)];
    return c >= 0 && r >= 0 && c < grid.columns && r < grid.rows ? (at[r * grid.columns + c] as number) : 0;
  });
  const found: LegLandform[] = [];
  for (let i = 0; i < looks.length; i++) {
    const form = closed[(labels[i] as number) - 1];
    if (!form) continue;
    const start = i;
    while (labels[i + 1] === labels[start]) i++;
    const [from, to] = [looks[start] as Look, looks[i] as Look];
    const heights = looks.slice(start, i + 1).map((l) => between(grid.heights, grid, l.column, l.row));
    const extreme = form.kind === "hill" ? Math.max(...heights) : Math.min(...heights);
    const name = form.kind === "hill" ? peakName(ground, area, placeOf(area, form.sample)) : null;
    found.push({
      kind: form.kind,
      name,
      fromM: from.s,
      toM: to.s,
      atM: (looks[start + Math.max(0, heights.indexOf(extreme))] as Look).s,
      way: "across",
      reliefM: form.reliefM,
      words: form.kind === "hill" ? `Go over the top of ${name ?? "a hill"}.` : "Go through a depression.",
    });
  }
  return found;
}

function saddlesOver(area: Area, frame: LegFrame): LegLandform[] {
  return area.closed.saddles.flatMap(({ sample, reliefM }) => {
    const [s, t] = frame.toFrame(placeOf(area, sample));
    const reach = Math.max(SADDLE_M, 1.5 * area.grid.eastM);
    if (Math.abs(t) > reach || s < 0 || s > frame.lengthM) return [];
    const half = Math.sqrt(reach * reach - t * t);
    return {
      kind: "saddle" as const,
      name: null,
      fromM: Math.max(0, s - half),
      toM: Math.min(frame.lengthM, s + half),
      atM: s,
      way: "across" as const,
      reliefM,
      words: "Go over a saddle.",
    };
  });
}

/** Stretches over ground as steep as a cliff, by the fall of the ground over two steps of the grid. */
function cliffsOn({ grid }: Area, looks: readonly Look[]): LegLandform[] {
  const steep = Math.tan((CLIFF_DEG * Math.PI) / 180);
  const isSteep = ({ column, row }: Look): boolean => {
    const at = (c: number, r: number): number => between(grid.heights, grid, column + c, row + r);
    return (
      Math.hypot((at(1, 0) - at(-1, 0)) / (2 * grid.eastM), (at(0, 1) - at(0, -1)) / (2 * grid.southM)) >=
      steep
    );
  };
  const found: LegLandform[] = [];
  for (let i = 0; i < looks.length; i++) {
    if (!isSteep(looks[i] as Look)) continue;
    const start = i;
    while (looks[i + 1] && isSteep(looks[i + 1] as Look)) i++;
    const stretch = looks.slice(start, i + 1);
    const heights = stretch.map((l) => between(grid.heights, grid, l.column, l.row));
    const [fromM, toM] = [(looks[start] as Look).s, (looks[i] as Look).s];
    found.push({
      kind: "cliff",
      name: null,
      fromM,
      toM,
      atM: fromM,
      way: "across",
      reliefM: Math.max(...heights) - Math.min(...heights),
      words: `Ground of ${CLIFF_DEG}° or steeper: a cliff, or nearly.`,
    });
  }
  return found;
}
