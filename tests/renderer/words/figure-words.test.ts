import { expect, test } from "vitest";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { climbText, legSummary, rangeText } from "../../../renderer/words/figure-words.ts";
import { theThing, thingName } from "../../../renderer/words/kind-words.ts";

const leg = {
  bearingMagneticDeg: 50.6,
  bearingGridDeg: 63.9,
  bearingTrueDeg: 65.2,
  distanceM: 590.2,
  climbM: 52.4,
  descentM: 11.1,
} as unknown as LegFigures;
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");

test("a leg in one line says its north and its units", () => {
  expect(plain(legSummary(leg, "magnetic", "metric"))).toBe("51° mag · 590 m · +52 −11 m");
  expect(plain(legSummary(leg, "grid", "metric"))).toBe("64° grid · 590 m · +52 −11 m");
  // 590.2 / 0.3048 = 1936.35, 52.4 / 0.3048 = 171.9, 11.1 / 0.3048 = 36.4
  expect(plain(legSummary(leg, "true", "imperial"))).toBe("65° true · 1936 ft · +172 −36 ft");
});

test("climb that is not known is left out, not shown as nothing", () => {
  expect(climbText(null, null, "metric")).toBe("");
  expect(plain(legSummary({ ...leg, climbM: null, descentM: null }, "magnetic", "metric"))).toBe(
    "51° mag · 590 m",
  );
});

test("a bearing that cannot be had is a dash", () => {
  expect(plain(legSummary({ ...leg, bearingMagneticDeg: null }, "magnetic", "metric"))).toBe(
    "– mag · 590 m · +52 −11 m",
  );
});

test("ranges share their unit, and a range of nothing is one figure", () => {
  expect(plain(rangeText(20.2, 44.8, "metric"))).toBe("20–45 m");
  expect(plain(rangeText(30.1, 30.4, "metric"))).toBe("30 m");
});

test("things have their own name, else what they are; edges name their area", () => {
  expect(theThing("stream", "Sallow Water")).toBe("Sallow Water");
  expect(theThing("stream", null)).toBe("the stream");
  expect(theThing("woodEdge", "Ashcroft Wood")).toBe("the edge of Ashcroft Wood");
  expect(thingName("shore", null)).toBe("shore");
});
