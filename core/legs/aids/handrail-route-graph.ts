/**
 * The lines around a leg as a graph to be walked along: vertices every so many metres on every line that can be followed,
 * one for all lines where they meet. Lines that touch nothing stay apart, but for gaps of 30 m at their ends.
 */
import type { Kind } from "../../map/kinds.ts";
import { isUnderground } from "../crossings/crossing-detail.ts";
import { followedSurely } from "../line-kinds.ts";
import {
  alongAt,
  apartM,
  isRing,
  lengthOf,
  meets,
  nearestPlace,
  placeAlong,
  pointAlong,
  pointAt,
  type St,
} from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";
import { lineClass, nodesOf, type Window } from "./line-meetings.ts";

export interface Edge {
  readonly to: number;
  /** Null for a gap from one line to the next, walked straight. */
  readonly line: FramedLine | null;
  readonly fromM: number;
  readonly toM: number;
  readonly lengthM: number;
}

export interface Vertex extends St {
  /** Where one knows where one is: a junction, a crossing, the end of a line. */
  readonly place: boolean;
  /** A line through it, for the angle at which one comes to it. */
  readonly line: FramedLine;
  readonly alongM: number;
  readonly edges: Edge[];
}

/** A gap a walker crosses without losing the line, as for handrails. */
const GAP_M = 30;
/** What is not crossed but by a path or road, with its bridge or ford. */
const BARS: ReadonlySet<Kind> = new Set<Kind>(["cliff", "restricted", "shore", "river"]);
/** Segments in one piece of a line: few, so that its box says much. */
const PIECE = 12;

/** What bars straight ways within a window, cut into pieces with boxes of their own, to ask often what crosses them. */
export function barsIn(lines: readonly FramedLine[], window: Window): FramedLine[] {
  const pieces: FramedLine[] = [];
  for (const framed of lines) {
    if (!BARS.has(framed.line.kind) || !isIn(framed, window)) continue;
    for (let i = 0; i + 1 < framed.count; i += PIECE) {
      const st = framed.st.subarray(2 * i, 2 * Math.min(framed.count, i + PIECE + 1));
      let [minS, maxS, minT, maxT] = [Infinity, -Infinity, Infinity, -Infinity];
      for (let k = 0; k < st.length; k += 2) {
        minS = Math.min(minS, st[k] as number);
        maxS = Math.max(maxS, st[k] as number);
        minT = Math.min(minT, st[k + 1] as number);
        maxT = Math.max(maxT, st[k + 1] as number);
      }
      const piece = { line: framed.line, st, count: st.length >> 1, minS, maxS, minT, maxT };
      if (isIn(piece, window)) pieces.push(piece);
    }
  }
  return pieces;
}

const isIn = (l: FramedLine, w: Window): boolean =>
  l.maxS >= w.minS && l.minS <= w.maxS && l.maxT >= w.minT && l.minT <= w.maxT;

/**
 * @param bars what of `barsIn` no line but a path or road may cross
 * @param stepM distance between vertices
 * @param ends the leg's start and target: each line gets a vertex where it comes nearest to them
 * @param within whether a point is worth looking at
 */
export function routeGraph(
  lines: readonly FramedLine[],
  bars: readonly FramedLine[],
  window: Window,
  stepM: number,
  ends: readonly St[],
  within: (at: St) => boolean,
): Vertex[] {
  const followed = lines.filter(
    (l) => followedSurely(l.line.kind) > 0 && !isUnderground(l.line) && isIn(l, window),
  );
  const vertices: Vertex[] = [];
  const breaks = new Map<FramedLine, Map<number, number>>();
  const breaksOf = (line: FramedLine): Map<number, number> => {
    let known = breaks.get(line);
    if (!known) breaks.set(line, (known = new Map()));
    return known;
  };
  for (const node of nodesOf(followed, window)) {
    const [first] = node.members;
    if (!first || !within(node)) continue;
    const id = vertices.length;
    vertices.push({
      s: node.s,
      t: node.t,
      place: node.members.reduce((n, { arms }) => n + arms, 0) !== 2,
      line: first.line,
      alongM: alongAt(first.line, first.place),
      edges: [],
    });
    for (const { line, place } of node.members) breaksOf(line).set(alongAt(line, place), id);
  }
  const nodeCount = vertices.length;
  for (const line of followed) addLine(line, breaksOf(line), vertices, { window, stepM, ends, within, bars });
  addGaps(vertices, nodeCount, followed, breaks);
  return vertices;
}

interface Adding {
  readonly window: Window;
  readonly stepM: number;
  readonly ends: readonly St[];
  readonly within: (at: St) => boolean;
  readonly bars: readonly FramedLine[];
}

