import { readFile } from "node:fs/promises";
import { basename, extname, join } from "node:path";
import { Fault } from "../../core/fault.ts";
import { walkAdvice } from "../../core/legs/advice/walk-advice.ts";
import { legSettingsOf } from "../../core/legs/leg-settings.ts";
import { legTableCsv } from "../../core/legs/table/leg-table-csv.ts";
import { legTableHtml, type TableFont } from "../../core/legs/table/leg-table-html.ts";
import { legTableJsonText } from "../../core/legs/table/leg-table-json.ts";
import { legTableText } from "../../core/legs/table/leg-table-text.ts";
import type { LegTable } from "../../core/legs/table/leg-table.ts";
import { walkFigures } from "../../core/legs/walk-figures.ts";
import type { LengthUnit } from "../../core/units/format.ts";
import { parseWalk } from "../../core/walk/walk-file.ts";
import { legEndsOf } from "../../core/walk/leg-ends.ts";
import { ownInstructionsOf } from "../../core/walk/own-instruction.ts";
import { type PaperName, paperSize } from "../../core/sheet/page/paper-size.ts";
import { legTablePages, type TableWish } from "../../core/sheet/tables/leg-table-pages.ts";
import { findApp } from "../services/app-folder.ts";
import { type AdviceFlags, adviceOf } from "./advice-flags.ts";
import { checkFolderOf, deliver } from "./product.ts";
import { readInputText } from "./read-input.ts";
import { say } from "./say.ts";
import { blanksOf, columnsOf } from "./sheet-flags.ts";
import { TABLE_FORMATS, type TableFormat } from "./table-format.ts";
import { groundOf } from "./walk-ground.ts";
import { type CompassFlags, compassOf, type WalkFlags, walkEdit } from "./walk-flags.ts";

export interface TableOptions extends WalkFlags, CompassFlags, AdviceFlags {
  readonly map?: string;
  readonly length?: LengthUnit;
  readonly explain?: true;
  readonly describe?: true;
  readonly format?: TableFormat;
  readonly out?: string;
  readonly columns?: string;
  readonly blank?: string;
  readonly large?: true;
  readonly blackAndWhite?: true;
  readonly paper?: PaperName;
  readonly landscape?: true;
}

/** What only pages have. */
const OF_PAGES = ["columns", "blank", "large", "blackAndWhite", "paper", "landscape"] as const;

/** `table WALK`: the leg table of a walk file, or of any GeoJSON with one line or points in order. */
export async function table(walkPath: string, options: TableOptions): Promise<void> {
  const edited = walkEdit(options);
  const compass = compassOf(options);
  const wanted = adviceOf(options);
  const format = options.format ?? formatOf(options.out);
  if (options.explain && format !== "text" && format !== "json")
    throw new Fault(
      "bad-argument",
      `A table as ${format} has no room for explanations.`,
      "--explain",
      "Use --format text or json.",
    );
  if (options.describe && format === "csv")
    throw new Fault(
      "bad-argument",
      "A table as csv always has the description, in a column of its own.",
      "--describe",
      "Leave it out, or use --format text, html or pdf.",
    );
  const stray = OF_PAGES.find((flag) => options[flag] !== undefined);
  if (stray && format !== "pdf")
    throw new Fault(
      "bad-argument",
      `A table as ${format} has no pages.`,
      `--${stray.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`,
      "Leave it out, or use --format pdf.",
    );
  const look = lookOf(options);
  if (options.out !== undefined) await checkFolderOf(options.out);
  const today = new Date().toISOString().slice(0, 10);
  const parsed = parseWalk(await readInputText(walkPath), basename(walkPath), today);
  for (const repair of parsed.repairs) say(`note: ${repair}`);
  if (parsed.newer)
    say("note: the walk was written by a newer version; what this one does not know is left out.");
  const walk = edited(parsed.walk);

  const { ground, note } = await groundOf(walk, options.map);
  const lengthUnit = options.length ?? "metric";
  const settings = legSettingsOf(walk, { graduationDeg: compass.graduationDeg, lengthUnit });
  const points = legEndsOf(walk);
  const figures = await walkFigures(points, ground, settings);
  if (note !== null) say(`note: ${note}`);
  const advice = wanted && (await walkAdvice(figures.legs, ground, settings, wanted));
  const legs: LegTable = {
    title: walk.title,
    date: walk.date,
    points,
    figures: note === null ? figures : { ...figures, notes: [note, ...figures.notes] },
    map: ground?.map.info ?? null,
    settings,
    north: walk.north,
    compass,
    lengthUnit,
    notes: walk.notes,
    ownInstructions: ownInstructionsOf(walk.points, figures.legs),
    ...(advice && { advice }),
    describe: options.describe ?? false,
  };
  await deliver(
    options.explain ? await explained(format, legs) : await laidOut(format, legs, look),
    options.out,
  );
}

function formatOf(out: string | undefined): TableFormat {
  const ending = extname(out ?? "")
    .slice(1)
    .toLowerCase();
  return TABLE_FORMATS.find((format) => format === ending) ?? "text";
}

async function explained(format: TableFormat, legs: LegTable): Promise<string> {
  const { explainedJson, explainedText } = await import("./explain.ts");
  return format === "json" ? explainedJson(legs) : `${legTableText(legs)}\n${explainedText(legs)}`;
}

function lookOf({ columns, blank, large, blackAndWhite, paper, landscape }: TableOptions): TableWish {
  return {
    paper: paperSize(paper ?? "a4", landscape),
    columns: columnsOf(columns),
    blanks: blanksOf(blank),
    large: large ?? false,
    blackAndWhite: blackAndWhite ?? false,
  };
}

async function laidOut(format: TableFormat, legs: LegTable, look: TableWish): Promise<string | Uint8Array> {
  switch (format) {
    case "text":
      return legTableText(legs);
    case "json":
      return legTableJsonText(legs);
    case "csv":
      return legTableCsv(legs);
    case "html":
      return legTableHtml(legs, { fonts: await fonts() });
    case "pdf": {
      const [{ loadSheetFonts }, { pagesPdf }] = await Promise.all([
        import("../services/sheets/fonts.ts"),
        import("../services/sheets/pages-pdf.ts"),
      ]);
      const sheetFonts = await loadSheetFonts();
      const set = legTablePages(legs, look, sheetFonts.ruler);
      for (const told of set.notes) say(`note: ${told}`);
      return await pagesPdf(set, sheetFonts);
    }
  }
}

/** The document's own face, embedded: it must look the same on a computer that does not have it. */
async function fonts(): Promise<TableFont[]> {
  const folder = join(findApp().folder, "node_modules/@fontsource/atkinson-hyperlegible-next/files");
  return await Promise.all(
    ([400, 700] as const).map(async (weight) => {
      const bytes = await readFile(
        join(folder, `atkinson-hyperlegible-next-latin-${weight}-normal.woff2`),
      ).catch(() => {
        throw new Fault(
          "no-file",
          "A font of the app is missing.",
          "atkinson-hyperlegible-next",
          "Install the packages again: npm ci.",
        );
      });
      return { weight, dataUrl: `data:font/woff2;base64,${bytes.toString("base64")}` };
    }),
  );
}
