import type { Face } from "./page.ts";

/**
 * Measures text as it will be set. core has no fonts: the host that writes pages lends a ruler over the very fonts it embeds,
 * so that what was fitted on the page fits on paper.
 */
export interface TextRuler {
  /** Advance width of one line of text, millimetres. */
  widthMm(text: string, face: Face, sizeMm: number): number;
  /** Height of capitals above the baseline, millimetres. */
  capHeightMm(face: Face, sizeMm: number): number;
  /** Depth of letters below the baseline, millimetres, positive. */
  descentMm(face: Face, sizeMm: number): number;
  /** Characters of the text for which no bundled font has a letter; they are set as an empty box. */
  missing(text: string, face: Face): readonly string[];
}
