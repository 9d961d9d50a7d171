/** Sheets put by hand: pure changes of where they lie. */
import type { SheetFrame } from "../../core/sheet/frame/sheet-frame.ts";
import type { PlacedFrame, SheetLayout } from "../../core/sheet/layout/sheet-plan.ts";
import type { LonLat } from "../../core/units/position.ts";

/** As the bridge takes them. */
export const MOST_SHEETS = 200;

/** The sheets as they lie now, as if each had been put there by hand. */
export const placedOf = ({ sheets }: SheetLayout): readonly PlacedFrame[] =>
  sheets.map(({ frame: { centre, scale, turnDeg } }) => ({
    centre,
    scale,
    ...(turnDeg !== undefined && turnDeg !== 0 && { turnDeg }),
  }));

export const withCentre = (
  frames: readonly PlacedFrame[],
  at: number,
  centre: LonLat,
): readonly PlacedFrame[] => frames.map((one, i) => (i === at ? { ...one, centre } : one));

/** The ground in the middle of a frame moved over the map, millimetres of its paper, right and down. */
export function movedCentre(frame: SheetFrame, rightMm: number, downMm: number): LonLat {
  const { map } = frame;
  return frame.toLonLat([map.x + map.width / 2 + rightMm, map.y + map.height / 2 + downMm]);
}

/** Positions around the map of a sheet; its edges are not straight on a map of another projection. */
export function outlineOf(frame: SheetFrame): LonLat[] {
  const { map } = frame;
  const around: LonLat[] = [];
  const [right, bottom] = [map.x + map.width, map.y + map.height];
  const corners = [
    [map.x, map.y],
    [right, map.y],
    [right, bottom],
    [map.x, bottom],
  ] as const;
  const STEPS = 8;
  corners.forEach(([x0, y0], i) => {
    const [x1, y1] = corners[(i + 1) % 4] as readonly [number, number];
    for (let step = 0; step < STEPS; step++) {
      const share = step / STEPS;
      around.push(frame.toLonLat([x0 + (x1 - x0) * share, y0 + (y1 - y0) * share]));
    }
  });
  return around;
}
