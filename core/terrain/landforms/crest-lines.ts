/** Ridges, spurs, valleys and draws of an area as lines: samples next to a crest or trough, linked to the longest paths. */
import { type Bend, bendOf, kindOf, sideRelief } from "./crest.ts";
import type { HeightGrid } from "./height-grid.ts";
import { fitEverywhere } from "./surface-fit.ts";

export interface CrestLine {
  readonly kind: "ridge" | "spur" | "valley" | "draw";
  /** Samples along it, from its higher end. */
  readonly samples: readonly number[];
  /** Mean of the relief along it, metres. */
  readonly reliefM: number;
}

/** Lines shorter than this are no landforms, metres. No source. */
const LEAST_LENGTH_M = 150;
/** A sample belongs to a line that passes as close to it, in steps of the grid. */
const BESIDE = 0.75;

const KINDS = ["ridge", "spur", "valley", "draw"] as const;

/** @param isRound whether a bend is but the round side of a hill or depression */
export function crestLines(
  grid: HeightGrid,
  isRound: (column: number, row: number, bend: Bend) => boolean,
): CrestLine[] {
  const { columns, heights } = grid;
  const stepM = Math.max(grid.eastM, grid.southM);
  const kind = new Uint8Array(heights.length);
  const relief = new Float32Array(heights.length);
  fitEverywhere(grid, (c, r, fit) => {
    const i = r * columns + c;
    for (const crest of [true, false]) {
      const bend = bendOf(fit, crest);
      if (!bend || Math.abs(bend.offsetM) > BESIDE * stepM) continue;
      const reliefM = sideRelief(grid, c, r, bend.across, crest);
      if (reliefM === null || reliefM <= relief[i]! || isRound(c, r, bend)) continue;
      kind[i] = 1 + KINDS.indexOf(kindOf(crest, bend.axisSlope));
      relief[i] = reliefM;
    }
  });
  const lines: CrestLine[] = [];
  const around = [1, -1, columns, -columns, columns + 1, columns - 1, -columns + 1, -columns - 1];
  const walk = new Walk(kind, around);
  for (let i = 0; i < kind.length; i++) {
    // The longest path is taken out with what lies beside it, then what is left of the branches.
    while (kind[i]! > 0) {
      const samples = walk.longestPath(i);
      const of = KINDS[kind[i]! - 1]!;
      if (samples.length * stepM >= LEAST_LENGTH_M) {
        const mean = samples.reduce((sum, j) => sum + relief[j]!, 0) / samples.length;
        if (heights[samples[0]!]! < heights[samples.at(-1)!]!) samples.reverse();
        lines.push({ kind: of, samples, reliefM: mean });
      }
      for (const j of samples) {
        for (const d of around) if (kind[j + d] === KINDS.indexOf(of) + 1) kind[j + d] = 0;
        kind[j] = 0;
      }
    }
  }
  return lines;
}

/** Breadth-first walks over samples of one kind. */
class Walk {
  readonly #kind: Uint8Array;
  readonly #around: readonly number[];
  readonly #from: Int32Array;

  constructor(kind: Uint8Array, around: readonly number[]) {
    this.#kind = kind;
    this.#around = around;
    this.#from = new Int32Array(kind.length).fill(-1);
  }

  /** The longest of the shortest ways between two samples of the patch a sample lies in, as two walks find it. */
  longestPath(start: number): number[] {
    const end = this.#farthest(start).at(-1) as number;
    const reached = this.#farthest(end, true);
    const path = [reached.at(-1) as number];
    while (path.at(-1) !== end) path.push(this.#from[path.at(-1) as number]!);
    for (const i of reached) this.#from[i] = -1;
    return path;
  }

  /** All samples of the patch, nearest first. */
  #farthest(start: number, keep = false): number[] {
    const reached = [start];
    this.#from[start] = start;
    for (let n = 0; n < reached.length; n++) {
      const i = reached[n] as number;
      for (const d of this.#around)
        if (this.#kind[i + d] === this.#kind[start] && this.#from[i + d]! < 0) {
          this.#from[i + d] = i;
          reached.push(i + d);
        }
    }
    if (!keep) for (const i of reached) this.#from[i] = -1;
    return reached;
  }
}
