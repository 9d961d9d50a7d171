/**
 * The ruler against Chromium 156, whose shaping (HarfBuzz) is not ours: getComputedTextLength of the same texts in the same fonts, font
 * size 4 mm, as `pageSvg` with `fontCssOf` writes them. Chromium counts in 64ths of a unit.
 */
import { readFileSync } from "node:fs";
import { create, type Font } from "fontkit";
import { describe, expect, it } from "vitest";
import type { Face, PageItem } from "../../../../core/sheet/page/page.ts";
import { fontCssOf } from "../../../../electron/services/sheets/svg-fonts.ts";
import { FACE_FILES, fontPath } from "../../../../electron/services/sheets/font-files.ts";
import { kernTable } from "../../../../electron/services/sheets/kern-table.ts";
import { unpackWoff } from "../../../../electron/services/sheets/woff.ts";
import { loadSheetFonts } from "../../../../electron/services/sheets/fonts.ts";

const WIDTHS: readonly (readonly [Face, string, number])[] = [
  ["text", "Wooden Tarn AVA Toy fi ffl To.", 52.13],
  ["text", "Łódź Čech ÅÉ", 24.53],
  ["text", "LT AV Ty P. f’ “Wa”", 32.02],
  ["text", "office flow fjord tt ff", 34.59],
  ["text", "Ελλάδα ΑΥ", 19.34],
  ["text", "Ђурђевдан ГА", 26.73],
  ["text", "हिन्दी क्षेत्र", 13.77],
  ["text", "हिन्दी", 7.56],
  ["text", "Việt Nam", 16.41],
  ["text", "→ 90° 5 ½", 19.42],
  ["text", "012345 1:25 000 1/2 3/4", 44.11],
  ["text", "Harrowstone Fell (north top)", 49.44],
  ["textBold", "Wooden Tarn AVA Toy fi ffl To.", 56.7],
  ["textBold", "Łódź Čech ÅÉ", 25.89],
  ["textBold", "LT AV Ty P. f’ “Wa”", 35.16],
  ["textBold", "office flow fjord tt ff", 38.14],
  ["textBold", "Ελλάδα ΑΥ", 20.72],
  ["textBold", "Ђурђевдан ГА", 28.69],
  ["textBold", "हिन्दी क्षेत्र", 15.03],
  ["textBold", "हिन्दी", 8.19],
  ["textBold", "Việt Nam", 17.52],
  ["textBold", "→ 90° 5 ½", 20.13],
  ["textBold", "012345 1:25 000 1/2 3/4", 46.7],
  ["textBold", "Harrowstone Fell (north top)", 52.97],
  ["name", "Wooden Tarn AVA Toy fi ffl To.", 46.13],
  ["name", "Łódź Čech ÅÉ", 20.52],
  ["name", "LT AV Ty P. f’ “Wa”", 26.52],
  ["name", "office flow fjord tt ff", 30.64],
  ["name", "Ελλάδα ΑΥ", 16.41],
  ["name", "Ђурђевдан ГА", 22.55],
  ["name", "Việt Nam", 14.67],
  ["name", "→ 90° 5 ½", 15.61],
  ["name", "012345 1:25 000 1/2 3/4", 34.39],
  ["name", "Harrowstone Fell (north top)", 43.81],
  ["nameItalic", "Wooden Tarn AVA Toy fi ffl To.", 42.11],
  ["nameItalic", "Łódź Čech ÅÉ", 18.61],
  ["nameItalic", "LT AV Ty P. f’ “Wa”", 25.03],
  ["nameItalic", "office flow fjord tt ff", 27.95],
  ["nameItalic", "Ελλάδα ΑΥ", 14.7],
  ["nameItalic", "Ђурђевдан ГА", 20.25],
  ["nameItalic", "Việt Nam", 13.61],
  ["nameItalic", "→ 90° 5 ½", 15.41],
  ["nameItalic", "012345 1:25 000 1/2 3/4", 34.11],
  ["nameItalic", "Harrowstone Fell (north top)", 40.61],
  ["nameBold", "Wooden Tarn AVA Toy fi ffl To.", 47.2],
  ["nameBold", "Łódź Čech ÅÉ", 20.83],
  ["nameBold", "LT AV Ty P. f’ “Wa”", 27.73],
  ["nameBold", "office flow fjord tt ff", 31.75],
  ["nameBold", "Ελλάδα ΑΥ", 16.95],
  ["nameBold", "Ђурђевдан ГА", 23.38],
  ["nameBold", "Việt Nam", 15.09],
  ["nameBold", "→ 90° 5 ½", 15.75],
  ["nameBold", "012345 1:25 000 1/2 3/4", 34.84],
  ["nameBold", "Harrowstone Fell (north top)", 45.17],
];
const fonts = await loadSheetFonts();

