/**
 * Where lines of the map meet: crossings, and ends that reach another line. Meetings within 10 m are one node.
 * A line cut in two, at a tile's edge or where its name changes, meets itself end to end: such a node has two arms and
 * is none. Which kinds can meet is said here: a power line over a path touches nothing.
 */
import type { Kind } from "../../map/kinds.ts";
import {
  alongAt,
  angleBetween,
  apartM,
  chordAt,
  isRing,
  lengthOf,
  pointAt,
  type St,
} from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";

/** What behaves alike where it meets something. */
export type LineClass = "way" | "rail" | "water" | "shore" | "wall" | "wood";

const CLASS: ReadonlyMap<Kind, LineClass> = new Map<Kind, LineClass>([
  ["path", "way"],
  ["road", "way"],
  ["rail", "rail"],
  ["stream", "water"],
  ["river", "water"],
  ["shore", "shore"],
  ["wall", "wall"],
  ["fence", "wall"],
  ["woodEdge", "wood"],
]);
export const lineClass = (kind: Kind): LineClass | null => CLASS.get(kind) ?? null;

const BIT: Readonly<Record<LineClass, number>> = { way: 1, rail: 2, water: 4, shore: 8, wall: 16, wood: 32 };
/** The classes each class makes a place with. */
const MEETS: Readonly<Record<LineClass, number>> = {
  way: BIT.way | BIT.rail | BIT.water | BIT.shore | BIT.wall | BIT.wood,
  rail: BIT.way | BIT.rail,
  water: BIT.way | BIT.water | BIT.shore,
  shore: BIT.way | BIT.water,
  wall: BIT.way | BIT.wall,
  wood: BIT.way,
};

/** An end this near a line reaches it: maps are drawn and simplified no better. */
const SNAP_M = 5;
/** Meetings this near each other are one place to a walker. */
export const MERGE_M = 10;
/** Lines that run together cross again and again at small angles: those are no places. */
const LEAST_DEG = 20;
/** Half the chord that gives a line's direction at a meeting. */
const CHORD_M = 10;

/** A line at a node: where on the line, and how many ways it leads off: 1 at its end, 2 else. */
export interface Arm {
  readonly line: FramedLine;
  readonly place: number;
  readonly arms: number;
}

export interface Node extends St {
  readonly members: readonly Arm[];
}

export interface Window {
  readonly minS: number;
  readonly maxS: number;
  readonly minT: number;
  readonly maxT: number;
}

interface Meeting extends St {
  readonly a: number;
  readonly placeA: number;
  readonly b: number;
  readonly placeB: number;
}

/** All nodes among lines within a window of the frame; other kinds than those of `lineClass` are passed over. */
export function nodesOf(lines: readonly FramedLine[], window: Window): Node[] {
  const met = meetingsOf(lines, window).filter((m) => isMeeting(m, lines));
  met.sort((x, y) => x.s - y.s);
  const used = new Uint8Array(met.length);
  const nodes: Node[] = [];
  for (let i = 0; i < met.length; i++) {
    if (used[i]) continue;
    const first = met[i] as Meeting;
    const members = new Map<number, number>();
    // Not by chains of nearness: only what is near the first.
    for (let j = i; j < met.length; j++) {
      const m = met[j] as Meeting;
      if (m.s - first.s > MERGE_M) break;
      if (used[j] || apartM(m, first) > MERGE_M) continue;
      used[j] = 1;
      if (!members.has(m.a)) members.set(m.a, m.placeA);
      if (!members.has(m.b)) members.set(m.b, m.placeB);
    }
    nodes.push({
      s: first.s,
      t: first.t,
      members: [...members].map(([index, place]) => armOf(lines[index] as FramedLine, place)),
    });
  }
  return nodes;
}

function armOf(line: FramedLine, place: number): Arm {
  if (isRing(line)) return { line, place, arms: 2 };
  const at = alongAt(line, place);
  return { line, place, arms: Number(at > MERGE_M) + Number(lengthOf(line) - at > MERGE_M) };
}

function isMeeting({ a, b, placeA, placeB }: Meeting, lines: readonly FramedLine[]): boolean {
  const [one, other] = [lines[a] as FramedLine, lines[b] as FramedLine];
  const alike = lineClass(one.line.kind) === lineClass(other.line.kind);
  const [armA, armB] = [armOf(one, placeA), armOf(other, placeB)];
  // Where one ends at another of its sort it branches off, at however small an angle.
  if (alike && (armA.arms <= 1 || armB.arms <= 1)) return true;
  // Streams run into each other; they do not cross.
  if (alike && lineClass(one.line.kind) === "water" && armA.arms === 2 && armB.arms === 2) return false;
  return (
    angleBetween(
      chordAt(one, alongAt(one, placeA), CHORD_M),
      chordAt(other, alongAt(other, placeB), CHORD_M),
    ) >= LEAST_DEG
  );
}

