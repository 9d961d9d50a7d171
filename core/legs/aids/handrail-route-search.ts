/**
 * The safest way along lines: Dijkstra's algorithm from the start of a leg to its target over the graph of lines, with a
 * straight way to any vertex first and from any vertex last. A metre along a line costs one over the square of how
 * surely it is followed; a metre without costs more the longer the stretch, because drift grows with it; a metre of climb
 * costs eight on the flat (Naismith's rule). The other figures are our own choice, no source.
 */
import FlatQueue from "flatqueue";
import { DEG } from "../../units/angle.ts";
import { followedSurely, stopsSurely } from "../line-kinds.ts";
import { angleBetween, apartM, chordAt, meets, type St } from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";
import type { Edge, Vertex } from "./handrail-route-graph.ts";

/** One step of a way: along an edge, or straight where `edge` is null. */
export interface Step {
  readonly from: St;
  readonly to: St;
  readonly edge: Edge | null;
}

export interface Search {
  readonly start: St;
  readonly target: St;
  readonly vertices: readonly Vertex[];
  /** Pieces of lines no straight way may cross. */
  readonly bars: readonly FramedLine[];
  readonly heightAt: ((at: St) => number) | null;
  /** What a stretch without a line costs, times this: less makes shorter ways. */
  readonly unaided: number;
}

const CLIMB = 8;
/** Cost of a metre without a line, and how it grows with the stretch: at 120 m it is half as much again. */
const UNAIDED = 2.5;
const GROWS_M = 100;
/** A line that stops who comes to it takes away most of what drift does. */
const STOPPED = 0.3;
const ACROSS_DEG = 30;
/** To leave a line where nothing marks the place takes counting paces. */
const UNMARKED = 60;
const STEEP = Math.tan(35 * DEG);

/** The cheapest way as steps, or null when no line can be joined and left. */
export function cheapestWay(search: Search): Step[] | null {
  const { start, target, vertices, heightAt } = search;
  const n = vertices.length;
  const goal = n;
  const cost = new Float64Array(n + 1).fill(Infinity);
  const came = new Int32Array(n + 1).fill(-2); // −1: straight from the start
  const by: (Edge | null)[] = Array.from({ length: n + 1 }, () => null);
  const done = new Uint8Array(n + 1);
  const heights = vertices.map((v) => (heightAt ? heightAt(v) : NaN));
  const [startH, targetH] = heightAt ? [heightAt(start), heightAt(target)] : [NaN, NaN];
  const climb = (from: number, to: number): number => (to > from ? CLIMB * (to - from) : 0);
  const bare = (m: number, share: number): number =>
    search.unaided * (UNAIDED * m + (share * m * m) / GROWS_M);

  /** Entries of the queue: a vertex reached along a line, or a straight way still to be looked at. */
  const queue = new FlatQueue();
  const straights: { from: number; to: number; cost: number }[] = [];
  const tryStraight = (from: number, to: number, whole: number): void => {
    if (whole >= (cost[to] as number)) return;
    straights.push({ from, to, cost: whole });
    queue.push(-straights.length, whole);
  };
  vertices.forEach((v, i) => {
    const m = apartM(start, v);
    const { kind } = v.line.line;
    const across =
      m > 0 &&
      angleBetween(chordAt(v.line, v.alongM, 15), { s: v.s - start.s, t: v.t - start.t }) >= ACROSS_DEG;
    const share = across ? 1 - (1 - STOPPED) * stopsSurely(kind) : 1;
    tryStraight(-1, i, bare(m, share) + climb(startH, heights[i] as number));
  });
  for (let id = queue.pop(); id !== undefined; id = queue.pop()) {
    if (id < 0) {
      const { from, to, cost: whole } = straights[-id - 1] as (typeof straights)[number];
      if (whole >= (cost[to] as number)) continue;
      if (
        !isClear(
          search,
          from < 0 ? start : (vertices[from] as Vertex),
          to === goal ? target : (vertices[to] as Vertex),
        )
      )
        continue;
      cost[to] = whole;
      came[to] = from;
      by[to] = null;
      queue.push(to, whole);
      continue;
    }
    if (done[id]) continue;
    done[id] = 1;
    if (id === goal) return stepsTo(goal, search, came, by);
    const here = vertices[id] as Vertex;
    const whole = cost[id] as number;
    const leaveM = apartM(here, target);
    // Straight to the vertex and straight on is no way along lines.
    if (by[id] !== null || came[id] !== -1)
      tryStraight(
        id,
        goal,
        whole +
          bare(leaveM, 1) +
          (here.place || leaveM < 30 ? 0 : UNMARKED) +
          climb(heights[id] as number, targetH),
      );
    for (const edge of here.edges) {
      if (done[edge.to]) continue;
      const next =
        whole +
        climb(heights[id] as number, heights[edge.to] as number) +
        (edge.line ? edge.lengthM / followedSurely(edge.line.line.kind) ** 2 : bare(edge.lengthM, 1));
      if (next >= (cost[edge.to] as number)) continue;
      cost[edge.to] = next;
      came[edge.to] = id;
      by[edge.to] = edge;
      queue.push(edge.to, next);
    }
  }
  return null;
}

function stepsTo(
  goal: number,
  { start, target, vertices }: Search,
  came: Int32Array,
  by: readonly (Edge | null)[],
): Step[] {
  const steps: Step[] = [];
  for (let id = goal; id >= 0; id = came[id] as number) {
    const before = came[id] as number;
    steps.push({
      from: before < 0 ? start : (vertices[before] as Vertex),
      to: id === goal ? target : (vertices[id] as Vertex),
      edge: by[id] ?? null,
    });
  }
  return steps.toReversed();
}

/** Whether a straight way crosses nothing barred and nothing too steep. Its ends may lie on what they are named after. */
function isClear({ bars, heightAt }: Search, from: St, to: St): boolean {
  const m = apartM(from, to);
  if (m < 1) return true;
  const trim = Math.min(5, m / 3) / m;
  const at = (f: number): St => ({ s: from.s + f * (to.s - from.s), t: from.t + f * (to.t - from.t) });
  const [a, b] = [at(trim), at(1 - trim)];
  if (bars.some((bar) => meets(bar, a, b))) return false;
  if (!heightAt) return true;
  const steps = Math.max(1, Math.round(m / 20));
  let before = heightAt(from);
  for (let i = 1; i <= steps; i++) {
    const here = heightAt(at(i / steps));
    if (Math.abs(here - before) > (STEEP * m) / steps) return false;
    before = here;
  }
  return true;
}
