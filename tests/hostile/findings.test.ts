/** What damaged input once found, each as it was found. */
import { describe, expect, it } from "vitest";
import { Fault } from "../../core/fault.ts";
import { lengthUnit, parseLength } from "../../core/units/length.ts";

describe("found by damage", () => {
  it.each(["1__proto__", "5 constructor", "5 toString"])(
    "%s is no length of a unit that objects have",
    (text) => {
      expect(() => parseLength(text, "m")).toThrow(Fault);
      expect(lengthUnit(text.replace(/\d\s?/, ""))).toBeNull();
    },
  );
});
