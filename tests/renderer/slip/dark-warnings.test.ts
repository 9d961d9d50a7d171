import { expect, test } from "vitest";
import type { WalkFigures } from "../../../core/legs/figures.ts";
import { darkWarnings } from "../../../renderer/slip/dark-warnings.ts";

const at = (clock: string, day = "2026-11-25"): string => `${day}T${clock}:00+01:00`;
const day = {
  civilDawn: at("07:20"),
  sunrise: at("07:55"),
  sunset: at("16:10"),
  civilDusk: at("16:45"),
  allDay: null,
  dark: null,
  beforeSunsetS: null,
};
const walk = (start: string | null, end: string | null, light: object = day): readonly string[] =>
  darkWarnings({ start, legs: [{ arrival: end }], daylight: light } as unknown as WalkFigures, "2026-11-25");

test("a walk within the day needs no warning", () => {
  expect(walk(at("08:00"), at("16:10"))).toEqual([]);
  expect(walk(null, null)).toEqual([]);
});

test("after sunset, after dusk, before dawn", () => {
  expect(walk(at("08:00"), at("16:30"))).toEqual(["The walk ends at 16:30, after sunset at 16:10."]);
  expect(walk(at("08:00"), at("16:46"))).toEqual([
    "The walk ends at 16:46, in the dark: it gets dark at 16:45.",
  ]);
  expect(walk(at("06:00"), at("12:00"))).toEqual(["The walk begins in the dark: it gets light at 07:20."]);
});

test("instants are compared, not digits: another offset, and the day after", () => {
  expect(walk(at("08:00"), "2026-11-25T17:30:00+03:00")).toEqual([]);
  expect(walk(at("08:00"), at("01:10", "2026-11-26"))[0]).toContain("at 01:10\u00a0+1, in the dark");
});

test("a day without sun", () => {
  const none = { ...day, civilDawn: null, sunrise: null, sunset: null, civilDusk: null, allDay: "down" };
  expect(walk(at("08:00"), at("10:00"), none)).toEqual(["The sun does not rise here on that day."]);
});
