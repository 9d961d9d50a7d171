import { expect, it } from "vitest";
import { numberedNames } from "../../../electron/services/sheets/numbered-names.ts";

it("numbers several pages before the ending, all alike long, and leaves one page its name", () => {
  expect(numberedNames("a/walk.svg", 1)).toEqual(["a/walk.svg"]);
  expect(numberedNames("a.b/walk.svg", 2)).toEqual(["a.b/walk-1.svg", "a.b/walk-2.svg"]);
  expect(numberedNames("walk.svg", 11)[0]).toBe("walk-01.svg");
  expect(numberedNames("a.b/walk", 2)).toEqual(["a.b/walk-1", "a.b/walk-2"]);
});
