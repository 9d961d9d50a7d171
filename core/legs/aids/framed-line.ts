/**
 * Lines laid into a leg's frame. A place on a line is one number: whole part the vertex before it, fraction the way
 * to the next vertex. Metres and degrees are interpolated alike, which on segments of a map line agrees to millimetres.
 */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { LineFeature } from "../../map/features.ts";

export interface FramedLine {
  readonly line: LineFeature;
  /** s, t, s, t … metres in the leg's frame; as many pairs as the line has positions. */
  readonly st: Float64Array;
  readonly count: number;
  readonly minS: number;
  readonly maxS: number;
  readonly minT: number;
  readonly maxT: number;
}

/** The lines in the frame of a leg; lines with fewer than two positions are left out. */
export function frameLines(frame: LegFrame, lines: readonly LineFeature[]): FramedLine[] {
  const framed: FramedLine[] = [];
  for (const line of lines) {
    const count = line.coords.length >> 1;
    if (count < 2) continue;
    const st = new Float64Array(2 * count);
    frame.project(line.coords, 0, count, st);
    let [minS, maxS, minT, maxT] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let i = 0; i < 2 * count; i += 2) {
      const s = st[i] as number;
      const t = st[i + 1] as number;
      if (s < minS) minS = s;
      if (s > maxS) maxS = s;
      if (t < minT) minT = t;
      if (t > maxT) maxT = t;
    }
    framed.push({ line, st, count, minS, maxS, minT, maxT });
  }
  return framed;
}

/** The nearest place on a line to a point of the frame, and how far off it is, metres. */
export function nearestOn(
  { st, count }: Pick<FramedLine, "st" | "count">,
  s: number,
  t: number,
): { readonly place: number; readonly offM: number } {
  let [best, place] = [Infinity, 0];
  for (let i = 0; i + 1 < count; i++) {
    const s0 = st[2 * i] as number;
    const t0 = st[2 * i + 1] as number;
    const ds = (st[2 * i + 2] as number) - s0;
    const dt = (st[2 * i + 3] as number) - t0;
    const square = ds * ds + dt * dt;
    const f = square > 0 ? Math.min(1, Math.max(0, ((s - s0) * ds + (t - t0) * dt) / square)) : 0;
    const es = s - s0 - f * ds;
    const et = t - t0 - f * dt;
    const off = es * es + et * et;
    if (off < best) {
      best = off;
      place = i + f;
    }
  }
  return { place, offM: Math.sqrt(best) };
}

/** Nearest distance from a point of the frame to a line, metres. */
export const distanceToLine = (line: Pick<FramedLine, "st" | "count">, s: number, t: number): number =>
  nearestOn(line, s, t).offM;

/** The part of a line between two places on it, longitude, latitude …; at least two positions. */
export function sliceLine({ line: { coords }, count }: FramedLine, from: number, to: number): Float64Array {
  const at = (place: number): [number, number] => {
    const i = Math.min(count - 2, Math.max(0, Math.floor(place)));
    const f = place - i;
    const lon = coords[2 * i] as number;
    const lat = coords[2 * i + 1] as number;
    return [lon + f * ((coords[2 * i + 2] as number) - lon), lat + f * ((coords[2 * i + 3] as number) - lat)];
  };
  const out: number[] = [...at(from)];
  for (let i = Math.floor(from) + 1; i < to; i++)
    out.push(coords[2 * i] as number, coords[2 * i + 1] as number);
  out.push(...at(to));
  return Float64Array.from(out);
}

/** Lines that are one thing on the ground: the same kind, and the same name or, without names, meeting end to end. */
export function joinLines(lines: readonly FramedLine[]): FramedLine[][] {
  // Parts of one line meet exactly, but for the rounding of tile coordinates.
  const TOUCH_M = 2;
  const groups: FramedLine[][] = [];
  for (const next of lines) {
    const own = groups.filter((group) => group.some((other) => sameThing(other, next, TOUCH_M)));
    for (const group of own) groups.splice(groups.indexOf(group), 1);
    groups.push([...own.flat(), next]);
  }
  return groups;
}

function sameThing(a: FramedLine, b: FramedLine, touchM: number): boolean {
  if (a.line.kind !== b.line.kind || a.line.name !== b.line.name) return false;
  if (a.line.name !== null) return true;
  return lineEnds(a).some(([s, t]) => lineEnds(b).some(([s1, t1]) => Math.hypot(s - s1, t - t1) <= touchM));
}

const lineEnds = ({ st, count }: FramedLine): [[number, number], [number, number]] => [
  [st[0] as number, st[1] as number],
  [st[2 * count - 2] as number, st[2 * count - 1] as number],
];
