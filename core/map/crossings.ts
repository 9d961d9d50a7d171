/**
 * Where a leg crosses lines. The leg runs from s = 0 to its length on t = 0 of its frame.
 *
 * A line crosses where it goes from one side of the leg to the other. Decided so that each passage counts once:
 * - a vertex on the leg (within a micrometre) counts when the line comes from one side and leaves on the other;
 * - a line that touches the leg and turns back does not cross, nor does one that begins or ends on it;
 * - a line that runs along the leg counts once, where it first lies on the leg in the line's own order, when it leaves
 *   on the other side than it came from, else not at all;
 * - a closed line is taken round: where it begins makes no difference;
 * - crossings within a millimetre before the start or beyond the end count as at the start or the end, so that a point
 *   placed on a line counts as on it.
 */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import { DEG } from "../units/angle.ts";
import type { LineFeature } from "./features.ts";
import { legCull } from "./leg-cull.ts";
import { RUN_SEGMENTS, runBoxesOf } from "./line-runs.ts";

export interface LineCrossing {
  readonly line: LineFeature;
  /** Metres from the leg's start, 0 to its length. */
  readonly atM: number;
  /** Angle between line and leg, 0–90°: 90 is straight across. */
  readonly crossingDeg: number;
}

const ON_LEG_M = 1e-6;
const END_SLACK_M = 1e-3;

/** Crossings of the leg with lines, by distance from the start. A leg without length crosses nothing. */
export function crossingsOf(frame: LegFrame, lines: readonly LineFeature[]): LineCrossing[] {
  const found: LineCrossing[] = [];
  if (!(frame.lengthM > 0)) return found;
  const misses = legCull(frame);
  for (const line of lines) crossLine(frame, line, misses, found);
  return found.sort((a, b) => a.atM - b.atM);
}

/** The last position off the leg, and the first position since that lies on it. */
interface Trace {
  side: -1 | 0 | 1;
  s: number;
  t: number;
  onS: number | null;
}

const projected = new Float64Array(2 * (RUN_SEGMENTS + 1));

function crossLine(
  frame: LegFrame,
  line: LineFeature,
  misses: (boxes: Float64Array, run: number) => boolean,
  found: LineCrossing[],
): void {
  const { coords } = line;
  const vertices = coords.length >> 1;
  const boxes = runBoxesOf(line);
  const runs = boxes.length / 4;
  const closed =
    vertices > 3 && coords[0] === coords[2 * vertices - 2] && coords[1] === coords[2 * vertices - 1];
  const trace: Trace = { side: 0, s: 0, t: 0, onS: null };
  const step = (s: number, t: number): void => {
    const side = t > ON_LEG_M ? 1 : t < -ON_LEG_M ? -1 : 0;
    if (side === 0) {
      trace.onS ??= s;
      return;
    }
    if (trace.side !== 0 && side !== trace.side) {
      const atM = trace.onS ?? trace.s + ((s - trace.s) * trace.t) / (trace.t - t);
      if (atM >= -END_SLACK_M && atM <= frame.lengthM + END_SLACK_M)
        found.push({
          line,
          atM: Math.min(frame.lengthM, Math.max(0, atM)),
          crossingDeg: Math.atan2(Math.abs(t - trace.t), Math.abs(s - trace.s)) / DEG,
        });
    }
    trace.side = side;
    trace.s = s;
    trace.t = t;
    trace.onS = null;
  };
  const walk = (run: number): void => {
    const first = run * RUN_SEGMENTS;
    const count = Math.min(vertices - 1, first + RUN_SEGMENTS) - first + 1;
    frame.project(coords, 2 * first, count, projected);
    for (let i = 0; i < count; i++) step(projected[2 * i] as number, projected[2 * i + 1] as number);
  };
  for (let run = 0; run < runs; run++) {
    // A run passed over cannot end on the leg, so that what the trace remembers is not needed after it.
    if (misses(boxes, run)) Object.assign(trace, { side: 0, onS: null });
    else walk(run);
  }
  // A ring whose first vertices lie on the leg: what came before them is only known at its end.
  if (closed && !misses(boxes, 0)) finishRing(frame, coords, step);
}

/** From a closed line's last vertex, which is its first, on to the first vertex off the leg. */
function finishRing(frame: LegFrame, coords: Float64Array, step: (s: number, t: number) => void): void {
  const st = new Float64Array(2);
  frame.project(coords, 0, 1, st);
  if (Math.abs(st[1] as number) > ON_LEG_M) return;
  for (let i = 1; i < coords.length >> 1; i++) {
    frame.project(coords, 2 * i, 1, st);
    step(st[0] as number, st[1] as number);
    if (Math.abs(st[1] as number) > ON_LEG_M) return;
  }
}
