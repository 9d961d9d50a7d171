import { describe, expect, test } from "vitest";
import { typedNumber } from "../../../core/units/format.ts";
import { readClock, readNumber, readTook } from "../../../renderer/settings/read-entry.ts";

describe("a number", () => {
  test.each([
    ["65", 65],
    [" 65,5 ", 65.5],
    ["−3.5", -3.5],
    [".5", 0.5],
  ])("%s", (text, value) => expect(readNumber(text, "65")).toBe(value));
  test.each(["abc", "6 5", "1e3", "NaN", "Infinity", "65 paces", "0x41", "--1", "1.2.3"])(
    "%s is none",
    (text) =>
      expect(() => readNumber(text, "65")).toThrow(`“${text}” is not a number. Write a number such as 65.`),
  );
  test("an empty blank says so", () => expect(() => readNumber("  ", "65")).toThrow("The blank is empty."));
  test("comes back as it would be typed", () => {
    expect(typedNumber(66.3)).toBe("66.3");
    expect(typedNumber(65)).toBe("65");
    expect(typedNumber(1 / 3)).toBe("0.333");
  });
});

describe("a time of day", () => {
  test.each([
    ["8:30", "08:30"],
    ["08.30", "08:30"],
    ["0830", "08:30"],
    ["23:59", "23:59"],
    ["", null],
  ])("%s", (text, clock) => expect(readClock(text)).toBe(clock));
  test.each(["24:00", "8:60", "noon", "8", "8:3", "-1:00", "99999"])("%s is none", (text) =>
    expect(() => readClock(text)).toThrow("is not a time of day. Write it as hours and minutes, like 08:30."),
  );
});

describe("the time a trial took", () => {
  test.each([
    ["1:25", 85],
    ["85 s", 85],
    ["85", 85],
    ["1,5 min", 90],
    ["", null],
  ])("%s", (text, seconds) => expect(readTook(text)).toBe(seconds));
  test.each(["1:75", "soon", "-5", "1:25:00"])("%s is none", (text) =>
    expect(() => readTook(text)).toThrow("is not the time a trial took"),
  );
});
