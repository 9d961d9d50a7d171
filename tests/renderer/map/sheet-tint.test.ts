import { describe, expect, it } from "vitest";
import { tintColours, tintPixels } from "../../../renderer/map/sheet-tint.ts";
import type { MapColours } from "../../../renderer/theme/map-colours.ts";

const pixel = (tint: "light" | "dark" | "night", ...channels: readonly number[]): number[] => {
  const data = new Uint8ClampedArray([...channels, 255]);
  tintPixels(data, tint);
  return [...data];
};

describe("a scanned sheet in the theme's colours", () => {
  it("is as it is by day", () => {
    expect(pixel("light", 12, 200, 77)).toEqual([12, 200, 77, 255]);
  });

  it("keeps its hues in the dark, with less light, and light paper stays lighter than what is printed on it", () => {
    const [r = 0, g = 0, b = 0] = pixel("dark", 240, 120, 60);
    expect(r).toBeLessThan(240);
    expect(g / r).toBeCloseTo(0.5, 1);
    expect(b / r).toBeCloseTo(0.25, 1);
  });

  it("is red light alone by night, in the order of what the eye finds bright", () => {
    // Luma by ITU-R BT.709: white, then green, then red, then blue, then black.
    const order = [
      [255, 255, 255],
      [0, 255, 0],
      [255, 0, 0],
      [0, 0, 255],
      [0, 0, 0],
    ].map((channels) => pixel("night", ...channels));
    for (const [, g, b] of order) expect([g, b]).toEqual([0, 0]);
    const reds = order.map(([r]) => r ?? 0);
    expect(reds).toEqual(reds.toSorted((a, b) => b - a));
    expect(new Set(reds).size).toBe(5);
    expect(reds[0]).toBeLessThan(160);
  });

  it("has lines seen through the same glass", () => {
    const colours = { ink: "#ffffff", contour: "#c39b74", shadeStrength: 0.2 } as MapColours;
    for (const tint of ["light", "dark", "night"] as const) {
      const tinted = tintColours(colours, tint);
      for (const name of ["ink", "contour"] as const) {
        const channels = [1, 3, 5].map((at) => Number.parseInt(colours[name].slice(at, at + 2), 16));
        const [r, g, b] = pixel(tint, ...channels);
        const hex = [r, g, b].map((one) => (one ?? 0).toString(16).padStart(2, "0")).join("");
        expect(tinted[name]).toBe(`#${hex}`);
      }
      expect(tinted.shadeStrength).toBe(0.2);
    }
  });
});