/** Every crossing of two segments, and every end within `SNAP_M` of another line, found by a sweep along s. */
function meetingsOf(lines: readonly FramedLine[], window: Window): Meeting[] {
  const of: number[] = [];
  const seg: number[] = []; // −1: the line's first end, −2: its last
  const [lowS, highS, lowT, highT]: [number[], number[], number[], number[]] = [[], [], [], []];
  const masks = lines.map(({ line }) => MEETS[lineClass(line.kind) as LineClass] ?? 0);
  const bits = lines.map(({ line }) => BIT[lineClass(line.kind) as LineClass] ?? 0);
  const add = (
    line: number,
    i: number,
    s0: number,
    t0: number,
    s1: number,
    t1: number,
    room: number,
  ): void => {
    const [a, b] = s0 < s1 ? [s0, s1] : [s1, s0];
    const [c, d] = t0 < t1 ? [t0, t1] : [t1, t0];
    if (b < window.minS || a > window.maxS || d < window.minT || c > window.maxT) return;
    of.push(line);
    seg.push(i);
    lowS.push(a - room);
    highS.push(b + room);
    lowT.push(c - room);
    highT.push(d + room);
  };
  lines.forEach((framed, k) => {
    if (bits[k] === 0 || framed.maxS < window.minS || framed.minS > window.maxS) return;
    if (framed.maxT < window.minT || framed.minT > window.maxT) return;
    const { st, count } = framed;
    for (let i = 0; i < 2 * count - 2; i += 2)
      add(k, i >> 1, st[i] as number, st[i + 1] as number, st[i + 2] as number, st[i + 3] as number, 0);
    if (isRing(framed)) return;
    for (const [end, i] of [
      [-1, 0],
      [-2, 2 * count - 2],
    ] as const) {
      const [s, t] = [st[i] as number, st[i + 1] as number];
      add(k, end, s, t, s, t, SNAP_M);
    }
  });
  const order = Uint32Array.from(of.keys()).sort((x, y) => (lowS[x] as number) - (lowS[y] as number));
  const met: Meeting[] = [];
  for (let x = 0; x < order.length; x++) {
    const i = order[x] as number;
    const reach = highS[i] as number;
    const [low, high, mask] = [lowT[i] as number, highT[i] as number, masks[of[i] as number] as number];
    for (let y = x + 1; y < order.length; y++) {
      const j = order[y] as number;
      if ((lowS[j] as number) > reach) break;
      if ((lowT[j] as number) > high || (highT[j] as number) < low || of[i] === of[j]) continue;
      if (!(mask & (bits[of[j] as number] as number))) continue;
      const meeting =
        (seg[i] as number) < 0
          ? endAt(lines, of[i] as number, seg[i] as number, of[j] as number, seg[j] as number)
          : (seg[j] as number) < 0
            ? endAt(lines, of[j] as number, seg[j] as number, of[i] as number, seg[i] as number)
            : crossingAt(lines, of[i] as number, seg[i] as number, of[j] as number, seg[j] as number);
      if (meeting) met.push(meeting);
    }
  }
  return met;
}

/** An end of line `a` at a segment of line `b`. */
function endAt(lines: readonly FramedLine[], a: number, end: number, b: number, seg: number): Meeting | null {
  if (seg < 0) return null;
  const one = lines[a] as FramedLine;
  const placeA = end === -1 ? 0 : one.count - 1;
  const { s, t } = pointAt(one, placeA);
  const { st } = lines[b] as FramedLine;
  const s0 = st[2 * seg] as number;
  const t0 = st[2 * seg + 1] as number;
  const ds = (st[2 * seg + 2] as number) - s0;
  const dt = (st[2 * seg + 3] as number) - t0;
  const square = ds * ds + dt * dt;
  const f = square > 0 ? Math.min(1, Math.max(0, ((s - s0) * ds + (t - t0) * dt) / square)) : 0;
  if (Math.hypot(s - s0 - f * ds, t - t0 - f * dt) > SNAP_M) return null;
  return { s, t, a, placeA, b, placeB: seg + f };
}

function crossingAt(
  lines: readonly FramedLine[],
  a: number,
  i: number,
  b: number,
  j: number,
): Meeting | null {
  const p = (lines[a] as FramedLine).st;
  const q = (lines[b] as FramedLine).st;
  const [as, at] = [p[2 * i] as number, p[2 * i + 1] as number];
  const [ds, dt] = [(p[2 * i + 2] as number) - as, (p[2 * i + 3] as number) - at];
  const [cs, ct] = [q[2 * j] as number, q[2 * j + 1] as number];
  const [es, et] = [(q[2 * j + 2] as number) - cs, (q[2 * j + 3] as number) - ct];
  const cross = ds * et - dt * es;
  if (cross === 0) return null;
  const f = ((cs - as) * et - (ct - at) * es) / cross;
  const g = ((cs - as) * dt - (ct - at) * ds) / cross;
  if (f < 0 || f > 1 || g < 0 || g > 1) return null;
  return { s: as + f * ds, t: at + f * dt, a, placeA: i + f, b, placeB: j + g };
}
