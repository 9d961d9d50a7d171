/**
 * The least number of rectangles of one size that hold a line. In general nobody knows a quick way; so: a rectangle is taken along
 * the walk as far as it reaches, which is the least number in which each holds one unbroken stretch (and often fewer, since
 * what else falls on a sheet is not drawn again); then fewer are looked for among rectangles in the corners of what is left,
 * which finds the least of all up to three.
 */

/** A straight piece: x and y of its ends, and its place along the walk. */
export interface Piece {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  /** Where it begins along the walk, and how far it goes on: a whole piece counts 1. */
  readonly order: number;
  readonly span: number;
}

/** Lower left corner of a rectangle, and the pieces it was taken for. */
export interface Placed {
  readonly x: number;
  readonly y: number;
  readonly pieces: readonly Piece[];
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface Box {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
}

/** What is shorter than this share of a sheet is a rounding error, not walk. */
const NOTHING = 1e-9;
/** With more rectangles than this the search in corners takes too long: the way along the walk stands. */
const SEARCHED = 5;

export function boxOf(pieces: readonly Piece[]): Box {
  const box = { west: Infinity, south: Infinity, east: -Infinity, north: -Infinity };
  for (const { ax, ay, bx, by } of pieces) {
    box.west = Math.min(box.west, ax, bx);
    box.east = Math.max(box.east, ax, bx);
    box.south = Math.min(box.south, ay, by);
    box.north = Math.max(box.north, ay, by);
  }
  return box;
}

const fits = ({ west, south, east, north }: Box, { width, height }: Size): boolean =>
  east - west <= width * (1 + NOTHING) && north - south <= height * (1 + NOTHING);

/**
 * Rectangles that hold every piece, in order of the walk.
 * @param most more than so many are given up
 * @returns null when more would be needed
 */
export function cover(pieces: readonly Piece[], size: Size, most: number): Placed[] | null {
  const along = coverAlong(pieces, size, most);
  const bound = Math.min(SEARCHED, (along?.length ?? most + 1) - 1);
  for (let count = 1; count <= bound; count++) {
    const fewer = inCorners(pieces, size, count);
    if (fewer) return inOrder(fewer);
  }
  return along && inOrder(along);
}

function inOrder(placed: readonly Placed[]): Placed[] {
  const first = ({ pieces }: Placed): number => Math.min(...pieces.map(({ order }) => order));
  return placed.filter(({ pieces }) => pieces.length > 0).sort((a, b) => first(a) - first(b));
}

/** From the first place not yet held, as far along as one rectangle reaches; it is then moved to hold most of the rest. */
function coverAlong(pieces: readonly Piece[], size: Size, most: number): Placed[] | null {
  const placed: Placed[] = [];
  let left = [...pieces].sort((a, b) => a.order - b.order);
  while (left.length > 0) {
    if (placed.length >= most) return null;
    const reach = reachOf(left, size);
    const [x0, x1] = [reach.east - size.width, reach.west];
    const [y0, y1] = [reach.north - size.height, reach.south];
    let best: { readonly at: Placed; readonly rest: Piece[]; readonly length: number } | null = null;
    for (const x of [(x0 + x1) / 2, x0, x1])
      for (const y of [(y0 + y1) / 2, y0, y1]) {
        const { within, without } = split(left, { x, y }, size);
        const length = lengthOf(within);
        if (!best || length > best.length * (1 + 1e-9) + 1e-12)
          best = { at: { x, y, pieces: within }, rest: without, length };
      }
    if (!best || best.at.pieces.length === 0) return null;
    placed.push(best.at);
    left = best.rest;
  }
  return placed;
}

/** Box of the longest stretch from the first piece on that fits; the last piece is cut where it would no longer fit. */
function reachOf(left: readonly Piece[], size: Size): Box {
  const [first] = left as readonly [Piece];
  let box: Box = { west: first.ax, east: first.ax, south: first.ay, north: first.ay };
  for (const piece of left) {
    const whole = grown(grown(box, piece.ax, piece.ay), piece.bx, piece.by);
    if (fits(whole, size)) {
      box = whole;
      continue;
    }
    // The start of a stretch that does not hang together with what came before may lie too far off itself.
    const started = grown(box, piece.ax, piece.ay);
    if (!fits(started, size)) break;
    let [inside, outside] = [0, 1];
    for (let i = 0; i < 60; i++) {
      const t = (inside + outside) / 2;
      const [x, y] = [piece.ax + (piece.bx - piece.ax) * t, piece.ay + (piece.by - piece.ay) * t];
      if (fits(grown(started, x, y), size)) inside = t;
      else outside = t;
    }
    return grown(
      started,
      piece.ax + (piece.bx - piece.ax) * inside,
      piece.ay + (piece.by - piece.ay) * inside,
    );
  }
  return box;
}

const grown = (box: Box, x: number, y: number): Box => ({
  west: Math.min(box.west, x),
  east: Math.max(box.east, x),
  south: Math.min(box.south, y),
  north: Math.max(box.north, y),
});

/**
 * At most `count` rectangles, each in a corner of the box around what is left. Of up to three rectangles one can always be moved
 * into a corner: four sides of the box must be reached, so one reaches two of them; where those lie opposite each other the
 * sheet is as wide as all that is left, and the one at the end lies in a corner as well.
 */
function inCorners(left: readonly Piece[], size: Size, count: number): Placed[] | null {
  const box = boxOf(left);
  if (fits(box, size))
    return [
      {
        x: (box.west + box.east - size.width) / 2,
        y: (box.south + box.north - size.height) / 2,
        pieces: left,
      },
    ];
  if (count <= 1) return null;
  for (const x of [box.west, box.east - size.width])
    for (const y of [box.south, box.north - size.height]) {
      const { within, without } = split(left, { x, y }, size);
      if (within.length === 0) continue;
      if (without.length === 0) return [{ x, y, pieces: within }];
      const rest = inCorners(without, size, count - 1);
      if (rest) return [{ x, y, pieces: within }, ...rest];
    }
  return null;
}

/** What of each piece lies in a rectangle, edges included, and what does not. */
export function split(
  pieces: readonly Piece[],
  { x, y }: { readonly x: number; readonly y: number },
  { width, height }: Size,
): { readonly within: Piece[]; readonly without: Piece[] } {
  const within: Piece[] = [];
  const without: Piece[] = [];
  const [ex, ey] = [width * NOTHING, height * NOTHING];
  for (const piece of pieces) {
    const { ax, ay, bx, by, order, span } = piece;
    const [dx, dy] = [bx - ax, by - ay];
    let [from, to] = [0, 1];
    for (const [towards, room] of [
      [-dx, ax - x + ex],
      [dx, x + width + ex - ax],
      [-dy, ay - y + ey],
      [dy, y + height + ey - ay],
    ] as const) {
      if (towards === 0) {
        if (room < 0) to = -1;
      } else if (towards < 0) from = Math.max(from, room / towards);
      else to = Math.min(to, room / towards);
    }
    if (from > to) {
      without.push(piece);
      continue;
    }
    if (from <= 0 && to >= 1) {
      within.push(piece);
      continue;
    }
    const part = (a: number, b: number): Piece => ({
      ax: ax + dx * a,
      ay: ay + dy * a,
      bx: ax + dx * b,
      by: ay + dy * b,
      order: order + a * span,
      span: (b - a) * span,
    });
    const least = Math.max(ex, ey) / Math.max(Math.hypot(dx, dy), Number.MIN_VALUE);
    if (to - from > least) within.push(part(from, to));
    if (from > least) without.push(part(0, from));
    if (1 - to > least) without.push(part(to, 1));
  }
  return { within, without };
}

const lengthOf = (pieces: readonly Piece[]): number =>
  pieces.reduce((sum, { ax, ay, bx, by }) => sum + Math.hypot(bx - ax, by - ay), 0);
