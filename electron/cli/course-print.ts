/** Sheets of courses as a PDF: which, and on what paper. */
import { extname } from "node:path";
import { Fault } from "../../core/fault.ts";
import { COURSE_PARTS, type CoursePart } from "../../core/sheet/course/sheet-blocks.ts";
import type { PageSet } from "../../core/sheet/page/page.ts";
import { type PaperName, paperSize } from "../../core/sheet/page/paper-size.ts";
import type { TextRuler } from "../../core/sheet/page/text-ruler.ts";
import type { PaperLook } from "../../core/sheet/tables/paper-frame.ts";
import { saveAtomically } from "../services/atomic-save.ts";
import { loadSheetFonts } from "../services/sheets/fonts.ts";
import { filesOf } from "../services/sheets/set-files.ts";
import { say } from "./say.ts";

export interface CoursePrintOptions {
  readonly sheets?: string;
  readonly paper: PaperName;
  readonly large?: true;
  readonly blackAndWhite?: true;
}

/** The PDF to be written; null when something else is. */
export const pdfOf = (out: string | undefined): string | null =>
  out !== undefined && extname(out).toLowerCase() === ".pdf" ? out : null;

/** @throws Fault "bad-argument" for a sheet there is not */
function partsOf(text: string | undefined): readonly CoursePart[] {
  if (text === undefined) return COURSE_PARTS;
  return text.split(",").map((word) => {
    const part = COURSE_PARTS.find((one) => one === word.trim().toLowerCase());
    if (part) return part;
    throw new Fault(
      "bad-argument",
      `There is no sheet called “${word.trim()}”.`,
      "--sheets",
      `There are ${COURSE_PARTS.join(", ")}.`,
    );
  });
}

export async function printCourse(
  out: string,
  { sheets, paper, large, blackAndWhite }: CoursePrintOptions,
  pagesOf: (
    look: PaperLook & { readonly parts: readonly CoursePart[] },
    ruler: TextRuler,
  ) => Promise<PageSet>,
): Promise<void> {
  const look = {
    parts: partsOf(sheets),
    paper: paperSize(paper),
    large: large ?? false,
    blackAndWhite: blackAndWhite ?? false,
  };
  const fonts = await loadSheetFonts();
  const set = await pagesOf(look, fonts.ruler);
  for (const note of set.notes) say(`note: ${note}`);
  await saveAtomically(out, (await filesOf(set, "pdf", fonts))[0] as Uint8Array);
}
