/** Latitude and longitude along the neat line: short ticks at sensible steps, with their degrees and minutes. */
import { normalise180 } from "../../units/angle.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { lineShape, type PageItem, type PaperPoint } from "../page/page.ts";
import { type Edge, edgeAt } from "./clip-paper.ts";
import type { Label, Margin } from "./margin.ts";
import { BLACK } from "./set-text.ts";
import { alongNeatLine } from "./shown-grids.ts";

/** Steps in seconds of arc: seconds, minutes and degrees that divide the next unit evenly. */
const STEPS_S = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 18_000, 36_000, 108_000];
const COARSEST_S = 108_000;
/** Ticks are no closer on any edge than this, millimetres, measured as far as that edge goes. */
const CLOSEST_MM = 30;
const TICK_MM = 1.6;

export interface DegreeTick {
  readonly of: "latitude" | "longitude";
  /** Seconds of arc, east and north positive. */
  readonly seconds: number;
  readonly at: PaperPoint;
  readonly edge: Edge;
}

/** Ticks of longitude at the top and the bottom, of latitude at the sides; of both on all edges of a turned sheet. */
export function degreeTicks(frame: SheetFrame): DegreeTick[] {
  const around = alongNeatLine(frame);
  const closed = [...around, around[0] as [number, number]];
  const places = closed.map((at) => frame.toLonLat(at));
  // Longitudes counted on from one place to the next, so that ±180° is no jump.
  const lons: number[] = [];
  for (const [lon] of places) {
    const before = lons.at(-1);
    lons.push(before === undefined ? lon : before + normalise180(lon - before));
  }
  // Around a pole the longitudes do not come back to where they began: ticks there would tell nothing.
  const first = lons[0] as number;
  const closes = Math.abs((lons.at(-1) as number) - first) < 1;
  const lats = places.map(([, lat]) => lat);
  return [
    ...(closes ? ticksOf(frame, closed, "longitude", lons) : []),
    ...ticksOf(frame, closed, "latitude", lats),
  ];
}

function ticksOf(
  frame: SheetFrame,
  around: readonly PaperPoint[],
  of: DegreeTick["of"],
  degrees: readonly number[],
): DegreeTick[] {
  const span = Math.max(...degrees) - Math.min(...degrees);
  const { width, height } = frame.map;
  const longest = of === "longitude" ? width : height;
  const least = (span * 3600 * CLOSEST_MM) / longest;
  const step = STEPS_S.find((s) => s >= least) ?? COARSEST_S;
  const ticks: DegreeTick[] = [];
  for (let i = 1; i < degrees.length; i++) {
    const [a, b] = [(degrees[i - 1] as number) * 3600, (degrees[i] as number) * 3600];
    const k = Math.floor(Math.max(a, b) / step);
    if (a === b || k * step < Math.min(a, b)) continue;
    const seconds = k * step;
    const share = (seconds - a) / (b - a);
    const [from, to] = [around[i - 1] as PaperPoint, around[i] as PaperPoint];
    const at: PaperPoint = [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
    const edge = edgeAt(at[0], at[1], frame.map);
    if (!edge) continue;
    const sides = edge === "left" || edge === "right";
    if (frame.turnDeg === 0 && sides !== (of === "latitude")) continue;
    if (ticks.some((t) => t.seconds === seconds && t.edge === edge)) continue;
    ticks.push({ of, seconds, at, edge });
  }
  return ticks;
}

/** "47°" and "22′ N", "22′ 30″": whole degrees in full, between them only what changes. */
export function tickWords({ of, seconds }: Pick<DegreeTick, "of" | "seconds">, full: boolean): string[] {
  const around = of === "longitude" ? normalise180(seconds / 3600) * 3600 : seconds;
  const size = Math.round(Math.abs(around));
  const [d, m, s] = [Math.floor(size / 3600), Math.floor(size / 60) % 60, size % 60];
  const towards = of === "longitude" ? (around < 0 ? "W" : "E") : around < 0 ? "S" : "N";
  const two = (n: number): string => String(n).padStart(2, "0");
  const side = size === 0 || size === 648_000 ? "" : `\u00a0${towards}`;
  if (m === 0 && s === 0) return [`${d}°${side}`];
  const fine = `${two(m)}′${s === 0 ? "" : `\u00a0${two(s)}″`}`;
  return full ? [`${d}°`, `${fine}${side}`] : [fine];
}

/** Draws the ticks and puts the labels that have room; the first on an edge has its degrees. */
export function putDegreeTicks(frame: SheetFrame, margin: Margin): PageItem[] {
  const items: PageItem[] = [];
  const full = new Set<string>();
  for (const tick of degreeTicks(frame)) {
    const { at, edge, of } = tick;
    const [dx, dy] = { left: [1, 0], right: [-1, 0], top: [0, 1], bottom: [0, -1] }[edge] as [number, number];
    items.push({
      kind: "shape",
      shape: lineShape(at, [at[0] + dx * TICK_MM, at[1] + dy * TICK_MM]),
      stroke: { ink: BLACK, widthMm: 0.3 },
    });
    const key = `${of} ${edge}`;
    const words = tickWords(tick, !full.has(key));
    const beside = edge === "left" || edge === "right";
    const label: Label = (beside ? words : [words.join(" ")]).map((text) => [{ text, look: { pt: 7 } }]);
    if (margin.put(label, at, edge)) full.add(key);
  }
  return items;
}
