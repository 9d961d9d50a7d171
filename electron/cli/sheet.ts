import { basename, extname } from "node:path";
import { Fault } from "../../core/fault.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../core/legs/advice/advice-settings.ts";
import { legChoicesOf } from "../../core/legs/advice/aid-settings.ts";
import { DEFAULT_LEG_SETTINGS } from "../../core/legs/leg-settings.ts";
import { fieldSheets } from "../../core/sheet/field-sheet.ts";
import type { PlacedFrame } from "../../core/sheet/layout/sheet-plan.ts";
import type { PageSet } from "../../core/sheet/page/page.ts";
import type { PaperName } from "../../core/sheet/page/paper-size.ts";
import { type PrintWish, type SheetJob, type SheetPart, USUAL_WISH } from "../../core/sheet/sheet-job.ts";
import { parseLength } from "../../core/units/length.ts";
import { parseScale } from "../../core/units/scale.ts";
import { parseWalk } from "../../core/walk/walk-file.ts";
import { saveAll, saveAtomically } from "../services/atomic-save.ts";
import { loadSheetFonts } from "../services/sheets/fonts.ts";
import { numberedNames } from "../services/sheets/numbered-names.ts";
import { filesOf } from "../services/sheets/set-files.ts";
import { namedDefinition } from "./named-grid.ts";
import { checkFolderOf } from "./product.ts";
import { progressLine } from "./progress-line.ts";
import { readInputText } from "./read-input.ts";
import { readPosition } from "./read-position.ts";
import { say } from "./say.ts";
import { askedOf, blanksOf, columnsOf } from "./sheet-flags.ts";
import { partyOf, toleranceOf } from "./sheet-pairs.ts";
import { groundOf } from "./walk-ground.ts";
import { type CompassFlags, compassOf, type WalkFlags, walkEdit } from "./walk-flags.ts";

export interface SheetOptions extends WalkFlags, CompassFlags {
  readonly map?: string;
  readonly out: string;
  readonly scale?: string;
  readonly paper: PaperName;
  readonly landscape?: true;
  readonly fit?: true;
  readonly strips?: true;
  readonly up?: "leg" | "north";
  readonly at?: readonly string[];
  readonly index?: true;
  readonly grid?: string;
  readonly gridLines: boolean;
  readonly magneticLines?: true | string;
  readonly handrails?: true;
  readonly backstops?: true;
  readonly hazards?: true;
  readonly cone?: true;
  readonly roamer?: true;
  readonly sheets: boolean;
  readonly table?: true;
  readonly routeCard?: true;
  readonly pocket?: true;
  readonly handout?: true;
  readonly answers?: true;
  readonly columns?: string;
  readonly blank?: string;
  readonly party?: readonly string[];
  readonly ask?: string;
  readonly tolerance?: readonly string[];
  readonly large?: true;
  readonly blackAndWhite?: true;
  readonly advice?: true;
  readonly length: "metric" | "imperial";
}

/** `sheet WALK --out FILE`: field sheets and what else is to be carried, as one PDF or as SVG files. */
export async function sheet(walkPath: string, options: SheetOptions): Promise<void> {
  const kind = kindOf(options.out);
  const edited = walkEdit(options);
  const compass = compassOf(options);
  const wish = await wishOf(options);
  await checkFolderOf(options.out);
  const today = new Date().toISOString().slice(0, 10);
  const parsed = parseWalk(await readInputText(walkPath), basename(walkPath), today);
  for (const repair of parsed.repairs) say(`note: ${repair}`);
  const walk = edited(parsed.walk);
  const { ground, note } = await groundOf(walk, options.map);
  if (note !== null) say(`note: ${note}`);
  const job: SheetJob = {
    walk,
    wish,
    compass,
    lengthUnit: options.length,
    choices: legChoicesOf(DEFAULT_LEG_SETTINGS),
    advice: DEFAULT_ADVICE_SETTINGS,
  };
  const fonts = await loadSheetFonts();
  const line = progressLine(process.stderr);
  const set = await fieldSheets(job, ground, fonts.ruler, {
    progress: async (done, all) => line.show(`Drawing page ${done + 1} of ${all} …`),
  }).finally(() => line.clear());
  for (const told of set.notes) say(`note: ${told}`);
  await write(set, kind, options.out);

  async function write(pages: PageSet, as: "pdf" | "svg", out: string): Promise<void> {
    const files = await filesOf(pages, as, fonts);
    const [only] = files;
    if (files.length === 1 && only !== undefined) return await saveAtomically(out, only);
    const names = numberedNames(out, files.length);
    await saveAll(files.map((content, i) => ({ path: names[i] as string, content })));
  }
}

