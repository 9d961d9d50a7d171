import type { PageSet } from "../../../core/sheet/page/page.ts";
import { pageSvg } from "../../../core/sheet/page/page-svg.ts";
import type { PageFileKind } from "../../contract.ts";
import type { SheetFonts } from "./fonts.ts";
import { pagesPdf } from "./pages-pdf.ts";
import { fontCssOf } from "./svg-fonts.ts";

/** The files of a page set: one PDF, or one SVG for each page, its fonts within it. */
export async function filesOf(
  set: PageSet,
  kind: PageFileKind,
  fonts: SheetFonts,
): Promise<readonly (string | Uint8Array)[]> {
  if (kind === "pdf") return [await pagesPdf(set, fonts, { date: new Date() })];
  return set.pages.map((page) =>
    pageSvg(page, { fontCss: fontCssOf(page.items, fonts), ruler: fonts.ruler }),
  );
}
