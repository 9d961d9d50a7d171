/**
 * Scale bars, check line and roamer, measured on the page. Lengths on paper for a kilometre, feet and miles for an inch: the table
 * of representative fractions at hand for the tests (USGS scales, arithmetic from the definition of the fraction).
 */
import { describe, expect, it } from "vitest";
import type { ShapeItem } from "../../../../core/sheet/page/page.ts";
import { roamerItems, roamerMm, roamerPage, roamerSquareM } from "../../../../core/sheet/furniture/roamer.ts";
import { ratioWords, scaleBlock } from "../../../../core/sheet/furniture/scale-bars.ts";
import { paperSize } from "../../../../core/sheet/page/paper-size.ts";
import { flat, groupsOf, texts } from "./items.ts";
import { plainRuler } from "./plain-ruler.ts";

/** Scale, mm of paper for 1 km, feet for 1 inch, inches for 1 mile. */
const FRACTIONS = [
  [10_000, 100, 833.3333, 6.336],
  [15_000, 66.6667, 1250, 4.224],
  [20_000, 50, 1666.6667, 3.168],
  [24_000, 41.6667, 2000, 2.64],
  [25_000, 40, 2083.3333, 2.5344],
  [50_000, 20, 4166.6667, 1.2672],
  [62_500, 16, 5208.3333, 1.0138],
  [63_360, 15.7828, 5280, 1],
  [100_000, 10, 8333.3333, 0.6336],
] as const;

const extent = (shapes: readonly ShapeItem[]): readonly [number, number] => {
  const xs = shapes.flatMap(({ shape }) => shape.parts.flatMap((p) => [...p].filter((_, i) => i % 2 === 0)));
  return [Math.min(...xs), Math.max(...xs)];
};

const AT = { x: 5, y: 250, width: 112, height: 32 };
const SMALL_AT = { x: 5, y: 170, width: 62, height: 28 };

function barsOf(scale: number, small: boolean, lengths: "metric" | "imperial" = "metric", steps: 1 | 2 = 2) {
  const items = scaleBlock(
    { scale, small, lengths, pace: { per100m: 62, steps } },
    small ? SMALL_AT : AT,
    plainRuler,
  );
  return { items, bars: groupsOf(items, "scale bar") };
}

/** What the last figure of a bar means, in its own unit. */
const FRACTION_SIGNS: Readonly<Record<string, number>> = {
  "¼": 0.25,
  "½": 0.5,
  "¾": 0.75,
  "⅛": 0.125,
  "⅜": 0.375,
  "⅝": 0.625,
  "⅞": 0.875,
};
function figure(text: string): number {
  const form = /^(\d*)([¼½¾⅛⅜⅝⅞]?)$/.exec(text.replace(/[\s\u202f]/g, ""));
  if (!form) throw new Error(text);
  return Number(form[1] || 0) + (FRACTION_SIGNS[form[2] ?? ""] ?? 0);
}

describe.each([false, true])("bars on small paper: %s", (small) => {
  it.each(FRACTIONS)("1:%d", (scale, mmPerKm, _feetPerInch, inchesPerMile) => {
    const { items, bars } = barsOf(scale, small);
    const units = bars.map((bar) => texts(bar.items).at(-1)?.text as string);
    expect(units).toHaveLength(small ? 2 : 3);
    expect(units.at(-1)).toBe("double paces, 62 in 100 m");
    for (const [i, bar] of bars.entries()) {
      const shapes = flat(bar.items).filter((item) => item.kind === "shape");
      const [from, to] = extent(shapes);
      const figures = texts(bar.items).slice(0, -1);
      const last = figure(figures.at(-1)?.text ?? "");
      const unit = units[i] as string;
      const mm = unit.startsWith("double")
        ? ((last / 62) * 100 * mmPerKm) / 1000
        : unit === "m"
          ? (last * mmPerKm) / 1000
          : unit === "km"
            ? last * mmPerKm
            : unit === "yd"
              ? (last / 1760) * inchesPerMile * 25.4
              : last * inchesPerMile * 25.4;
      // The table has four decimals.
      expect(Math.abs(to - from - mm), unit).toBeLessThan(0.01);
      // Every figure stands at its own length.
      for (const { text, at } of figures)
        expect(at[0] - from).toBeCloseTo(((to - from) * figure(text)) / last, 6);
      expect(to - from).toBeGreaterThan(9);
    }
    // Nothing runs out of its place.
    const { x, width } = small ? SMALL_AT : AT;
    for (const item of texts(items)) {
      const w = plainRuler.widthMm(item.text, item.face, item.sizeMm);
      const left = item.at[0] - (item.anchor === "middle" ? w / 2 : 0);
      expect(left, item.text).toBeGreaterThan(x - 0.01);
      expect(left + w, item.text).toBeLessThan(x + width + 0.01);
    }
    expect(texts(items).some(({ text }) => text.includes("…"))).toBe(false);
  });
});

