/** Widths of texts in the window's own font, remembered: the ribbon is laid out again at every frame of a drag. */

const known = new Map<string, number>();
let pen: OffscreenCanvasRenderingContext2D | null = null;
let penFont = "";

/** @param font as in CSS, e.g. "600 13px sans-serif" */
export function textWidth(text: string, font: string): number {
  const key = `${font}|${text}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  pen ??= new OffscreenCanvas(1, 1).getContext("2d");
  if (!pen) return text.length * 8;
  if (penFont !== font) pen.font = penFont = font;
  const width = pen.measureText(text).width;
  if (known.size > 5_000) known.clear();
  known.set(key, width);
  return width;
}

/** Fonts that arrive later change every width. */
document.fonts?.addEventListener("loadingdone", () => known.clear());
