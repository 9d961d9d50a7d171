/**
 * Lines cut to the window of one tile, so that what neighbouring tiles repeat in their buffers comes once.
 * The window is half-open: what runs exactly along its right or lower edge belongs to the neighbour there.
 */

export interface Window {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export interface Vertex {
  readonly x: number;
  readonly y: number;
}

/** x, y, x, y … in tile units: at least two distinct positions, none twice running. */
export type Piece = number[];

export function isInside(w: Window, x: number, y: number): boolean {
  return x > w.x0 && x < w.x1 && y > w.y0 && y < w.y1;
}

/**
 * The pieces of a line within a window.
 * @param ring the line is an area's edge, closed: stretches along any edge of the window are dropped, because there a
 * tile's own cut cannot be told from the area's edge, and pieces that meet where the ring begins are joined
 */
export function clipLine(line: readonly Vertex[], w: Window, ring: boolean): Piece[] {
  const pieces: Piece[] = [];
  let piece: Piece | null = null;
  let a = line[0];
  if (!a) return pieces;
  let aInside = isInside(w, a.x, a.y);
  for (let i = 1; i < line.length; i++) {
    const b = line[i] as Vertex;
    const bInside = isInside(w, b.x, b.y);
    // Most of a line lies well inside: nothing is cut, so nothing is compared but whether it goes on from the last.
    if (aInside && bInside) {
      if (b.x !== a.x || b.y !== a.y) {
        if (piece) piece.push(b.x, b.y);
        else pieces.push((piece = [a.x, a.y, b.x, b.y]));
      }
    } else piece = cutAt(pieces, piece, a, b, w, ring);
    a = b;
    aInside = bInside;
  }
  return ring ? joinWhereRingBegins(pieces, line) : pieces;
}

/** Adds what of a segment lies within the window; returns the piece the next segment may go on with, null for none. */
function cutAt(
  pieces: Piece[],
  piece: Piece | null,
  a: Vertex,
  b: Vertex,
  w: Window,
  ring: boolean,
): Piece | null {
  const cut = clipSegment(a.x, a.y, b.x, b.y, w);
  if (!cut || alongEdge(cut, w, ring)) return null;
  const [ax, ay, bx, by] = cut;
  // It only touches the window from outside, or is no segment.
  if (ax === bx && ay === by) return a.x !== b.x || a.y !== b.y ? null : piece;
  let whole = piece;
  if (whole && whole[whole.length - 2] === ax && whole[whole.length - 1] === ay) whole.push(bx, by);
  else pieces.push((whole = [ax, ay, bx, by]));
  return bx !== b.x || by !== b.y ? null : whole;
}

function joinWhereRingBegins(pieces: Piece[], line: readonly Vertex[]): Piece[] {
  const first = pieces[0];
  const last = pieces.at(-1);
  const start = line[0];
  if (!first || !last || !start || first === last) return pieces;
  const meets =
    first[0] === start.x && first[1] === start.y && last.at(-2) === start.x && last.at(-1) === start.y;
  return meets ? [[...last, ...first.slice(2)], ...pieces.slice(1, -1)] : pieces;
}

/** Liang–Barsky (ACM Transactions on Graphics 3 (1984) 1–22), ends snapped exactly onto the window's edges. */
function clipSegment(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  w: Window,
): [number, number, number, number] | null {
  const dx = bx - ax;
  const dy = by - ay;
  let enter = 0;
  let leave = 1;
  let enterEdge = -1;
  let leaveEdge = -1;
  for (let edge = 0; edge < 4; edge++) {
    const p = edge === 0 ? -dx : edge === 1 ? dx : edge === 2 ? -dy : dy;
    const q = edge === 0 ? ax - w.x0 : edge === 1 ? w.x1 - ax : edge === 2 ? ay - w.y0 : w.y1 - ay;
    if (p === 0) {
      if (q < 0) return null;
      continue;
    }
    const at = q / p;
    if (p < 0) {
      if (at > leave) return null;
      if (at > enter) [enter, enterEdge] = [at, edge];
    } else {
      if (at < enter) return null;
      if (at < leave) [leave, leaveEdge] = [at, edge];
    }
  }
  const [sx, sy] = enterEdge < 0 ? [ax, ay] : snapped(ax + enter * dx, ay + enter * dy, enterEdge, w);
  const [ex, ey] = leaveEdge < 0 ? [bx, by] : snapped(ax + leave * dx, ay + leave * dy, leaveEdge, w);
  return [sx, sy, ex, ey];
}

function snapped(x: number, y: number, edge: number, w: Window): [number, number] {
  if (edge === 0) return [w.x0, y];
  if (edge === 1) return [w.x1, y];
  return [x, edge === 2 ? w.y0 : w.y1];
}

function alongEdge(
  [ax, ay, bx, by]: readonly [number, number, number, number],
  w: Window,
  anyEdge: boolean,
): boolean {
  if ((ax === w.x1 && bx === w.x1) || (ay === w.y1 && by === w.y1)) return true;
  return anyEdge && ((ax === w.x0 && bx === w.x0) || (ay === w.y0 && by === w.y0));
}

/** Joins pieces of one feature that meet end to end inside the window: a closed line begins somewhere. */
export function joinPieces(pieces: Piece[], w: Window): Piece[] {
  if (pieces.length < 2) return pieces;
  const startingAt = new Map<string, Piece>();
  for (const piece of pieces) {
    const [x, y] = piece as [number, number];
    if (isInside(w, x, y)) startingAt.set(`${x} ${y}`, piece);
  }
  const gone = new Set<Piece>();
  for (const piece of pieces) {
    if (gone.has(piece)) continue;
    for (;;) {
      const next = startingAt.get(`${piece.at(-2)} ${piece.at(-1)}`);
      if (!next || next === piece || gone.has(next)) break;
      for (let i = 2; i < next.length; i++) piece.push(next[i] as number);
      gone.add(next);
    }
  }
  return pieces.filter((piece) => !gone.has(piece));
}
