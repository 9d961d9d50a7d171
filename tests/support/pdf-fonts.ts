/** Codes of a composite font in a PDF to text and widths (ISO 32000-1, 9.7 and 9.10.3). */
import {
  PdfFile,
  PdfLexer,
  PdfName,
  PdfString,
  PdfWord,
  type PdfDict,
  type PdfValue,
} from "./pdf-objects.ts";

export interface ReadFont {
  /** As the file names it: "ABCDEF+NotoSans". */
  readonly name: string;
  readonly embedded: boolean;
  /** Two bytes a code, or one. */
  readonly wide: boolean;
  textOf(code: number): string;
  /** Thousandths of the font size. */
  widthOf(code: number): number;
}

export function readFont(file: PdfFile, dict: PdfDict): ReadFont {
  const name = (file.get(dict.get("BaseFont")) as PdfName | null)?.name ?? "";
  const texts = dict.has("ToUnicode") ? readToUnicode(file.stream(dict.get("ToUnicode"))) : null;
  const composite = (file.get(dict.get("Subtype")) as PdfName).name === "Type0";
  const inner = composite ? file.dict((file.get(dict.get("DescendantFonts")) as PdfValue[])[0]) : dict;
  const widths = new Map<number, number>();
  if (composite) readWidths(file, inner, widths);
  else {
    const first = (file.get(dict.get("FirstChar")) as number | null) ?? 0;
    if (dict.has("Widths"))
      for (const [i, w] of file.numbers(dict.get("Widths")).entries()) widths.set(first + i, w);
  }
  const usual = (file.get(inner.get("DW")) as number | null) ?? (composite ? 1000 : 0);
  const descriptor = inner.has("FontDescriptor") ? file.dict(inner.get("FontDescriptor")) : null;
  return {
    name,
    embedded: ["FontFile", "FontFile2", "FontFile3"].some((key) => descriptor?.has(key)),
    wide: composite,
    textOf: (code) => texts?.get(code) ?? (composite ? "\uFFFD" : String.fromCharCode(code)),
    widthOf: (code) => widths.get(code) ?? usual,
  };
}

function readWidths(file: PdfFile, inner: PdfDict, widths: Map<number, number>): void {
  const all = ((file.get(inner.get("W")) as PdfValue[] | null) ?? []).map((v) => file.get(v));
  for (let i = 0; i < all.length;) {
    const first = all[i] as number;
    const next = all[i + 1];
    if (Array.isArray(next)) {
      for (const [k, w] of file.numbers(next).entries()) widths.set(first + k, w);
      i += 2;
    } else {
      for (let code = first; code <= (next as number); code++) widths.set(code, all[i + 2] as number);
      i += 3;
    }
  }
}

const codeOf = ({ bytes }: PdfString): number =>
  Buffer.from(bytes, "latin1").reduce((sum, byte) => sum * 256 + byte, 0);
const utf16 = ({ bytes }: PdfString): string => Buffer.from(bytes, "latin1").swap16().toString("utf16le");

/** Code to text, from the `bfchar` and `bfrange` of a CMap. */
function readToUnicode(bytes: Uint8Array): Map<number, string> {
  const lexer = new PdfLexer(Buffer.from(bytes).toString("latin1"));
  const texts = new Map<number, string>();
  let held: PdfValue[] = [];
  while (!lexer.done) {
    const value = lexer.value();
    if (!(value instanceof PdfWord)) {
      held.push(value);
      continue;
    }
    if (value.word === "endbfchar")
      for (let i = 0; i + 1 < held.length; i += 2)
        texts.set(codeOf(held[i] as PdfString), utf16(held[i + 1] as PdfString));
    if (value.word === "endbfrange")
      for (let i = 0; i + 2 < held.length; i += 3) {
        const [from, to, target] = [
          codeOf(held[i] as PdfString),
          codeOf(held[i + 1] as PdfString),
          held[i + 2],
        ];
        for (let code = from; code <= to; code++)
          if (target instanceof PdfString) {
            const start = utf16(target);
            const last = start.charCodeAt(start.length - 1) + code - from;
            texts.set(code, start.slice(0, -1) + String.fromCharCode(last));
          } else texts.set(code, utf16((target as PdfString[])[code - from] as PdfString));
      }
    held = [];
  }
  return texts;
}
