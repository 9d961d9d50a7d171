/** Streams worked out from the terrain: where enough ground drains through, water is taken to run. */
import type { Drainage, Surface } from "./flow.ts";
import { type FlowLine, flowLines } from "./flow-lines.ts";

export interface StreamLine {
  readonly class: "stream" | "river";
  /** Column, row pairs in the grid, downstream. */
  readonly coords: Float64Array;
  /** Samples passed, one for each position. */
  readonly samples: Int32Array;
  /** Ground drained at the lower end, square metres. */
  readonly upstreamM2: number;
}

export interface StreamLimits {
  /** Ground that keeps a stream running, square metres. */
  readonly streamM2: number;
  /** Ground from which it counts as a river. */
  readonly riverM2: number;
}

/**
 * Common practice, no source: permanent streams of temperate hills begin at a few tenths of a square kilometre.
 * What really runs depends on rain and rock, so these lines are always marked as derived.
 */
export const STREAM_LIMITS: StreamLimits = { streamM2: 0.5e6, riverM2: 100e6 };

/** Side streams shorter than this are mostly chance, metres and cells. */
const SHORTEST_M = 200;
const SHORTEST_CELLS = 5;

/** Length along column, row pairs, metres; good to the change of cell width within the line. */
export function lengthM(coords: Float64Array, surface: Surface): number {
  const widthM = surface.cellWidthM(Math.floor(coords[1] ?? 0));
  let sum = 0;
  for (let i = 2; i + 1 < coords.length; i += 2)
    sum += Math.hypot(
      (coords[i]! - coords[i - 2]!) * widthM,
      (coords[i + 1]! - coords[i - 1]!) * surface.cellM,
    );
  return sum;
}

/** Streams from their heads downstream; where one grows into a river it is split. */
export function streamLines(
  surface: Surface,
  flow: Drainage,
  limits: StreamLimits = STREAM_LIMITS,
): StreamLine[] {
  const shortest = Math.max(SHORTEST_M, SHORTEST_CELLS * surface.cellM);
  const streams: StreamLine[] = [];
  for (const line of flowLines(flow, surface.columns, limits.streamM2)) {
    if (lengthM(line.coords, surface) < shortest) continue;
    streams.push(...split(line, flow, limits.riverM2));
  }
  return streams;
}

function split(
  { samples, coords, joins }: FlowLine,
  { upstreamM2 }: Drainage,
  riverM2: number,
): StreamLine[] {
  // The last sample of a side stream belongs to the stream it joins.
  const own = joins ? samples.length - 1 : samples.length;
  let turn = own;
  for (let i = 0; i < own; i++)
    if (upstreamM2[samples[i]!]! >= riverM2) {
      turn = i;
      break;
    }
  const part = (from: number, to: number, kind: "stream" | "river"): StreamLine[] =>
    to - from < 2
      ? []
      : [
          {
            class: kind,
            coords: coords.slice(2 * from, 2 * to),
            samples: samples.slice(from, to),
            upstreamM2: upstreamM2[samples[Math.min(to, own) - 1]!]!,
          },
        ];
  if (turn === own) return part(0, samples.length, "stream");
  return [...part(0, turn + 1, "stream"), ...part(turn, samples.length, "river")];
}