it("miles come first where they are asked for, and single paces are called so", () => {
  const { bars } = barsOf(50_000, true, "imperial", 1);
  expect(bars.map((bar) => texts(bar.items).at(-1)?.text)).toEqual(["miles", "single paces, 62 in 100 m"]);
});

it.each(FRACTIONS)("the ratio of 1:%d in words", (scale, mmPerKm, feetPerInch) => {
  const words = ratioWords(scale);
  const cm = /^([\d.]+) cm on the map is ([\d.]*) ?km/.exec(words);
  expect(Number(cm?.[1]) / Number(cm?.[2] || 1)).toBeCloseTo(mmPerKm / 10, 2);
  const feet = /1 inch is ([\d.\u202f]+) ft$/.exec(words);
  if (scale === 63_360) expect(words).toMatch(/1 inch is 1 mile$/);
  else expect(Number(feet?.[1]?.replace("\u202f", ""))).toBe(Math.round(feetPerInch));
});

it.each([
  [false, 100],
  [true, 50],
])("the check line on small paper (%s) is %d mm", (small, mm) => {
  const { items } = barsOf(25_000, small);
  const [line] = groupsOf(items, "check line");
  const [from, to] = extent(flat(line?.items ?? []).filter((item) => item.kind === "shape"));
  expect(to - from).toBe(mm);
  const words = texts(items)
    .map(({ text }) => text)
    .join(" ");
  expect(words).toContain(`This bar is ${mm} mm; if not, the print is not true to scale.`);
});

describe("roamer", () => {
  it.each(FRACTIONS)("1:%d has its marks a tenth of a square apart", (scale, mmPerKm) => {
    const square = roamerSquareM(scale);
    const side = (square / 1000) * mmPerKm;
    expect(roamerMm(scale)).toBeCloseTo(side, 3);
    const shapes = flat(roamerItems(scale, [100, 20], plainRuler)).filter((item) => item.kind === "shape");
    const marks = shapes.filter(({ shape }) => !shape.closed && shape.parts[0]?.length === 4);
    const upper = marks.flatMap(({ shape: { parts } }) => {
      const [ax, ay, bx] = parts[0] as Float64Array;
      return ax === bx && ay === 20 ? [100 - (ax as number)] : [];
    });
    const right = marks.flatMap(({ shape: { parts } }) => {
      const [ax, ay, , by] = parts[0] as Float64Array;
      return ay === by && ax === 100 ? [(ay as number) - 20] : [];
    });
    for (let tenth = 1; tenth <= 10; tenth++)
      for (const edge of [upper, right])
        expect(edge.some((at) => Math.abs(at - (side * tenth) / 10) < 0.001)).toBe(true);
  });

  it("reads the tenths of a place: a corner 640 m east and 270 m north of the grid lines shows 6.4 and 2.7", () => {
    // The grid line lies as far left of the corner as the place lies east of it.
    const mm = roamerMm(25_000) / 10;
    expect((640 * 1000) / 25_000 / mm).toBeCloseTo(6.4, 9);
    expect((270 * 1000) / 25_000 / mm).toBeCloseTo(2.7, 9);
  });

  it("has a page of its own with a check line, and says where it does not fit", () => {
    const page = roamerPage(10_000, paperSize("a4"), plainRuler);
    expect(groupsOf(page.items, "roamer")).toHaveLength(1);
    expect(groupsOf(page.items, "check line")).toHaveLength(1);
    expect(roamerPage(25_000, paperSize("a5"), plainRuler).title).toContain("25");
  });
});
