/** The fonts a page's text is set in, as style rules that carry them: for an SVG file that must look the same elsewhere. */
import type { Face, PageItem } from "../../../core/sheet/page/page.ts";
import type { FontFile } from "./font-files.ts";
import type { SheetFonts } from "./fonts.ts";

/** One `@font-face` for each file that any letter of the items comes from. */
export function sheetFontCss(items: readonly PageItem[], fonts: SheetFonts): string {
  const used = new Set<FontFile>();
  for (const [text, face] of textsOf(items))
    for (const { source } of fonts.set(text, face)) used.add(source.file);
  return [...used].map((file) => rule(file, fonts)).join("\n");
}

function* textsOf(items: readonly PageItem[]): Generator<readonly [string, Face]> {
  for (const item of items)
    if (item.kind === "group") yield* textsOf(item.items);
    else if (item.kind === "text") yield [item.text, item.face];
}

function rule(file: FontFile, fonts: SheetFonts): string {
  const data = Buffer.from(fonts.webFont(file)).toString("base64");
  return (
    `@font-face{font-family:"${file.family}";font-weight:${file.weight};font-style:${file.style};` +
    `unicode-range:${file.range};src:url(data:font/woff2;base64,${data}) format("woff2")}`
  );
}
