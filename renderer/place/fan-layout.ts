/** Where the labels of a fan of lines stand, so that none lies on another, and where a slip stands beside a place. Pure. */

export interface Spot {
  readonly x: number;
  readonly y: number;
}

export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export interface FanTarget extends Spot {
  readonly text: string;
}

export interface FanLine<T extends FanTarget> {
  readonly target: T;
  /** Where the line ends: at the target, or where it leaves the room. */
  readonly end: Spot;
  /** It goes on beyond the room. */
  readonly goesOn: boolean;
  /** Left end and middle of the label's height; null when there is no room for it. */
  readonly label: Spot | null;
  readonly width: number;
}

export interface FanRoom {
  readonly room: Box;
  readonly lineHeight: number;
  /** Panels and marks no label may lie on. */
  readonly taken: readonly Box[];
}

const meet = (a: Box, b: Box): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
const within = (a: Box, b: Box): boolean => a.x0 >= b.x0 && a.x1 <= b.x1 && a.y0 >= b.y0 && a.y1 <= b.y1;

const GAP = 8;
/** Along its line a label moves inward to where there is room. */
const SHARES = [1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3];

/** The share of a line from inside a box at which it leaves it; 1 when it does not. */
function leaves(from: Spot, to: Spot, box: Box): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const sides = [
    dx > 0 ? (box.x1 - from.x) / dx : dx < 0 ? (box.x0 - from.x) / dx : 1,
    dy > 0 ? (box.y1 - from.y) / dy : dy < 0 ? (box.y0 - from.y) / dy : 1,
  ];
  return Math.max(0, Math.min(1, ...sides));
}

/**
 * Lines from a place to each target, cut at the room's edge, and their labels; the first targets get the best places. With
 * the place itself outside the room lines go to their targets and have no labels.
 */
export function fanLines<T extends FanTarget>(
  from: Spot,
  targets: readonly T[],
  widthOf: (text: string) => number,
  { room, lineHeight, taken }: FanRoom,
): readonly FanLine<T>[] {
  const inside = from.x >= room.x0 && from.x <= room.x1 && from.y >= room.y0 && from.y <= room.y1;
  const full = [...taken];
  return targets.map((target) => {
    const width = widthOf(target.text);
    if (!inside) return { target, end: target, goesOn: false, label: null, width };
    const share = leaves(from, target, room);
    const at = (part: number): Spot => ({
      x: from.x + (target.x - from.x) * share * part,
      y: from.y + (target.y - from.y) * share * part,
    });
    const end = at(1);
    const boxes = SHARES.flatMap((part) => boxesBeside(at(part), width, lineHeight));
    const found = boxes.find((box) => within(box, room) && !full.some((other) => meet(box, other)));
    if (found) full.push(found);
    return {
      target,
      end,
      goesOn: share < 1,
      label: found ? { x: found.x0, y: (found.y0 + found.y1) / 2 } : null,
      width,
    };
  });
}

/** Over, under, right and left of a spot. */
function boxesBeside({ x, y }: Spot, width: number, height: number): Box[] {
  const at = (x0: number, y0: number): Box => ({ x0, y0, x1: x0 + width, y1: y0 + height });
  return [
    at(x - width / 2, y - height - GAP),
    at(x - width / 2, y + GAP),
    at(x + GAP, y - height / 2),
    at(x - width - GAP, y - height / 2),
  ];
}

const OFF_PX = 26;

/**
 * Upper left corner of a slip beside a place: to the right of it, else to the left; null when there is no room on either
 * side of it.
 */
export function slipBeside(
  place: Spot,
  { width, height }: { readonly width: number; readonly height: number },
  room: Box,
): Spot | null {
  if (place.x < room.x0 || place.x > room.x1 || place.y < room.y0 || place.y > room.y1) return null;
  const right = place.x + OFF_PX;
  const left = place.x - OFF_PX - width;
  const x = right + width <= room.x1 ? right : left >= room.x0 ? left : null;
  if (x === null || height > room.y1 - room.y0) return null;
  return { x, y: Math.max(room.y0, Math.min(room.y1 - height, place.y - height / 2)) };
}