it.each(WIDTHS)("in %s “%s” is %d mm wide", (face, text, widthMm) => {
  expect(Math.abs(fonts.ruler.widthMm(text, face, 4) - widthMm)).toBeLessThan(0.025);
  const set = fonts.set(text, face).flatMap(({ glyphs }) => glyphs);
  const sum = set.reduce((mm, { advance }) => mm + (advance * 4) / 1000, 0);
  expect(sum).toBeCloseTo(fonts.ruler.widthMm(text, face, 4), 6);
});

it("knows the fonts' own heights", () => {
  // sCapHeight, bytes 88 and 89 of the files' OS/2 tables as Python's struct reads them (OpenType 1.9): 668 and 641 of 1000.
  expect(fonts.ruler.capHeightMm("text", 10)).toBeCloseTo(6.68, 6);
  expect(fonts.ruler.capHeightMm("name", 10)).toBeCloseTo(6.41, 6);
  expect(fonts.ruler.descentMm("text", 10)).toBeGreaterThan(1);
});

describe("kerning read from the font's table", () => {
  const files = new Map(
    Object.values(FACE_FILES)
      .flat()
      .map((file) => [fontPath(file), file]),
  );
  const packages = new URL("../../../../node_modules/", import.meta.url);

  it.each([...files.keys()])("is the shaper's, in %s", (path) => {
    const bytes = unpackWoff(readFileSync(new URL(path, packages)));
    const font = create(bytes) as Font;
    const kern = kernTable(bytes);
    // Noto Sans Latin and Math kern by more than pairs; there the shaper itself is asked.
    if (!kern) return expect(path).toMatch(/noto-sans(-math)?-latin-\d/);
    const letters = font.characterSet.filter((c) =>
      /(?!\p{Script=Devanagari})[\p{L}\p{N}\p{P}]/u.test(String.fromCodePoint(c)),
    );
    for (let i = 0; i < 300; i++) {
      const [a, b] = [
        letters[(i * 7919) % letters.length] as number,
        letters[(i * 104_729 + 13) % letters.length] as number,
      ];
      const run = font.layout(String.fromCodePoint(a, b), { liga: false, clig: false, dlig: false });
      if (run.glyphs.length !== 2) continue;
      const [first, second] = [font.glyphForCodePoint(a), font.glyphForCodePoint(b)];
      expect(kern(first.id, second.id), String.fromCodePoint(a, b)).toBe(
        run.advanceWidth - first.advanceWidth - second.advanceWidth,
      );
    }
  });
});

describe("letters", () => {
  it("that no font has are told once each, and joiners never", () => {
    expect(fonts.ruler.missing("Beck א א 😀👩\u200d👧\ufe0f ok", "text")).toEqual(["א", "😀", "👩", "👧"]);
    expect(fonts.ruler.missing("Łódź → Ελλάδα Ж हि Ệ ½ ° ′ ″ − … ×", "nameItalic")).toEqual([]);
  });

  it("with their accents apart are set as the same letters composed", () => {
    expect(fonts.ruler.widthMm("e\u0301a\u030a", "text", 4)).toBe(fonts.ruler.widthMm("éå", "text", 4));
  });

  it("of 500 characters, of one line, of nothing are measured", () => {
    expect(fonts.ruler.widthMm("", "text", 4)).toBe(0);
    expect(fonts.ruler.widthMm("a\nb", "text", 4)).toBe(fonts.ruler.widthMm("a b", "text", 4));
    const long = "m".repeat(500);
    expect(fonts.ruler.widthMm(long, "text", 4)).toBeCloseTo(500 * fonts.ruler.widthMm("m", "text", 4), 6);
  });
});

it("a saved SVG carries only the files its letters come from", () => {
  const item = (text: string): PageItem => ({
    kind: "text",
    text,
    at: [0, 0],
    face: "name",
    sizeMm: 4,
    ink: "#000000",
  });
  const families = (text: string): string[] =>
    [...fontCssOf([item(text)], fonts).matchAll(/font-family:"([^"]+)"/g)].map(
      ([, family]) => family as string,
    );
  expect(families("Beck")).toEqual(["Alegreya Sans"]);
  expect(families("Beck हि")).toEqual(["Alegreya Sans", "Noto Sans"]);
  expect(fontCssOf([item("Beck")], fonts)).toContain("url(data:font/woff2;base64,d09GM");
});
