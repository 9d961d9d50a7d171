import type { TextRuler } from "../../../../core/sheet/page/text-ruler.ts";

/** A ruler of even letters, a little wider than the bundled faces set them. */
export const plainRuler: TextRuler = {
  widthMm: (text, face, sizeMm) => Array.from(text).length * (face === "textBold" ? 0.56 : 0.53) * sizeMm,
  capHeightMm: (_face, sizeMm) => 0.67 * sizeMm,
  descentMm: (_face, sizeMm) => 0.2 * sizeMm,
  missing: () => [],
};
