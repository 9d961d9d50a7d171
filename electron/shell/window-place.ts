import type { WindowPlace } from "../contract.ts";

export interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** So much of the top edge, where a window is taken hold of, has to be on a screen. */
const HOLD_PX = 120;

/**
 * Where the window opens: as it was last, unless the screen it was on is gone or smaller now.
 * @param screens their work areas, the first screen first
 * @returns no x and y where the system is to choose
 */
export function placeOnScreens(
  { width, height, x, y }: WindowPlace,
  screens: readonly Area[],
): { width: number; height: number; x?: number; y?: number } {
  const on =
    x === null || y === null
      ? undefined
      : screens.find(
          (area) =>
            Math.min(x + width, area.x + area.width) - Math.max(x, area.x) >= HOLD_PX &&
            y >= area.y &&
            y <= area.y + area.height - HOLD_PX,
        );
  const room = on ?? screens[0];
  const size = room
    ? { width: Math.min(width, room.width), height: Math.min(height, room.height) }
    : { width, height };
  return on && x !== null && y !== null ? { ...size, x, y } : size;
}
