import { expect, test } from "vitest";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { localeStyle, SI_STYLE, writeFiguresBy } from "../../../core/units/figure-style.ts";
import { USUAL_COMPASS } from "../../../core/legs/norths/bearing-to-set.ts";
import { climbText, legSummary, rangeText } from "../../../renderer/words/figure-words.ts";
import { theThing, thingName } from "../../../renderer/words/kind-words.ts";

const leg = {
  bearingMagneticDeg: 50.6,
  bearingGridDeg: 63.9,
  bearingTrueDeg: 65.2,
  declinationDeg: 14.6,
  gridConvergenceDeg: 1.3,
  distanceM: 590.2,
  climbM: 52.4,
  descentM: 11.1,
} as unknown as LegFigures;
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");

test("a leg in one line says its north and its units", () => {
  expect(plain(legSummary(leg, "magnetic", "metric", USUAL_COMPASS))).toBe("51° mag · 590 m · +52 −11 m");
  // 590.2 / 0.3048 = 1936.35, 52.4 / 0.3048 = 171.9, 11.1 / 0.3048 = 36.4
  expect(plain(legSummary(leg, "magnetic", "imperial", USUAL_COMPASS))).toBe(
    "51° mag · 1936 ft · +172 −36 ft",
  );
  // 590.2 / 20.1168 = 29.34 chains; heights stay metres.
  expect(plain(legSummary(leg, "magnetic", "metric:ch", USUAL_COMPASS))).toBe(
    "51° mag · 29.3 ch · +52 −11 m",
  );
});

test("its bearing is the one to set: magnetic on a plain compass, the map's own on one that was adjusted", () => {
  expect(plain(legSummary(leg, "grid", "metric", USUAL_COMPASS))).toBe("51° mag · 590 m · +52 −11 m");
  const adjusted = { ...USUAL_COMPASS, adjustable: true };
  expect(plain(legSummary(leg, "grid", "metric", adjusted))).toBe("64° grid · 590 m · +52 −11 m");
  expect(plain(legSummary(leg, "true", "metric", adjusted))).toBe("65° true · 590 m · +52 −11 m");
  // 50.6° × 6400 / 360 = 899.6 mils: FM 21-26 (1993), para 6-1b.
  const mils = { unit: "mils", graduationDeg: 0.5625, adjustable: false } as const;
  expect(plain(legSummary(leg, "magnetic", "metric", mils))).toBe("900 mils mag · 590 m · +52 −11 m");
});

test("climb that is not known is left out, not shown as nothing", () => {
  expect(climbText(null, null, "metric")).toBe("");
  expect(
    plain(legSummary({ ...leg, climbM: null, descentM: null }, "magnetic", "metric", USUAL_COMPASS)),
  ).toBe("51° mag · 590 m");
});

test("a bearing that cannot be had is a dash", () => {
  expect(plain(legSummary({ ...leg, bearingMagneticDeg: null }, "magnetic", "metric", USUAL_COMPASS))).toBe(
    "– mag · 590 m · +52 −11 m",
  );
});

test("ranges share their unit, and a range of nothing is one figure", () => {
  expect(plain(rangeText(20.2, 44.8, "metric"))).toBe("20–45 m");
  expect(plain(rangeText(30.1, 30.4, "metric"))).toBe("30 m");
  // In Austria the space before three figures is the one before the unit. 3100 m and 3200 m are 10 171 ft and 10 499 ft.
  writeFiguresBy(() => localeStyle("de-AT"));
  try {
    expect(plain(rangeText(3100, 3200, "imperial"))).toBe("10 171–10 499 ft");
  } finally {
    writeFiguresBy(() => SI_STYLE);
  }
});

test("things have their own name, else what they are; edges name their area", () => {
  expect(theThing("stream", "Sallow Water")).toBe("Sallow Water");
  expect(theThing("stream", null)).toBe("the stream");
  expect(theThing("woodEdge", "Ashcroft Wood")).toBe("the edge of Ashcroft Wood");
  expect(thingName("shore", null)).toBe("shore");
});
