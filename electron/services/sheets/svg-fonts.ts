import type { Face, PageItem } from "../../../core/sheet/page/page.ts";
import type { FontFile } from "./font-files.ts";
import type { SheetFonts } from "./fonts.ts";

/** Rules that carry with a page the fonts its letters are set in, and no others. */
export function fontCssOf(items: readonly PageItem[], fonts: SheetFonts): string {
  const used = new Set<FontFile>();
  const visit = (item: PageItem): void => {
    if (item.kind === "group") item.items.forEach(visit);
    else if (item.kind === "text") for (const file of filesIn(item.text, item.face, fonts)) used.add(file);
  };
  items.forEach(visit);
  return [...used].map((file) => rule(file, fonts.webFont(file))).join("");
}

const filesIn = (text: string, face: Face, fonts: SheetFonts): FontFile[] =>
  fonts.set(text, face).map(({ source }) => source.file);

function rule({ family, weight, style, range }: FontFile, bytes: Uint8Array): string {
  const data = Buffer.from(bytes).toString("base64");
  return `@font-face{font-family:"${family}";font-weight:${weight};font-style:${style};unicode-range:${range};src:url(data:font/woff2;base64,${data}) format("woff2")}`;
}
