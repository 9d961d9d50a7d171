/** A page ready for paper. */
export interface PrintedPage {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly svg: string;
}

/** Sends pages to a printer the person chooses, each on paper of its own size, neither grown nor shrunk. */
export interface PagePrinter {
  /** @throws Fault "cancelled" when the person chose none, "unavailable" when the system could not print */
  print(title: string, pages: readonly PrintedPage[]): Promise<void>;
}