function kindOf(out: string): "pdf" | "svg" {
  const ending = extname(out).toLowerCase();
  if (ending === ".pdf" || ending === ".svg") return ending === ".pdf" ? "pdf" : "svg";
  throw new Fault(
    "bad-argument",
    "Pages are written as PDF or as SVG; the name says neither.",
    basename(out),
    "End it in .pdf or .svg.",
  );
}

const together = (one: string, other: string): Fault =>
  new Fault("bad-argument", `${one} and ${other} do not go together.`, null, "Leave one of them out.");

/** @throws Fault "bad-argument" naming what cannot be */
async function wishOf(options: SheetOptions): Promise<PrintWish> {
  if (options.fit && options.strips) throw together("--fit", "--strips");
  if (options.fit && options.scale !== undefined) throw together("--fit", "--scale");
  if (options.at && (options.fit || options.strips))
    throw together("--at", options.fit ? "--fit" : "--strips");
  if (options.up && !options.strips)
    throw new Fault("bad-argument", "This belongs to strips.", "--up", "Add --strips.");
  const parts: SheetPart[] = [
    ...(options.sheets ? (["sheets"] as const) : []),
    ...(options.table ? (["table"] as const) : []),
    ...(options.routeCard ? (["card"] as const) : []),
    ...(options.pocket ? (["pocket"] as const) : []),
    ...(options.handout ? (["handout"] as const) : []),
    ...(options.answers ? (["answers"] as const) : []),
  ];
  if (parts.length === 0)
    throw new Fault(
      "bad-argument",
      "There is nothing to print.",
      "--no-sheets",
      "Add --table, --route-card, --pocket, --handout or --answers.",
    );
  const scale = options.scale === undefined ? USUAL_WISH.scale : parseScale(options.scale);
  return {
    ...USUAL_WISH,
    parts,
    paper: options.paper,
    landscape: options.landscape ?? false,
    scale,
    way: options.fit ? "fit" : options.strips ? "strips" : "cover",
    up: options.up ?? "leg",
    frames: options.at ? options.at.map((text): PlacedFrame => ({ centre: placeOf(text), scale })) : null,
    index: options.index ?? false,
    grid: options.grid === undefined ? null : await namedDefinition(options.grid),
    gridLines: options.gridLines,
    magneticLinesMm: spacingOf(options.magneticLines),
    roamer: options.roamer ?? false,
    handrails: options.handrails ?? false,
    backstops: options.backstops ?? false,
    hazards: options.hazards ?? false,
    cone: options.cone ?? false,
    columns: columnsOf(options.columns),
    blanks: blanksOf(options.blank),
    party: partyOf(options.party),
    hidden: askedOf(options.ask),
    tolerance: toleranceOf(options.tolerance),
    advice: options.advice ?? false,
    large: options.large ?? false,
    blackAndWhite: options.blackAndWhite ?? false,
  };
}

const placeOf = (text: string): PlacedFrame["centre"] =>
  readPosition(text, { from: "any", near: null, grid: null }).lonLat;

/** Millimetres; null when no lines are asked for. */
function spacingOf(given: true | string | undefined): number | null {
  if (given === undefined) return null;
  if (given === true) return 40;
  const mm = /[a-z]/i.test(given) ? parseLength(given) * 1000 : Number(given);
  if (mm >= 5 && mm <= 500) return mm;
  throw new Fault(
    "bad-argument",
    `“${given}” is no distance between lines of magnetic north.`,
    "--magnetic-lines",
    "Give 5 to 500 mm.",
  );
}
