/** Pages to a PDF: vector, true to scale, text that can be searched and copied, fonts within. */
import type { PageSet } from "../../../core/sheet/page/page.ts";
import type { FontSource } from "./font-shaping.ts";
import type { SheetFonts } from "./fonts.ts";
import { short } from "./pdf-bytes.ts";
import { pageContent, type PdfShared } from "./pdf-content.ts";
import { PdfDocument, type PdfId } from "./pdf-document.ts";
import { PdfFont, utf16Hex } from "./pdf-font.ts";

export interface PdfWish {
  /** When the pages were made; absent, the file tells no date, and the same pages give the same bytes. */
  readonly date?: Date;
  /** Language of the text, for those who have it read aloud. Default "en-GB". */
  readonly language?: string;
}

const points = (mm: number): string => short((mm * 72) / 25.4, 6);

/**
 * The set as one PDF file. Viewers are asked not to scale it on printing (ISO 32000-1, 12.2, PrintScaling).
 * @returns the file's bytes
 */
export async function pagesPdf(set: PageSet, fonts: SheetFonts, wish: PdfWish = {}): Promise<Uint8Array> {
  const doc = new PdfDocument();
  const [root, tree, resources] = [doc.reserve(), doc.reserve(), doc.reserve()];
  const shared = sharedOf(doc, fonts);
  const kids: PdfId[] = [];
  for (const page of set.pages) {
    const content = doc.stream(pageContent(page, shared), "");
    kids.push(
      doc.object(
        `<</Type/Page/Parent ${tree} 0 R/MediaBox[0 0 ${points(page.widthMm)} ${points(page.heightMm)}]` +
          `/Resources ${resources} 0 R/Contents ${content} 0 R>>`,
      ),
    );
    // Between pages whoever shares this thread has a turn.
    await new Promise((resolve) => setImmediate(resolve));
  }
  doc.object(shared.resources(), resources);
  doc.object(`<</Type/Pages/Count ${kids.length}/Kids[${kids.map((id) => `${id} 0 R`).join(" ")}]>>`, tree);
  const outline = kids.length > 1 ? `/Outlines ${outlines(doc, set, kids)} 0 R` : "";
  doc.object(
    `<</Type/Catalog/Pages ${tree} 0 R/Lang ${string(wish.language ?? "en-GB")}` +
      `/ViewerPreferences<</DisplayDocTitle true/PrintScaling/None>>${outline}>>`,
    root,
  );
  const date = wish.date ? `/CreationDate(${pdfDate(wish.date)})` : "";
  const info = doc.object(`<</Title ${string(set.title)}/Producer(Legwright)${date}>>`);
  return doc.end(root, info);
}

function sharedOf(doc: PdfDocument, fonts: SheetFonts): PdfShared & { resources(): string } {
  const used = new Map<FontSource, PdfFont>();
  const opacities = new Map<number, string>();
  return {
    set: (text, face) => fonts.set(text, face),
    widthMm: (text, face, sizeMm) => fonts.ruler.widthMm(text, face, sizeMm),
    fontOf({ source }) {
      let font = used.get(source);
      if (!font) used.set(source, (font = new PdfFont(`F${used.size}`, doc.reserve(), source.font)));
      return font;
    },
    opacityName(opacity) {
      let name = opacities.get(opacity);
      if (!name) opacities.set(opacity, (name = `G${opacities.size}`));
      return name;
    },
    resources() {
      [...used.values()].forEach((font, i) => font.write(doc, i));
      const fontList = [...used.values()].map(({ name, ref }) => `/${name} ${ref} 0 R`).join("");
      const states = [...opacities].map(([opacity, name]) => `/${name}<</ca ${short(opacity, 3)}>>`).join("");
      return `<</Font<<${fontList}>>/ExtGState<<${states}>>>>`;
    },
  };
}

/** The pages' titles, as a list to go by. */
function outlines(doc: PdfDocument, { pages }: PageSet, kids: readonly PdfId[]): PdfId {
  const list = doc.reserve();
  const entries = kids.map(() => doc.reserve());
  for (const [i, id] of entries.entries()) {
    const before = i > 0 ? `/Prev ${entries[i - 1]} 0 R` : "";
    const after = i + 1 < entries.length ? `/Next ${entries[i + 1]} 0 R` : "";
    doc.object(
      `<</Title ${string(pages[i]?.title ?? "")}/Parent ${list} 0 R${before}${after}/Dest[${kids[i]} 0 R/Fit]>>`,
      id,
    );
  }
  return doc.object(
    `<</Type/Outlines/First ${entries[0]} 0 R/Last ${entries.at(-1)} 0 R/Count ${entries.length}>>`,
    list,
  );
}

/** Text in UTF-16, as hexadecimal digits: nothing in it needs escaping. */
const string = (text: string): string => `<FEFF${utf16Hex(text)}>`;

const pdfDate = (date: Date): string => `D:${date.toISOString().slice(0, 19).replace(/\D/g, "")}Z`;
