import { expect, it } from "vitest";
import type { Bbox } from "../../../core/units/position.ts";
import type { MapEntry } from "../../../electron/contract.ts";
import { groundOf, groundsAmong } from "../../../renderer/map-case/sheet-ground.ts";

const entry = (id: string, bounds: Bbox | null, more: Partial<MapEntry> = {}): MapEntry => ({
  id,
  title: id,
  fileName: `${id}.pmtiles`,
  sizeBytes: 1,
  hasTerrain: true,
  invented: true,
  pictures: null,
  ownTitle: null,
  bounds,
  interval: null,
  source: null,
  date: null,
  fileDay: null,
  tag: "",
  view: null,
  fault: null,
  ...more,
});

const sheet = entry("sheet", [10, 47, 11, 48], { pictures: "webp" });
const half = entry("half", [10.5, 47, 12, 48]);
const whole = entry("whole", [9, 46, 12, 49]);
const fitting = entry("fitting", [10, 47, 11, 48]);
const away = entry("away", [20, 47, 21, 48]);
const broken = entry("broken", [10, 47, 11, 48], {
  fault: { code: "bad-archive", what: "It is damaged.", where: null, remedy: null },
});

it("the ground of a sheet is the map that covers most of it, of those that cover it alike the smallest", () => {
  expect(groundOf(sheet, [sheet, half, away, broken], {})).toBe("half");
  expect(groundOf(sheet, [sheet, half, whole, away], {})).toBe("whole");
  expect(groundOf(sheet, [half, whole, fitting], {})).toBe("fitting");
});

it("there is none where no map meets the sheet, or the sheet does not say where it lies", () => {
  expect(groundOf(sheet, [sheet, away, broken], {})).toBeNull();
  expect(groundOf(entry("nowhere", null), [whole], {})).toBeNull();
});

it("what was chosen for a sheet holds, none too, until the map is gone", () => {
  expect(groundOf(sheet, [half, whole], { sheet: "half" })).toBe("half");
  expect(groundOf(sheet, [half, whole], { sheet: null })).toBeNull();
  expect(groundOf(sheet, [half, whole], { other: "half" })).toBe("whole");
  expect(groundOf(sheet, [whole], { sheet: "half" })).toBe("whole");
});

it("sheets and maps that cannot be opened are nobody's ground", () => {
  expect(groundsAmong([sheet, half, broken]).map(({ id }) => id)).toEqual(["half"]);
});
