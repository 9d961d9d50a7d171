import { describe, expect, it } from "vitest";
import { greyInk, greyOf, inGrey, INKS } from "../../../../core/sheet/page/inks.ts";
import type { Ink } from "../../../../core/sheet/page/page.ts";

/** Relative luminance and contrast as W3C, Web Content Accessibility Guidelines 2.1, defines them. */
function luminance(ink: Ink): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((i) => {
    const c = Number.parseInt(ink.slice(i, i + 2), 16) / 255;
    return c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a: Ink, b: Ink): number {
  const [light = 0, dark = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light + 0.05) / (dark + 0.05);
}

describe("inks for paper", () => {
  it("measures contrast as the guideline's own examples: black on white is 21, #767676 on white just passes", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 6);
    expect(contrast("#767676", "#ffffff")).toBeGreaterThan(4.5);
    expect(contrast("#777777", "#ffffff")).toBeLessThan(4.5);
  });

  it.each([
    "ink",
    "soft",
    "woodName",
    "waterName",
    "contourName",
    "followName",
    "stopName",
    "mindName",
  ] as const)(
    "text in %s has the guideline's contrast of 4.5 on its white halo, in colour and in grey",
    (name) => {
      expect(contrast(INKS[name], INKS.paper)).toBeGreaterThan(4.5);
      expect(contrast(greyInk(INKS[name]), INKS.paper)).toBeGreaterThan(4.5);
    },
  );

  it("paper, wood and water differ in grey by a tenth of the whole range or more", () => {
    // ITU-R BT.709 by hand: white 255, #e2edd2 0.2126·226 + 0.7152·237 + 0.0722·210 = 232.7, #a9cfe4 = 200.4.
    expect(greyOf(INKS.wood)).toBeCloseTo(232.7, 1);
    expect(greyOf(INKS.water)).toBeLessThan(120);
    const levels = [INKS.paper, INKS.wood, INKS.waterWash].map(greyOf);
    expect((levels[0] as number) - (levels[1] as number)).toBeGreaterThan(20);
    expect((levels[1] as number) - (levels[2] as number)).toBeGreaterThan(25);
    expect(greyOf(INKS.waterWash) - greyOf(INKS.water)).toBeGreaterThan(60);
  });

  it("streams are darker than contours in grey, so that neither is taken for the other", () => {
    for (const name of ["contour", "contourIndex"] as const)
      expect(greyOf(INKS[name]) - greyOf(INKS.water)).toBeGreaterThan(30);
  });

  it("a page in grey has no colour left", () => {
    const [item] = inGrey([
      {
        kind: "group",
        name: "all",
        items: [
          {
            kind: "shape",
            shape: { parts: [], closed: true },
            fill: INKS.wood,
            stroke: { ink: INKS.mind, widthMm: 1 },
          },
          { kind: "text", text: "a", at: [0, 0], face: "text", sizeMm: 3, ink: INKS.waterName },
        ],
      },
    ]);
    const inks = [...JSON.stringify(item).matchAll(/#(..)(..)(..)/g)];
    expect(inks.length).toBe(3);
    for (const [, r, g, b] of inks) expect([g, b]).toEqual([r, r]);
  });
});
