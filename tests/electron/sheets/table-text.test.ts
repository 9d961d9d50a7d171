/** What a reader of the PDF finds in it, by the tests' own reader of content streams. */
import { expect, test } from "vitest";
import { LEG_COLUMNS } from "../../../core/legs/table/leg-table.ts";
import { paperSize } from "../../../core/sheet/page/paper-size.ts";
import { legTablePages } from "../../../core/sheet/tables/leg-table-pages.ts";
import { loadSheetFonts } from "../../../electron/services/sheets/fonts.ts";
import { pagesPdf } from "../../../electron/services/sheets/pages-pdf.ts";
import { sampleTable } from "../../core/legs/support/sample-table.ts";
import { bare, expectApart, expectInside } from "../../core/sheet/tables/measured.ts";
import { readPdfPages } from "../../support/pdf-reader.ts";

test("the PDF's text has every row of the leg table in order; with the embedded faces all stays inside and apart", async () => {
  const fonts = await loadSheetFonts();
  const table = await sampleTable({ legs: 12, labels: ["Sheepfold", "B", "Stream junction below the wall"] });
  const set = legTablePages(table, { paper: paperSize("a4") }, fonts.ruler);
  for (const page of set.pages) {
    expectInside(page, 5, fonts.ruler);
    expectApart(page, fonts.ruler);
  }
  const all = bare(
    readPdfPages(await pagesPdf(set, fonts))
      .flatMap(({ texts }) => texts.map(({ text }) => text))
      .join(""),
  );
  let at = 0;
  for (const leg of table.figures.legs) {
    const figures = (["bearing", "back", "other", "distanceM", "paces", "climbM", "descentM"] as const).map(
      (id) => LEG_COLUMNS[id].text(leg, table),
    );
    const row = bare(`${leg.from} → ${leg.to}${figures.join("")}`);
    const found = all.indexOf(row, at);
    expect(found, row).toBeGreaterThanOrEqual(at);
    at = found;
  }
});