function addLine(
  line: FramedLine,
  known: Map<number, number>,
  vertices: Vertex[],
  { window, stepM, ends, within, bars }: Adding,
): void {
  const totalM = lengthOf(line);
  /** How far a point lies outside the window, at least; 0 inside. */
  const outM = ({ s, t }: St): number =>
    Math.max(0, window.minS - s, s - window.maxS, window.minT - t, t - window.maxT);
  const nodes = Float64Array.from(known.keys()).sort();
  /** @returns how far on along the line nothing can be added */
  const add = (m: number): number => {
    const at = pointAlong(line, m);
    const out = outM(at);
    if (out > 0 || !within(at) || known.has(m)) return out;
    const isEnd = (m === 0 || m === totalM) && !isRing(line);
    if (isBy(nodes, m, isEnd ? 10 : stepM / 3)) return 0;
    known.set(m, vertices.length);
    vertices.push({ ...at, place: isEnd, line, alongM: m, edges: [] });
    return 0;
  };
  for (const end of ends) add(alongAt(line, nearestPlace(line, end).place));
  const steps = Math.max(1, Math.round(totalM / stepM));
  for (let i = 0; i <= steps; i++) i += Math.floor((add((totalM * i) / steps) * steps) / totalM);
  const order = [...known].sort((a, b) => a[0] - b[0]);
  const way = lineClass(line.line.kind) === "way";
  const own = way
    ? []
    : bars.filter(
        (bar) =>
          bar.line.kind !== line.line.kind &&
          bar.maxS >= line.minS &&
          bar.minS <= line.maxS &&
          bar.maxT >= line.minT &&
          bar.minT <= line.maxT,
      );
  for (let i = 1; i < order.length; i++) {
    const [[fromM, from], [toM, to]] = [order[i - 1], order[i]] as [[number, number], [number, number]];
    // A line that leaves the window and comes back has a hole here.
    if (toM - fromM > 1.6 * stepM || from === to) continue;
    const [a, b] = [vertices[from] as Vertex, vertices[to] as Vertex];
    if (own.some((bar) => meets(bar, a, b))) continue;
    const lengthM = toM - fromM;
    a.edges.push({ to, line, fromM, toM, lengthM });
    b.edges.push({ to: from, line, fromM: toM, toM: fromM, lengthM });
  }
}

/** Whether one of these, in rising order, lies within a distance of another. */
function isBy(sorted: Float64Array, m: number, roomM: number): boolean {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] as number) > m - roomM) high = middle;
    else low = middle + 1;
  }
  return low < sorted.length && (sorted[low] as number) < m + roomM;
}

/** From the loose ends of lines to what lies within a gap's reach. */
function addGaps(
  vertices: readonly Vertex[],
  nodeCount: number,
  followed: readonly FramedLine[],
  breaks: ReadonlyMap<FramedLine, ReadonlyMap<number, number>>,
): void {
  for (const line of followed) {
    if (isRing(line)) continue;
    for (const place of [0, line.count - 1]) {
      const from = breaks.get(line)?.get(alongAt(line, place));
      // An end at a node is not loose.
      if (from === undefined || from < nodeCount) continue;
      const a = vertices[from] as Vertex;
      const end = pointAt(line, place);
      let best: { to: number; lengthM: number } | null = null;
      for (let to = 0; to < vertices.length; to++) {
        const b = vertices[to] as Vertex;
        if (Math.abs(b.s - end.s) > GAP_M || Math.abs(b.t - end.t) > GAP_M || b.line === line) continue;
        const lengthM = apartM(a, b);
        if (lengthM <= GAP_M && (!best || lengthM < best.lengthM)) best = { to, lengthM };
      }
      if (!best) continue;
      a.edges.push({ to: best.to, line: null, fromM: 0, toM: 0, lengthM: best.lengthM });
      (vertices[best.to] as Vertex).edges.push({
        to: from,
        line: null,
        fromM: 0,
        toM: 0,
        lengthM: best.lengthM,
      });
    }
  }
}

/** The points of an edge from its beginning to its end, s, t, s, t … without the first. */
export function edgePoints(edge: Edge, to: St): number[] {
  if (!edge.line) return [to.s, to.t];
  const { st } = edge.line;
  const [a, b] = [placeAlong(edge.line, edge.fromM), placeAlong(edge.line, edge.toM)];
  const points: number[] = [];
  if (b > a)
    for (let i = Math.floor(a) + 1; i < b; i++) points.push(st[2 * i] as number, st[2 * i + 1] as number);
  else for (let i = Math.ceil(a) - 1; i > b; i--) points.push(st[2 * i] as number, st[2 * i + 1] as number);
  points.push(to.s, to.t);
  return points;
}
