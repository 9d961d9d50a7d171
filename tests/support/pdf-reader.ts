/**
 * What stands on a PDF's pages, read from its drawing operators and told in millimetres of the paper from its upper left corner,
 * y down, so that tests measure what will be printed. See tests/electron/services/sheets/pdf-reader.test.ts for what it was held to.
 */
import { PageReader } from "./pdf-operators.ts";
import { PdfFile, type PdfDict, PdfName, PdfString, type PdfValue } from "./pdf-objects.ts";
import type { ReadFont } from "./pdf-fonts.ts";

export interface PdfBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface PdfPath {
  readonly kind: "path";
  /** x, y, x, y … millimetres, a part a subpath; curves in eighths. */
  readonly parts: readonly Float64Array[];
  /** Which parts are closed. */
  readonly closed: readonly boolean[];
  /** "#rrggbb", or null where it is not filled. */
  readonly fill: string | null;
  readonly evenOdd: boolean;
  readonly fillOpacity: number;
  readonly stroke: {
    readonly ink: string;
    readonly widthMm: number;
    readonly dashMm: readonly number[];
    readonly opacity: number;
  } | null;
  /** The box it is cut at, all clips met; null where nothing cuts it. */
  readonly clip: PdfBox | null;
  /** Names of the groups (marked content) around it, outermost first. */
  readonly groups: readonly string[];
}

export interface PdfText {
  readonly kind: "text";
  readonly text: string;
  /** Start of the baseline. */
  readonly x: number;
  readonly y: number;
  /** Along the baseline, millimetres. */
  readonly widthMm: number;
  readonly sizeMm: number;
  /** Clockwise on the page. */
  readonly turnDeg: number;
  /** Fonts it is set in, by name, in order of use. */
  readonly fonts: readonly string[];
  readonly fill: string | null;
  /** Outline of the letters: a halo. */
  readonly stroke: { readonly ink: string; readonly widthMm: number } | null;
  readonly clip: PdfBox | null;
  readonly groups: readonly string[];
}

export interface PdfPage {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Width and height in points, as the file says. */
  readonly mediaBox: readonly number[];
  readonly paths: readonly PdfPath[];
  /** Text that is read; halos, which repeat it, are in `halos`. */
  readonly texts: readonly PdfText[];
  readonly halos: readonly PdfText[];
  readonly fonts: readonly ReadFont[];
}

export function readPdfPages(bytes: Uint8Array): PdfPage[] {
  const file = new PdfFile(bytes);
  const pages: PdfPage[] = [];
  const visit = (node: PdfDict, inherited: PdfDict): void => {
    const all: PdfDict = new Map([...inherited, ...node]);
    all.delete("Kids");
    if (node.has("Kids"))
      for (const kid of file.get(node.get("Kids")) as PdfValue[]) visit(file.dict(kid), all);
    else pages.push(readPage(file, all));
  };
  visit(file.dict(file.dict(file.trailer.get("Root")).get("Pages")), new Map());
  return pages;
}

/** Title, producer, dates … of the file, and the language and the print scaling it asks for. */
export function readPdfFacts(bytes: Uint8Array): Record<string, string> {
  const file = new PdfFile(bytes);
  const root = file.dict(file.trailer.get("Root"));
  const facts: Record<string, string> = {};
  const put = (key: string, value: PdfValue): void => {
    if (value instanceof PdfName) facts[key] = value.name;
    if (value instanceof PdfString)
      facts[key] = value.bytes.startsWith("\xfe\xff")
        ? Buffer.from(value.bytes.slice(2), "latin1").swap16().toString("utf16le")
        : value.bytes;
  };
  if (file.trailer.has("Info"))
    for (const [key, value] of file.dict(file.trailer.get("Info"))) put(key, file.get(value));
  put("Lang", file.get(root.get("Lang")));
  if (root.has("ViewerPreferences"))
    for (const [key, value] of file.dict(root.get("ViewerPreferences"))) put(key, file.get(value));
  return facts;
}

/** Texts of a page in the order they are drawn, one a line. */
export const pdfLines = (page: PdfPage): string[] => page.texts.map(({ text }) => text);

function readPage(file: PdfFile, page: PdfDict): PdfPage {
  const mediaBox = file.numbers(page.get("MediaBox"));
  const [left, bottom, right, top] = mediaBox as [number, number, number, number];
  const mm = 25.4 / 72;
  const reader = new PageReader(file, [mm, 0, 0, -mm, -left * mm, top * mm]);
  const contents = file.get(page.get("Contents"));
  const streams = Array.isArray(contents) ? (contents as PdfValue[]) : [page.get("Contents")];
  const content = Buffer.concat(streams.flatMap((s) => [file.stream(s), Buffer.from("\n")])).toString(
    "latin1",
  );
  reader.read(content, file.dict(page.get("Resources")));
  return {
    widthMm: (right - left) * mm,
    heightMm: (top - bottom) * mm,
    mediaBox,
    paths: reader.paths,
    texts: reader.texts.filter(({ fill }) => fill !== null),
    halos: reader.texts.filter(({ fill }) => fill === null),
    fonts: reader.fonts,
  };
}
