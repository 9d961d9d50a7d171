/** Lines on paper cut to a rectangle, and to the part of the ground where something holds. */
import type { Rect } from "../page/page.ts";

export type PaperSegment = readonly [ax: number, ay: number, bx: number, by: number];

/** The part of a segment within a rectangle, edges included (Liang and Barsky); null when there is none. */
export function clipSegment([ax, ay, bx, by]: PaperSegment, rect: Rect): PaperSegment | null {
  const [dx, dy] = [bx - ax, by - ay];
  let [from, to] = [0, 1];
  const edges = [
    [-dx, ax - rect.x],
    [dx, rect.x + rect.width - ax],
    [-dy, ay - rect.y],
    [dy, rect.y + rect.height - ay],
  ] as const;
  for (const [towards, room] of edges) {
    if (towards === 0) {
      if (room < 0) return null;
      continue;
    }
    const t = room / towards;
    if (towards < 0) from = Math.max(from, t);
    else to = Math.min(to, t);
  }
  if (from > to) return null;
  return [ax + dx * from, ay + dy * from, ax + dx * to, ay + dy * to];
}

/** The pieces of a line (x, y, x, y …) within a rectangle, none of them a mere point. */
export function clipPolyline(line: Float64Array, rect: Rect): Float64Array[] {
  const pieces: number[][] = [];
  let open: number[] | null = null;
  for (let i = 2; i < line.length; i += 2) {
    const cut = clipSegment(
      [line[i - 2] as number, line[i - 1] as number, line[i] as number, line[i + 1] as number],
      rect,
    );
    if (!cut) {
      open = null;
      continue;
    }
    const [ax, ay, bx, by] = cut;
    if (!open || open.at(-2) !== ax || open.at(-1) !== ay) pieces.push((open = [ax, ay]));
    open.push(bx, by);
  }
  return pieces
    .filter(
      (p) =>
        Math.hypot((p[0] as number) - (p.at(-2) as number), (p[1] as number) - (p.at(-1) as number)) > 1e-6,
    )
    .map((p) => Float64Array.from(p));
}

/**
 * The pieces of a line on which something holds, their ends found by halving to a millionth of a millimetre.
 * What changes twice between two positions of the line is missed: give it in steps that are short enough.
 */
export function clipWhere(line: Float64Array, holds: (x: number, y: number) => boolean): Float64Array[] {
  const pieces: number[][] = [];
  let open: number[] | null = null;
  for (let i = 0; i < line.length; i += 2) {
    const [x, y] = [line[i] as number, line[i + 1] as number];
    const inside = holds(x, y);
    if (i > 0 && inside !== (open !== null)) {
      let [ax, ay, bx, by] = [line[i - 2] as number, line[i - 1] as number, x, y];
      while (Math.hypot(bx - ax, by - ay) > 1e-6) {
        const [mx, my] = [(ax + bx) / 2, (ay + by) / 2];
        if (holds(mx, my) === inside) [bx, by] = [mx, my];
        else [ax, ay] = [mx, my];
      }
      if (open) open.push(ax, ay);
      else pieces.push((open = [bx, by]));
    } else if (i === 0 && inside) pieces.push((open = []));
    if (inside) open?.push(x, y);
    else open = null;
  }
  return pieces.filter((p) => p.length >= 4).map((p) => Float64Array.from(p));
}

export type Edge = "left" | "right" | "top" | "bottom";

/** The edge of the rectangle on which a place lies, within a thousandth of a millimetre; null when on none. */
export function edgeAt(x: number, y: number, rect: Rect): Edge | null {
  const near = (a: number, b: number): boolean => Math.abs(a - b) < 1e-3;
  if (near(y, rect.y)) return "top";
  if (near(y, rect.y + rect.height)) return "bottom";
  if (near(x, rect.x)) return "left";
  if (near(x, rect.x + rect.width)) return "right";
  return null;
}

export const boxesMeet = (a: Rect, b: Rect): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
