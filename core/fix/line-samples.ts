/** Lines laid into a frame and looked at every few metres. */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import type { LineFeature } from "../map/features.ts";
import type { LonLat } from "../units/position.ts";

/** A place on a line. */
export interface OnLine {
  readonly at: LonLat;
  /** Metres east and north in the frame, which lies along north. */
  readonly eastM: number;
  readonly northM: number;
}

/** Natural logarithm of a density at a place, up to a constant; −∞ where it cannot be. */
export type LogDensity = (place: OnLine) => number;

/** Samples of a line this far apart, metres; farther where the lines are longer than `MOST_SAMPLES` of them. */
const SAMPLE_M = 2;
const MOST_SAMPLES = 200_000;
export interface Sampled {
  readonly line: LineFeature;
  readonly st: Float64Array;
  /** Metres from the first position to each vertex. */
  readonly lengths: Float64Array;
  readonly stepM: number;
  readonly logs: Float64Array;
}

/** The lines with the density at their samples; what has fewer than two positions is left out. */
export function sampleLines(lines: readonly LineFeature[], frame: LegFrame, density: LogDensity): Sampled[] {
  const measured = lines.filter(({ coords }) => coords.length >= 4).map((line) => measure(line, frame));
  const wholeM = measured.reduce((sum, { lengths }) => sum + (lengths.at(-1) as number), 0);
  const spacing = Math.max(SAMPLE_M, wholeM / MOST_SAMPLES);
  return measured.map((line) => sample(line, spacing, density));
}

function measure(line: LineFeature, frame: LegFrame): Omit<Sampled, "logs" | "stepM"> {
  const count = line.coords.length >> 1;
  const st = new Float64Array(2 * count);
  frame.project(line.coords, 0, count, st);
  const lengths = new Float64Array(count);
  for (let i = 1; i < count; i++)
    lengths[i] =
      (lengths[i - 1] as number) +
      Math.hypot(
        (st[2 * i] as number) - (st[2 * i - 2] as number),
        (st[2 * i + 1] as number) - (st[2 * i - 1] as number),
      );
  return { line, st, lengths };
}

type Measured = Pick<Sampled, "line" | "st" | "lengths">;

function sample(measured: Measured, spacing: number, density: LogDensity): Sampled {
  const wholeM = measured.lengths.at(-1) as number;
  const steps = Math.max(1, Math.ceil(wholeM / spacing));
  const stepM = wholeM / steps;
  const logs = new Float64Array(steps + 1);
  let vertex = 0;
  for (let i = 0; i <= steps; i++) {
    while (vertex < measured.lengths.length - 2 && (measured.lengths[vertex + 1] as number) < i * stepM)
      vertex++;
    logs[i] = density(onSegment(measured, vertex, i * stepM));
  }
  return { ...measured, stepM, logs };
}

/** Metres and degrees are shared out alike along a segment, which on map lines agrees to millimetres. */
function onSegment({ line, st, lengths }: Measured, vertex: number, alongM: number): OnLine {
  const long = (lengths[vertex + 1] as number) - (lengths[vertex] as number);
  const f = long > 0 ? Math.min(1, Math.max(0, (alongM - (lengths[vertex] as number)) / long)) : 0;
  const between = (of: Float64Array, i: number): number =>
    (of[2 * vertex + i] as number) * (1 - f) + (of[2 * vertex + 2 + i] as number) * f;
  return {
    at: [between(line.coords, 0), between(line.coords, 1)],
    northM: between(st, 0),
    eastM: between(st, 1),
  };
}

/** The vertex before a place on the line. */
export function vertexAt({ lengths }: Measured, alongM: number): number {
  let [low, high] = [0, lengths.length - 2];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((lengths[middle] as number) <= alongM) low = middle;
    else high = middle - 1;
  }
  return low;
}

export const pointAt = (measured: Measured, alongM: number): OnLine =>
  onSegment(measured, vertexAt(measured, alongM), alongM);

/** The line's own positions between two places on it. */
export function verticesBetween({ line, lengths }: Measured, fromM: number, toM: number): LonLat[] {
  const found: LonLat[] = [];
  lengths.forEach((alongM, i) => {
    if (alongM > fromM && alongM < toM)
      found.push([line.coords[2 * i] as number, line.coords[2 * i + 1] as number]);
  });
  return found;
}
