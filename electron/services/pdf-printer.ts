/** Turns a self-contained HTML document with its own @page size into a PDF. */
export interface PdfPrinter {
  /** @throws Fault "unavailable" when nothing here can print */
  print(html: string): Promise<Uint8Array>;
}
