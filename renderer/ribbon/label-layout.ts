/** Which labels of the ribbon are shown, and where, so that none lies on another. Pure. */

export interface WantedLabel {
  readonly text: string;
  /** Where its mark is, pixels. */
  readonly x: number;
  readonly y: number;
  /** Higher is placed first. */
  readonly weight: number;
}

export interface PlacedLabel<T extends WantedLabel> {
  readonly wanted: T;
  /** Left end and baseline of the text, pixels. */
  readonly left: number;
  readonly baseline: number;
  readonly width: number;
}

export interface LabelRoom {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly lineHeight: number;
  /** The highest ground between two places, as the pixel it reaches up to: no label lies on the ground's line. */
  readonly groundTop?: (x0: number, x1: number) => number;
}

interface Rect {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

const meet = (a: Rect, b: Rect): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;

const ABOVE = 8;
const GAP = 4;
const MARK = 4;

/**
 * Places each label over its mark: to the right, centred, or to the left of it, one line up, then two. A label that
 * fits nowhere is left out; its mark stays. The same labels in any order give the same picture.
 * @param widthOf width of a text, pixels
 */
export function placeLabels<T extends WantedLabel>(
  wanted: readonly T[],
  widthOf: (text: string) => number,
  room: LabelRoom,
): readonly PlacedLabel<T>[] {
  const order = [...wanted].sort((a, b) => b.weight - a.weight || a.x - b.x);
  const taken: Rect[] = wanted.map(({ x, y }) => ({
    x0: x - MARK,
    x1: x + MARK,
    y0: y - MARK,
    y1: y + MARK,
  }));
  const placed: PlacedLabel<T>[] = [];
  for (const one of order) {
    const width = widthOf(one.text);
    const found = candidates(one, width, room).find((rect) => !taken.some((other) => meet(rect, other)));
    if (!found) continue;
    taken.push({ x0: found.x0 - GAP, x1: found.x1 + GAP, y0: found.y0, y1: found.y1 });
    placed.push({ wanted: one, left: found.x0, baseline: found.y1 - room.lineHeight * 0.25, width });
  }
  return placed;
}

function candidates({ x, y }: WantedLabel, width: number, room: LabelRoom): Rect[] {
  const rects: Rect[] = [];
  for (const lines of [0, 1, 2]) {
    for (const x0 of [x + 3, x - width / 2, x - width - 3]) {
      const over = Math.min(y - ABOVE, (room.groundTop?.(x0, x0 + width) ?? Infinity) - GAP);
      const y1 = over - lines * room.lineHeight;
      const rect = { x0, x1: x0 + width, y0: y1 - room.lineHeight, y1 };
      if (rect.x0 >= room.left && rect.x1 <= room.right && rect.y0 >= room.top) rects.push(rect);
    }
  }
  return rects;
}

/**
 * The longest version of a text that fits; empty when none does.
 * @param versions longest first
 */
export function longestThatFits(
  versions: readonly string[],
  roomPx: number,
  widthOf: (text: string) => number,
): string {
  return versions.find((text) => widthOf(text) <= roomPx) ?? "";
}
