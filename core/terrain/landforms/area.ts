/** Everything read out of the ground around a box, worked out when first asked for and kept. */
import type { Bbox } from "../../units/position.ts";
import type { ElevationModel } from "../elevation.ts";
import { type CrestLine, crestLines } from "./crest-lines.ts";
import type { Bend } from "./crest.ts";
import { type GridPlan, type HeightGrid, planGrid, readGrid } from "./height-grid.ts";
import { TOP_M } from "./landform.ts";
import { type Extreme, type Pass, sweepLevels } from "./level-sweep.ts";
import { patchFrom } from "./patches.ts";
import { LocalFit } from "./surface-fit.ts";

/** A hill or a depression with the ground that is its top or lies below its rim. */
export interface Closed extends Extreme {
  readonly kind: "hill" | "depression";
  readonly patch: readonly number[];
}

/** A radius this many times shorter than the distance to the summit makes a spur. No source. */
const ROUND = 1.5;

export class Area {
  readonly grid: HeightGrid;
  readonly fit: LocalFit;
  readonly #leastM: number;
  #closed: { closed: readonly Closed[]; at: Int16Array; saddles: readonly Pass[] } | undefined;
  #lines: readonly CrestLine[] | undefined;

  constructor(grid: HeightGrid, leastM: number) {
    this.grid = grid;
    this.fit = new LocalFit(grid);
    this.#leastM = leastM;
  }

  /** Hills and depressions, and for each sample which of them it belongs to: 1 + its number, 0 for none. */
  get closed(): { closed: readonly Closed[]; at: Int16Array; saddles: readonly Pass[] } {
    return (this.#closed ??= this.#sweep());
  }

  get lines(): readonly CrestLine[] {
    return (this.#lines ??= crestLines(this.grid, (c, r, bend) => this.isRound(c, r, bend)));
  }

  /**
   * Whether ground that bends like a crest or trough is but the round side of a hill or depression: contours round a
   * summit bend with the distance to it for radius, those of a spur more tightly.
   */
  isRound(column: number, row: number, { curvature, axisSlope }: Bend): boolean {
    const { columns, eastM, southM } = this.grid;
    const kind = curvature < 0 ? "hill" : "depression";
    const reachM = (ROUND * axisSlope) / Math.abs(curvature);
    return this.closed.closed.some((form) => {
      const c = form.sample % columns;
      const r = (form.sample - c) / columns;
      return form.kind === kind && Math.hypot((c - column) * eastM, (r - row) * southM) < reachM;
    });
  }

  #sweep(): { closed: readonly Closed[]; at: Int16Array; saddles: readonly Pass[] } {
    const { grid } = this;
    const { heights } = grid;
    const at = new Int16Array(heights.length);
    const summits = sweepLevels(grid, true, this.#leastM);
    const pits = sweepLevels(grid, false, Math.max(3, this.#leastM / 2));
    const closed: Closed[] = [];
    for (const { extremes, kind } of [
      { extremes: summits.extremes, kind: "hill" as const },
      { extremes: pits.extremes, kind: "depression" as const },
    ])
      for (const extreme of extremes) {
        const height = heights[extreme.sample]!;
        const downM = kind === "hill" ? Math.min(TOP_M, extreme.reliefM / 2) : extreme.reliefM;
        const inside = (i: number): boolean =>
          kind === "hill" ? heights[i]! >= height - downM : heights[i]! < height + downM;
        const patch = patchFrom(grid, extreme.sample, inside);
        closed.push({ ...extreme, kind, patch });
        for (const i of patch) if (at[i] === 0) at[i] = closed.length;
      }
    return { closed, at, saddles: summits.passes };
  }
}

/** Areas of some tens of legs, up to a megabyte or two each. */
const AREAS_KEPT = 40;
const kept = new WeakMap<ElevationModel, Map<string, { area: Area; whole: boolean; prepared: boolean }>>();

/**
 * The area around a box, from what was worked out before where it still holds.
 * @param leastM least prominence of a hill, metres
 */
export function areaAround(elevation: ElevationModel, box: Bbox, leastM: number): Area {
  const plan: GridPlan = planGrid(elevation, box);
  const key = `${plan.key} ${leastM}`;
  let areas = kept.get(elevation);
  if (!areas) kept.set(elevation, (areas = new Map()));
  const known = areas.get(key);
  const prepared = elevation.isPrepared(box);
  // What was read before all of the box was prepared is read again once it is.
  if (known && (known.whole || known.prepared === prepared)) return known.area;
  const { grid, whole } = readGrid(elevation, plan);
  const area = new Area(grid, leastM);
  if (areas.size >= AREAS_KEPT) areas.delete(areas.keys().next().value as string);
  areas.set(key, { area, whole, prepared });
  return area;
}
