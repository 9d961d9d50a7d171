/**
 * Where water runs on a grid: to which neighbour from each sample, and how much ground lies upstream.
 *
 * The surface is flooded from its edge and from voids, lowest sample first (priority flood: R. Barnes, C. Lehman and
 * D. Mulla, Priority-flood, Computers & Geosciences 62 (2014) 117–127). Water runs to the neighbour with the steepest
 * drop on the flooded surface (D8: J. F. O'Callaghan and D. M. Mark, The extraction of drainage networks from digital
 * elevation data, CVGIP 28 (1984) 323–344). In pits and on flats there is none lower: there it runs the way the flood
 * came, and as the flood goes into a pit along its lowest samples, so does the stream on its way out.
 */
import FlatQueue from "flatqueue";
import type { Pace } from "./pace.ts";

export interface Surface {
  readonly columns: number;
  readonly rows: number;
  /** Row after row, as in `ElevationGrid`; NaN is a void. */
  readonly heights: Float32Array;
  /** From a sample to its southern neighbour, metres. */
  readonly cellM: number;
  /** From a sample to its eastern neighbour, metres. */
  readonly cellWidthM: (row: number) => number;
}

/** The ways water takes. */
export interface Drainage {
  /** For each sample the one its water runs to; −1 where it leaves the grid, and on voids. */
  readonly receiver: Int32Array;
  /** Ground that drains through the sample, its own included, square metres. */
  readonly upstreamM2: Float32Array;
}

export interface Flow extends Drainage {
  /** Height of the flooded surface: the lowest level at which water can get off the grid. NaN on voids. */
  readonly flooded: Float32Array;
}

const VOID = 1;
const QUEUED = 2;
const DONE = 3;
/** In place of a count of neighbours still to come, which are eight at most: the sample was passed on already. */
const PASSED_ON = 255;

/** Added to the priority of each sample queued, metres, so that equal heights come out in the order they went in. */
const ORDER_M = 1e-10;

/** Arrays of a grid's size that one piece of work after another can be done in. */
export interface FlowRoom {
  readonly receiver: Int32Array;
  readonly level: Float32Array;
  readonly marks: Uint8Array;
}

export const flowRoom = (samples: number): FlowRoom => ({
  receiver: new Int32Array(samples),
  level: new Float32Array(samples),
  marks: new Uint8Array(samples),
});

/** @throws Fault "cancelled" */
export async function flowOf(surface: Surface, pace: Pace): Promise<Flow> {
  const room = flowRoom(surface.heights.length);
  const { receiver, flooded } = await flood(surface, 1, room, pace);
  const level = new Float32Array(flooded.length);
  return { receiver, flooded, upstreamM2: await accumulate(surface, { ...room, level }, pace) };
}

/**
 * The same without the flooded surface, in less memory: nine bytes a sample beside the heights once it is done.
 * @param upward 1 for the surface as it is, −1 for the surface upside down
 * @param room written over; the drainage lies in it and is good until it is used again
 * @throws Fault "cancelled"
 */
export async function drainageOf(
  surface: Surface,
  upward: 1 | -1,
  pace: Pace,
  room = flowRoom(surface.heights.length),
): Promise<Drainage> {
  const { receiver } = await flood(surface, upward, room, pace);
  return { receiver, upstreamM2: await accumulate(surface, room, pace) };
}

/** Floods the surface, and finds from each sample the neighbour that its water runs to. */
async function flood(
  surface: Surface,
  upward: 1 | -1,
  room: FlowRoom,
  pace: Pace,
): Promise<Pick<Flow, "receiver" | "flooded">> {
  const { columns, rows, heights, cellM } = surface;
  const count = columns * rows;
  const receiver = room.receiver.fill(-1);
  const flooded = room.level.fill(Number.NaN);
  const state = room.marks.fill(0);
  const queue = new FlatQueue();
  let queued = 0;
  const push = (i: number): void => {
    state[i] = QUEUED;
    queue.push(i, upward * heights[i]! + ORDER_M * queued++);
  };
  const around = [-columns - 1, -columns, -columns + 1, -1, 1, columns - 1, columns, columns + 1];

  for (let i = 0; i < count; i++) if (Number.isNaN(heights[i])) state[i] = VOID;
  for (let i = 0; i < count; i++) {
    if (state[i] !== 0) continue;
    const c = i % columns;
    const edge = c === 0 || c === columns - 1 || i < columns || i >= count - columns;
    if (edge || around.some((d) => state[i + d] === VOID)) push(i);
  }

  let level = -Infinity;
  let done = 0;
  for (let i = queue.pop(); i !== undefined; i = queue.pop()) {
    if ((++done & 0x3fff) === 0) await pace.step((0.7 * done) / count);
    level = Math.max(level, upward * heights[i]!);
    flooded[i] = level;
    state[i] = DONE;
    const c = i % columns;
    for (let k = 0; k < 8; k++) {
      const j = i + around[k]!;
      if (j < 0 || j >= count || state[j] !== 0 || Math.abs((j % columns) - c) > 1) continue;
      receiver[j] = i;
      push(j);
    }
  }

  for (let row = 0; row < rows; row++) {
    if ((row & 63) === 0) await pace.step(0.7 + (0.2 * row) / rows);
    const widthM = surface.cellWidthM(row);
    const slantM = Math.hypot(widthM, cellM);
    const reach = [slantM, cellM, slantM, widthM, widthM, slantM, cellM, slantM];
    for (let c = 0; c < columns; c++) {
      const i = row * columns + c;
      let steepest = 0;
      for (let k = 0; k < 8; k++) {
        const j = i + around[k]!;
        if (j < 0 || j >= count || Math.abs((j % columns) - c) > 1) continue;
        const drop = (flooded[i]! - flooded[j]!) / reach[k]!;
        if (drop > steepest) {
          steepest = drop;
          receiver[i] = j;
        }
      }
    }
  }
  return { receiver, flooded };
}

/**
 * Adds up areas from the springs down: a sample is passed on when all that drains into it has come.
 * @param room its level is written over with the areas, and given back
 */
async function accumulate(
  { columns, rows, heights, cellM, cellWidthM }: Surface,
  { receiver, level: upstreamM2, marks }: FlowRoom,
  pace: Pace,
): Promise<Float32Array> {
  const count = columns * rows;
  const waiting = marks.fill(0);
  for (let i = 0; i < count; i++) if (receiver[i]! >= 0) waiting[receiver[i]!]!++;
  for (let row = 0; row < rows; row++) {
    const own = cellM * cellWidthM(row);
    for (let i = row * columns; i < (row + 1) * columns; i++)
      upstreamM2[i] = Number.isNaN(heights[i]) ? 0 : own;
  }
  for (let start = 0; start < count; start++) {
    if ((start & 0xffff) === 0) await pace.step(0.9 + (0.1 * start) / count);
    if (waiting[start] !== 0) continue;
    for (let i = start; receiver[i]! >= 0;) {
      const j = receiver[i]!;
      upstreamM2[j]! += upstreamM2[i]!;
      if (--waiting[j]! > 0) break;
      waiting[j] = PASSED_ON;
      i = j;
    }
  }
  return upstreamM2;
}
