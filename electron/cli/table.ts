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
import type { Ground } from "../../core/terrain/ground.ts";
import { parseWalk } from "../../core/walk/walk-file.ts";
import { legEndsOf } from "../../core/walk/leg-ends.ts";
import { ownInstructionsOf } from "../../core/walk/own-instruction.ts";
import type { Walk } from "../../core/walk/walk.ts";
import { findApp } from "../services/app-folder.ts";
import { type AdviceFlags, adviceOf } from "./advice-flags.ts";
import { findMap, openGroundAt } from "./map-files.ts";
import { checkFolderOf, deliver } from "./product.ts";
import { readInputText } from "./read-input.ts";
import { say } from "./say.ts";
import { TABLE_FORMATS, type TableFormat } from "./table-format.ts";
import { type CompassFlags, compassOf, type WalkFlags, walkEdit } from "./walk-flags.ts";

export interface TableOptions extends WalkFlags, CompassFlags, AdviceFlags {
  readonly map?: string;
  readonly length?: LengthUnit;
  readonly explain?: true;
  readonly describe?: true;
  readonly format?: TableFormat;
  readonly out?: string;
}

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
  await deliver(options.explain ? await explained(format, legs) : await laidOut(format, legs), options.out);
}

/** The map asked for, else the one the walk was planned on when it is in the map case. */
async function groundOf(
  walk: Walk,
  mapPath: string | undefined,
): Promise<{ readonly ground: Ground | null; readonly note: string | null }> {
  if (mapPath !== undefined) return { ground: await openGroundAt(mapPath), note: null };
  if (walk.mapId === null)
    return {
      ground: null,
      note: "No map was given, and the walk names none: heights, crossings and aids are left out.",
    };
  const found = await findMap(walk.mapId);
  if (found !== null) return { ground: await openGroundAt(found), note: null };
  return {
    ground: null,
    note: "The map this walk was planned on is not in the map case: heights, crossings and aids are left out.",
  };
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

async function laidOut(format: TableFormat, legs: LegTable): Promise<string | Uint8Array> {
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
      const { chromiumPdf } = await import("../services/chromium-pdf.ts");
      return await chromiumPdf().print(legTableHtml(legs, { fonts: await fonts() }));
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
