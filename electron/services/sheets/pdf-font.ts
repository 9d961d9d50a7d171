/**
 * A font file in a PDF: only the letters used, as a composite font (ISO 32000-1, 9.7) whose codes are our own, one for each pair of
 * glyph and text, so that every letter can be searched and copied as what it stands for, even one drawn as an empty box.
 */
import type { Font } from "fontkit";
import type { SetGlyph } from "./font-shaping.ts";
import type { PdfDocument, PdfId } from "./pdf-document.ts";
import { short } from "./pdf-bytes.ts";

interface Code {
  readonly id: number;
  readonly width: number;
  readonly text: string;
}

export class PdfFont {
  readonly #codes: Code[] = [];
  readonly #known = new Map<string, number>();

  constructor(
    /** Its name among the page's resources. */
    readonly name: string,
    readonly ref: PdfId,
    readonly font: Font,
  ) {}

  /** Code of a glyph, four hexadecimal digits, and the width the font gives it (thousandths). */
  code({ id, text }: SetGlyph): { readonly hex: string; readonly width: number } {
    const key = `${id}:${text}`;
    let index = this.#known.get(key);
    if (index === undefined) {
      const units = this.font.getGlyph(id).advanceWidth;
      index = this.#codes.push({ id, width: (units * 1000) / this.font.unitsPerEm, text }) - 1;
      this.#known.set(key, index);
    }
    return { hex: hex4(index + 1), width: (this.#codes[index] as Code).width };
  }

  /** Puts the font's objects into the document, once all text is set. */
  write(doc: PdfDocument, index: number): void {
    const { font } = this;
    const subset = font.createSubset();
    // It gives the glyph's number in the subset, whatever its types say.
    const glyphOf = this.#codes.map(({ id }) => Number(subset.includeGlyph(font.getGlyph(id))));
    const name = `${tag(index)}+${font.postscriptName}`;
    const perEm = 1000 / font.unitsPerEm;
    const whole = (units: number): number => Math.round(units * perEm);
    const { minX, minY, maxX, maxY } = font.bbox;
    const file = doc.stream(subset.encode(), "");
    const descriptor = doc.object(
      `<</Type/FontDescriptor/FontName/${name}/Flags 4/FontBBox[${[minX, minY, maxX, maxY].map(whole).join(" ")}]` +
        `/ItalicAngle ${short(font.italicAngle, 2)}/Ascent ${whole(font.ascent)}/Descent ${whole(font.descent)}` +
        `/CapHeight ${whole(font.capHeight)}/StemV 80/FontFile2 ${file} 0 R>>`,
    );
    const glyphs = Uint8Array.from([0, 0, ...glyphOf.flatMap((glyph) => [glyph >> 8, glyph & 255])]);
    const widths = this.#codes.map(({ width }) => short(width, 2)).join(" ");
    const inner = doc.object(
      `<</Type/Font/Subtype/CIDFontType2/BaseFont/${name}/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>` +
        `/FontDescriptor ${descriptor} 0 R/DW 0/W[1[${widths}]]/CIDToGIDMap ${doc.stream(glyphs, "")} 0 R>>`,
    );
    const unicode = doc.stream(Buffer.from(toUnicode(this.#codes), "latin1"), "");
    doc.object(
      `<</Type/Font/Subtype/Type0/BaseFont/${name}/Encoding/Identity-H/DescendantFonts[${inner} 0 R]/ToUnicode ${unicode} 0 R>>`,
      this.ref,
    );
  }
}

const hex4 = (n: number): string => n.toString(16).toUpperCase().padStart(4, "0");

/** UTF-16, big end first, in hexadecimal digits. */
export const utf16Hex = (text: string): string =>
  Array.from({ length: text.length }, (_, i) => hex4(text.charCodeAt(i))).join("");

/** Six letters before a subset's name, another for each font of the file. */
const tag = (index: number): string =>
  [4, 3, 2, 1, 0].reduce(
    (text, place) => text + String.fromCharCode(65 + (Math.floor(index / 26 ** place) % 26)),
    "S",
  );

function toUnicode(codes: readonly Code[]): string {
  // A glyph without text of its own (the mark after its letter) reads as nothing.
  const lines = codes.flatMap(({ text }, i) => (text ? [`<${hex4(i + 1)}><${utf16Hex(text)}>`] : []));
  const blocks: string[] = [];
  for (let i = 0; i < lines.length; i += 100) {
    const some = lines.slice(i, i + 100);
    blocks.push(`${some.length} beginbfchar`, ...some, "endbfchar");
  }
  return [
    "/CIDInit /ProcSet findresource begin 12 dict begin begincmap",
    "/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def",
    "/CMapName /Adobe-Identity-UCS def /CMapType 2 def",
    "1 begincodespacerange <0000> <FFFF> endcodespacerange",
    ...blocks,
    "endcmap CMapName currentdict /CMap defineresource pop end end",
  ].join("\n");
}
