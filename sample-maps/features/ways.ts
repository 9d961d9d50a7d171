/** Road, tracks and paths: routes between places laid over each other into one network, cut where ways meet. */
import { eastOf, northOf } from "../terrain/height-grid.ts";
import { octaveNoise } from "../terrain/noise.ts";
import { MAP_EAST_M, MAP_NORTH_M, type Place } from "../terrain/recipe.ts";
import { leastCostRoute, markUsed, type RouteTaste, type UsedSteps } from "./least-cost-route.ts";
import { apart, eased, rounded, simplified, type Line } from "./line-shape.ts";
import type { RouteGround } from "./route-ground.ts";

export type WayClass = "road" | "track" | "path";

export interface WayPlan {
  readonly class: WayClass;
  readonly name: string | null;
  /** Places to pass; the first and the last may instead be wherever an earlier way is nearest to them. */
  readonly via: readonly Place[];
  readonly joins?: { readonly start?: boolean; readonly end?: boolean };
}

export interface Way {
  readonly class: WayClass;
  readonly name: string | null;
  readonly line: Line;
}

export interface WayNetwork {
  readonly ways: readonly Way[];
  /** Places where three or more ways meet. */
  readonly junctions: readonly Place[];
}

const TASTES: Record<WayClass, RouteTaste> = {
  road: { grade: 0.05, turnM: 60, sideSlope: 5 },
  track: { grade: 0.09, turnM: 40, sideSlope: 2.5 },
  path: { grade: 0.15, turnM: 26, sideSlope: 0.6 },
};

interface Edge {
  readonly class: WayClass;
  readonly name: string | null;
}

/** Plans come in order: later ways join earlier ones where that is easy. */
export function layWays(ground: RouteGround, plans: readonly WayPlan[], seed: number): WayNetwork {
  const edges = new Map<number, Edge>();
  const near = new Map<number, Set<number>>();
  const used: UsedSteps = new Uint16Array(ground.grid.z.length);
  const key = (a: number, b: number): number => Math.min(a, b) * 1e6 + Math.max(a, b);
  const centre = (cell: number): Place => centreOf(ground, cell);
  const onWay = (place: Place): Place =>
    [...near.keys()].map(centre).reduce((a, b) => (apart(b, place) < apart(a, place) ? b : a));
  for (const plan of plans) {
    const via = plan.via.map((place, i) =>
      (i === 0 && plan.joins?.start) || (i === plan.via.length - 1 && plan.joins?.end) ? onWay(place) : place,
    );
    for (let i = 1; i < via.length; i++) {
      const cells = leastCostRoute(ground, via[i - 1] as Place, via[i] as Place, TASTES[plan.class], used);
      if (!cells) throw new Error(`No way from ${via[i - 1]?.join()} to ${via[i]?.join()} (${plan.name})`);
      for (let k = 1; k < cells.length; k++) {
        const a = cells[k - 1] as number;
        const b = cells[k] as number;
        if (edges.has(key(a, b))) continue;
        markUsed(used, ground.grid.columns, a, b);
        edges.set(key(a, b), { class: plan.class, name: plan.name });
        (near.get(a) ?? near.set(a, new Set()).get(a))?.add(b);
        (near.get(b) ?? near.set(b, new Set()).get(b))?.add(a);
      }
    }
  }
  return chained(ground, edges, near, key, seed);
}

const centreOf = ({ grid }: RouteGround, cell: number): Place => [
  eastOf(grid, cell % grid.columns),
  northOf(grid, Math.floor(cell / grid.columns)),
];

/** No way runs dead straight: every place is moved a little, the same for all ways, so that they still meet. */
function strayed([east, north]: Place, seed: number): Place {
  // Less and less towards the sheet's edge, which no way may cross.
  const edgeM = Math.min(east, north, MAP_EAST_M - east, MAP_NORTH_M - north);
  const most = 15 * Math.min(1, Math.max(0, edgeM / 60));
  const by = (s: number): number => most * octaveNoise(s, east, north, 260, 2);
  return [east + by(seed), north + by(seed + 1)];
}

/** Grid steps made into a way: between steps there is room to stray, so the line is divided first. */
function shaped(cells: readonly Place[], kind: WayClass, seed: number): Place[] {
  const fine = cells.flatMap((place, i): Place[] => {
    const next = cells[i + 1];
    if (!next) return [place];
    return [0, 1, 2, 3].map((k): Place => [
      place[0] + ((next[0] - place[0]) * k) / 4,
      place[1] + ((next[1] - place[1]) * k) / 4,
    ]);
  });
  const soft = eased(fine, kind === "road" ? 24 : 8);
  return simplified(
    rounded(
      soft.map((place) => strayed(place, seed)),
      1,
    ),
    1.2,
  );
}

/** Edges joined into lines between junctions, ends, and changes of class or name; then shaped like ways. */
function chained(
  ground: RouteGround,
  edges: ReadonlyMap<number, Edge>,
  near: ReadonlyMap<number, ReadonlySet<number>>,
  key: (a: number, b: number) => number,
  seed: number,
): WayNetwork {
  const centre = (cell: number): Place => strayed(centreOf(ground, cell), seed);
  const edgeOf = (a: number, b: number): Edge => edges.get(key(a, b)) as Edge;
  const breaks = (cell: number): boolean => {
    const around = [...(near.get(cell) as ReadonlySet<number>)];
    if (around.length !== 2) return true;
    const [a, b] = around.map((other) => edgeOf(cell, other)) as [Edge, Edge];
    return a.class !== b.class || a.name !== b.name;
  };
  const ways: Way[] = [];
  const taken = new Set<number>();
  const junctions: Place[] = [];
  for (const [cell, around] of near) {
    if (around.size > 2) junctions.push(centre(cell));
    if (!breaks(cell)) continue;
    for (const first of around) {
      if (taken.has(key(cell, first))) continue;
      const cells = [cell, first];
      taken.add(key(cell, first));
      while (!breaks(cells[cells.length - 1] as number)) {
        const here = cells[cells.length - 1] as number;
        const next = [...(near.get(here) as ReadonlySet<number>)].find(
          (other) => other !== cells[cells.length - 2],
        ) as number;
        taken.add(key(here, next));
        cells.push(next);
      }
      const { class: kind, name } = edgeOf(cell, first);
      ways.push({
        class: kind,
        name,
        line: shaped(
          cells.map((c) => centreOf(ground, c)),
          kind,
          seed,
        ),
      });
    }
  }
  return { ways, junctions };
}
