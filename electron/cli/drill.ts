/** `drill`: a worksheet of questions on a map, with or without its answers. */
import { extname } from "node:path";
import { DRILL_CAUTIONS } from "../../core/course/cautions.ts";
import {
  DRILL_KINDS,
  type DrillKind,
  type Question,
  type Worksheet,
} from "../../core/course/drills/drill.ts";
import type { DrillLevel } from "../../core/course/drills/level.ts";
import { makeWorksheet } from "../../core/course/drills/make-worksheet.ts";
import { Fault } from "../../core/fault.ts";
import { formatPosition } from "../../core/geodesy/format-position.ts";
import { INVENTED } from "../../core/legs/cautions.ts";
import { DEFAULT_LEG_SETTINGS } from "../../core/legs/leg-settings.ts";
import { type PaperName, paperSize } from "../../core/sheet/page/paper-size.ts";
import { worksheetPages, type WorksheetWish } from "../../core/sheet/worksheet/worksheet-pages.ts";
import type { Ground } from "../../core/terrain/ground.ts";
import { formatLength } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import { formatScale, parseScale } from "../../core/units/scale.ts";
import { checkDay } from "../../core/walk/walk-rules.ts";
import { saveAtomically } from "../services/atomic-save.ts";
import { loadSheetFonts } from "../services/sheets/fonts.ts";
import { filesOf } from "../services/sheets/set-files.ts";
import { numberOf, placeOf } from "./fix-read.ts";
import { openGroundAt } from "./map-files.ts";
import { checkFolderOf, deliver } from "./product.ts";
import { row } from "./rows.ts";
import { say } from "./say.ts";

export interface DrillOptions {
  readonly map: string;
  readonly at: string;
  readonly radius: string;
  readonly scale: string;
  readonly kinds?: string;
  readonly questions: string;
  readonly level: DrillLevel;
  readonly seed?: string;
  readonly date?: string;
  readonly answers?: true;
  readonly format?: "text" | "json";
  readonly out?: string;
  readonly paper: PaperName;
  readonly large?: true;
  readonly blackAndWhite?: true;
}

/** As typed: "aim-off". */
const typed = (kind: DrillKind): string => kind.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

const KINDS_TYPED: readonly string[] = DRILL_KINDS.map(typed);

export async function drill(options: DrillOptions): Promise<void> {
  const date = checkDay(options.date ?? new Date().toISOString().slice(0, 10), "--date");
  const wish = {
    centre: placeOf(options.at, null),
    radiusM: parseLength(options.radius),
    scale: parseScale(options.scale),
    kinds: kindsOf(options.kinds),
    questions: numberOf(options.questions, 0, "--questions"),
    level: options.level,
    seed: numberOf(options.seed, 1, "--seed"),
  };
  const pdf = options.out !== undefined && extname(options.out).toLowerCase() === ".pdf";
  if (pdf && options.format === "json")
    throw new Fault("bad-argument", "A PDF has no other form.", "--format", "Leave it out.");
  if (options.out !== undefined) await checkFolderOf(options.out);
  const ground = await openGroundAt(options.map);
  const { title, invented } = ground.map.info;
  const worksheet = await makeWorksheet(wish, ground, { ...DEFAULT_LEG_SETTINGS, date });
  const { questions, notes } = worksheet;
  const answers = options.answers === true;
  if (pdf) return await printed(worksheet, ground, options, options.out, date);
  const cautions = [...(invented ? [INVENTED] : []), ...DRILL_CAUTIONS];
  if (options.format === "json") {
    const told = { date, map: { title, invented }, wish, questions: questions.map(toldOf(answers)), notes };
    return await deliver(`${JSON.stringify({ ...told, cautions }, null, 2)}\n`, options.out);
  }
  const rows = [
    row("Day", date),
    row("Map", title),
    row(
      "Sheet",
      `within ${formatLength(wish.radiusM)} of ${formatPosition(wish.centre, "mgrs")}, at ${formatScale(wish.scale)}`,
    ),
    ...questions.flatMap((question) => ["", ...questionRows(question, answers)]),
    "",
    ...notes.map((note) => row("Note", note)),
    ...(answers ? [] : [row("Note", "Where the marks stand, and the answers, come with --answers.")]),
    ...cautions.map((caution) => row("Caution", caution)),
  ];
  await deliver(rows.map((line) => `${line}\n`).join(""), options.out);
}

/** The learner's pages, with `--answers` the key after them. */
async function printed(
  worksheet: Worksheet,
  ground: Ground,
  { answers, paper, large, blackAndWhite }: DrillOptions,
  out: string,
  date: string,
): Promise<void> {
  const fonts = await loadSheetFonts();
  const wish: WorksheetWish = {
    parts: answers ? ["learner", "key"] : ["learner"],
    date,
    paper: paperSize(paper),
    large: large ?? false,
    blackAndWhite: blackAndWhite ?? false,
  };
  const set = await worksheetPages(worksheet, wish, ground, fonts.ruler);
  for (const note of set.notes) say(`note: ${note}`);
  await saveAtomically(out, (await filesOf(set, "pdf", fonts))[0] as Uint8Array);
}

function kindsOf(text: string | undefined): readonly DrillKind[] {
  if (text === undefined) return DRILL_KINDS;
  return text.split(",").map((word) => {
    const kind = DRILL_KINDS.find((one) => typed(one) === word.trim().toLowerCase());
    if (kind) return kind;
    throw new Fault(
      "bad-argument",
      `There is no kind of question called “${word.trim()}”.`,
      "--kinds",
      `There are ${KINDS_TYPED.join(", ")}.`,
    );
  });
}

function questionRows({ n, ask, marks, joined, answer, working }: Question, answers: boolean): string[] {
  if (!answers) return [row(`Question ${n}`, ask), row("Answer", "")].map((line) => line.trimEnd());
  return [
    row(`Question ${n}`, ask),
    ...marks.map(({ label, lonLat }) =>
      row(`  Mark ${label}`, `${formatPosition(lonLat, "mgrs")}, ${formatPosition(lonLat, "dd")}`),
    ),
    ...(joined && marks.length > 1 ? [row("", "Join the marks by a line.")] : []),
    row("  Answer", answer.text),
    row("", answer.accepted),
    ...working.map((step, i) => row(i === 0 ? "  How" : "", step)),
  ];
}

/** For programs: the marks always, which a learner's sheet draws; the answers only when asked for. */
const toldOf =
  (answers: boolean) =>
  ({ answer, working, ...question }: Question) =>
    answers ? { ...question, answer, working } : question;
