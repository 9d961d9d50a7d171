/** Where the window opens again: in reach of the pointer, whatever became of the screens. */
import { expect, it } from "vitest";
import { placeOnScreens } from "../../electron/shell/window-place.ts";
import { USUAL_SETTINGS } from "../../electron/contract.ts";

const FIRST = { x: 0, y: 24, width: 1600, height: 976 };
const LEFT = { x: -1280, y: 0, width: 1280, height: 800 };
const last = (x: number | null, y: number | null, width = 900, height = 600) => ({
  ...USUAL_SETTINGS.window,
  x,
  y,
  width,
  height,
});

it.each([
  ["where it was", last(100, 80), [FIRST], { x: 100, y: 80, width: 900, height: 600 }],
  [
    "on a screen left of the first",
    last(-1200, 50),
    [FIRST, LEFT],
    { x: -1200, y: 50, width: 900, height: 600 },
  ],
  ["by the system's choice when that screen is gone", last(-1200, 50), [FIRST], { width: 900, height: 600 }],
  ["hanging over the edge as it was", last(1400, 80), [FIRST], { x: 1400, y: 80, width: 900, height: 600 }],
  [
    "not so far over it that it cannot be taken hold of",
    last(1590, 80),
    [FIRST],
    { width: 900, height: 600 },
  ],
  ["not with its upper edge off the screen", last(100, -300), [FIRST], { width: 900, height: 600 }],
  ["not below it either", last(100, 990), [FIRST], { width: 900, height: 600 }],
  ["no larger than the screen", last(0, 24, 4000, 3000), [FIRST], { x: 0, y: 24, width: 1600, height: 976 }],
  ["anywhere the first time", last(null, null), [FIRST], { width: 900, height: 600 }],
  ["as large as it was where no screen is told", last(10, 10), [], { width: 900, height: 600 }],
])("it opens %s", (_where, place, screens, expected) => {
  expect(placeOnScreens(place, screens)).toEqual(expected);
});
