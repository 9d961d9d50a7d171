import type { TextRuler } from "../../../../core/sheet/page/text-ruler.ts";

/** Widths in font sizes by kind of letter, after the bundled face: figures 0.65, m and capitals wider, points and i narrow. */
function letterWidth(letter: string): number {
  if (/[\d=+±–−]/.test(letter)) return 0.65;
  if (/[ .,;:'’′″°iljI|!()\u00a0\u202f]/.test(letter)) return 0.28;
  if (/[mwMW%…]/.test(letter)) return 0.85;
  if (/[A-ZÀ-Þ¼½¾⅛⅜⅝⅞]/.test(letter)) return 0.68;
  if (/[a-zß-ÿ]/.test(letter)) return 0.52;
  return 1;
}

/** A ruler without a font, about as wide as the bundled face. */
export const plainRuler: TextRuler = {
  widthMm: (text, face, sizeMm) =>
    Array.from(text).reduce((sum, letter) => sum + letterWidth(letter), 0) *
    sizeMm *
    (face.endsWith("Bold") ? 1.05 : 1),
  capHeightMm: (_face, sizeMm) => 0.67 * sizeMm,
  descentMm: (_face, sizeMm) => 0.2 * sizeMm,
  missing: () => [],
};
