/** A worksheet on paper: the learner's pages with map pieces, blanks and what counts as right, and the key with its worked solutions. */
import { DRILL_CAUTIONS } from "../../course/cautions.ts";
import type { Question, Worksheet } from "../../course/drills/drill.ts";
import { Fault } from "../../fault.ts";
import { formatPosition } from "../../geodesy/format-position.ts";
import type { MapInfo } from "../../map/metadata.ts";
import type { Ground } from "../../terrain/ground.ts";
import { FOOT_M } from "../../units/format.ts";
import { checkLine } from "../furniture/scale-bars.ts";
import { CHECK_MM } from "../furniture/sheet-room.ts";
import { mapFacts } from "../furniture/sheet-facts.ts";
import { drawnContours } from "../map/map-look.ts";
import { inGrey } from "../page/inks.ts";
import type { Page, PageItem, PageSet } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { onSheet } from "../tables/folded-sheet.ts";
import { type Block, paginate } from "../tables/paginate.ts";
import {
  asPages,
  type PaperLook,
  sizesOf,
  type Sizes,
  textFrame,
  type TextFrame,
} from "../tables/paper-frame.ts";
import {
  hanging,
  joined,
  type Piece,
  paragraph,
  rememberingRuler,
  space,
  type Span,
  writingLine,
} from "../tables/text-block.ts";
import { type QuestionMap, questionMap } from "./question-map.ts";
import { sketchAxes } from "./sketch-axes.ts";

/** "pieces": what each question is asked on, a page of its own size for each, for practice on a screen. */
export const WORKSHEET_PARTS = ["learner", "key", "pieces"] as const;
export type WorksheetPart = (typeof WORKSHEET_PARTS)[number];

export interface WorksheetWish extends PaperLook {
  readonly parts: readonly WorksheetPart[];
  /** Day the norths are of, YYYY-MM-DD. */
  readonly date: string;
}

export interface WorksheetOptions {
  readonly signal?: AbortSignal | undefined;
  /** Before each question; awaited. */
  readonly progress?: (done: number, all: number) => Promise<void>;
}

interface Setting {
  readonly wish: WorksheetWish;
  readonly info: MapInfo;
  readonly sizes: Sizes;
  readonly frame: TextFrame;
  readonly ruler: TextRuler;
  readonly scale: number;
}

/** Heading and number of a question. */
const HANG_MM = 9;

/**
 * @throws Fault "bad-argument" when no part is wanted or no question can be printed on this paper; "cancelled" when the signal is aborted
 */
export async function worksheetPages(
  sheet: Worksheet,
  wish: WorksheetWish,
  ground: Ground,
  lent: TextRuler,
  { signal, progress }: WorksheetOptions = {},
): Promise<PageSet> {
  if (wish.parts.length === 0)
    throw new Fault(
      "bad-argument",
      "There is nothing chosen to print.",
      null,
      "Choose the learner’s sheet or the key.",
    );
  const ruler = rememberingRuler(lent);
  const { info } = ground.map;
  const frame = textFrame(wish, info.invented, ruler);
  const setting: Setting = { wish, info, sizes: sizesOf(wish), frame, ruler, scale: sheet.wish.scale };
  const room = { widthMm: frame.width, heightMm: frame.bottomMm - frame.topMm - 40 };
  const kept: { question: Question; map: QuestionMap | null }[] = [];
  const notes = [...sheet.notes];
  for (const [i, question] of sheet.questions.entries()) {
    await progress?.(i, sheet.questions.length);
    if (signal?.aborted) throw new Fault("cancelled", "Drawing the pages was cancelled.");
    const refusal = notOnPaper(question, setting);
    if (refusal !== null) {
      notes.push(`Question ${question.n} is left out: ${refusal}`);
      continue;
    }
    try {
      const map = await questionMap(
        question,
        sheet.wish.scale,
        room,
        ground,
        ruler,
        wish.large ?? false,
        signal,
      );
      kept.push({ question, map });
    } catch (thrown) {
      const fault = Fault.from(thrown);
      if (fault.code !== "out-of-range") throw fault;
      notes.push(`Question ${question.n} is left out: ${fault.what}`);
    }
  }
  if (kept.length === 0)
    throw new Fault(
      "bad-argument",
      "None of the questions can be printed so.",
      notes.join(" "),
      "Take larger paper or another scale.",
    );
  const title = `${info.title}, ${wish.date}, seed ${sheet.wish.seed}`;
  const sets = wish.parts.map((part): Pick<PageSet, "pages"> => {
    if (part === "pieces")
      return { pages: kept.flatMap(({ question, map }) => (map ? [pieceOf(question, map)] : [])) };
    const name = part === "learner" ? "Worksheet" : "Key to the worksheet";
    const blocks = [
      headBlock(name, part, setting),
      ...kept.map(({ question, map }) =>
        part === "learner" ? askedBlock(question, map, setting) : solvedBlock(question, map, setting),
      ),
    ];
    return asPages(
      paginate(blocks, frame),
      frame,
      wish,
      { name, title, invented: info.invented, notes },
      ruler,
    );
  });
  const pages = sets.flatMap((set) => set.pages);
  return {
    title: `Worksheet: ${title}`,
    pages: wish.blackAndWhite ? pages.map((page) => ({ ...page, items: inGrey(page.items) })) : pages,
    notes: [...new Set(notes)],
  };
}

const pieceOf = ({ n }: Question, { items, widthMm, heightMm }: QuestionMap): Page => ({
  widthMm,
  heightMm,
  title: `Question ${n}`,
  items,
});

/** Where every second contour is left off the sheet, nobody can count them on it. */
function notOnPaper({ kind }: Question, { info, scale }: Setting): string | null {
  if (kind !== "climb" || drawnContours(info, scale).every === 1) return null;
  return "at this scale not every contour of the map can be printed.";
}

function headBlock(name: string, part: WorksheetPart, { wish, info, sizes, frame, ruler }: Setting): Block {
  const body = { pt: sizes.body };
  const small = { pt: sizes.small };
  const narrow = frame.width < CHECK_MM.usual + 60;
  const checkMm = narrow ? CHECK_MM.small : CHECK_MM.usual;
  const pieces: Piece[] = [
    ...paragraph(name, frame, { pt: sizes.title, face: "textBold" }, ruler),
    ...paragraph(`${info.title}, ${wish.date}`, frame, body, ruler),
    space(2),
  ];
  if (part === "learner")
    pieces.push(
      ...writingLine("Name", { ...frame, width: Math.min(frame.width, 110) }, 16, body),
      space(2),
      ...paragraph(
        "Print at 100 % (“actual size”). Each question says what counts as right. Bearings are measured between the middles of the crosses.",
        frame,
        body,
        ruler,
      ),
      space(1),
      {
        heightMm: sizes.factor * (narrow ? 10 : 7),
        draw: (y) => checkLine(checkMm, { x: frame.x, y: y + 1, width: checkMm + 30, height: 9 }, ruler),
      },
    );
  for (const { text } of mapFacts(info, "Each piece is true to scale at its centre.", false))
    pieces.push(...paragraph(text, frame, small, ruler));
  for (const caution of DRILL_CAUTIONS) pieces.push(...paragraph(caution, frame, small, ruler));
  return { pieces: [...pieces, space(4)], loose: true };
}

const numbered = (question: Question, { sizes, frame, ruler }: Setting): Piece[] =>
  hanging(String(question.n), question.ask, frame, HANG_MM, { pt: sizes.body }, ruler);

const indented = ({ x, width }: Span): Span => ({ x: x + HANG_MM, width: width - HANG_MM });

/** What is drawn about an origin of its own, put down in the column. */
const drawnPiece = (items: readonly PageItem[], x: number, heightMm: number): Piece => ({
  heightMm,
  draw: (y) => onSheet(items, { rect: { x, y, width: 0, height: 0 }, turned: false, page: 0 }),
});

function askedBlock(question: Question, map: QuestionMap | null, setting: Setting): Block {
  const { frame, sizes, ruler } = setting;
  const inner = indented(frame);
  const small = { pt: sizes.small };
  // What is asked stays with its map; the rest may stand on the next page where the type is large.
  const asked: Piece[] = [...numbered(question, setting), space(1)];
  if (map) asked.push(...mapPieces(map, setting));
  const answered = question.answer.sketch
    ? axesPieces(question, false, setting)
    : answerLines(question, inner, setting);
  return {
    pieces: [
      joined(asked),
      joined([...answered, ...paragraph(question.answer.accepted, inner, small, ruler)]),
      space(5),
    ],
  };
}

function mapPieces(map: QuestionMap, { frame, sizes, ruler }: Setting): Piece[] {
  const x = frame.x + Math.min(HANG_MM, frame.width - map.widthMm);
  return [
    drawnPiece(map.items, x, map.heightMm),
    ...paragraph(map.caption, indented(frame), { pt: sizes.small }, ruler),
    space(1),
  ];
}

/** What these are found by is seen on the map alone: the others are found by figures, which the key tells. */
const SHOWN_IN_KEY: ReadonlySet<Question["kind"]> = new Set<Question["kind"]>([
  "climb",
  "landform",
  "profile",
  "aimOff",
  "handrail",
]);

/** Answers of two parts have two lines. */
function answerLines({ kind }: Question, span: Span, { sizes }: Setting): Piece[] {
  const body = { pt: sizes.body };
  const hang = 20 * sizes.factor;
  const line = (heading: string): Piece[] =>
    writingLine(heading, { ...span, width: Math.min(span.width, 120) }, hang, body);
  if (kind === "climb") return [...line("Up"), ...line("Down")];
  if (kind === "aimOff") return [...line("Bearing"), ...line("Turn")];
  if (kind === "handrail") return [...line("Line"), ...line("Side")];
  return line("Answer");
}

function axesPieces({ answer, marks }: Question, withGround: boolean, setting: Setting): Piece[] {
  const { sketch } = answer;
  if (!sketch) return [];
  const { frame, info, scale, sizes, ruler } = setting;
  const { interval } = drawnContours(info, scale);
  const intervalM = interval ? interval.value * (interval.unit === "ft" ? FOOT_M : 1) : 10;
  const ends = [marks[0]?.label ?? "", marks[1]?.label ?? ""] as const;
  const { items, heightMm, caption } = sketchAxes(
    sketch,
    scale,
    intervalM,
    ends,
    withGround,
    sizes.small,
    ruler,
  );
  return [
    drawnPiece(items, frame.x + HANG_MM, heightMm),
    ...paragraph(caption, indented(frame), { pt: sizes.small }, ruler),
  ];
}

function solvedBlock(question: Question, map: QuestionMap | null, setting: Setting): Block {
  const { frame, sizes, ruler } = setting;
  const inner = indented(frame);
  const { answer, working, marks } = question;
  const body = { pt: sizes.body };
  const small = { pt: sizes.small };
  // As on the learner's sheet, the solution may stand on the page after its map where the type is large.
  const asked = [
    ...numbered(question, setting),
    ...(map && SHOWN_IN_KEY.has(question.kind) ? mapPieces(map, setting) : []),
  ];
  const solved: Piece[] = [
    ...paragraph(answer.text, inner, { ...body, face: "textBold" }, ruler),
    ...paragraph(answer.accepted, inner, body, ruler),
    ...working.flatMap((step) => paragraph(step, inner, body, ruler)),
    ...axesPieces(question, true, setting),
    ...paragraph(
      marks.map(({ label, lonLat }) => `${label}: ${formatPosition(lonLat, "mgrs")}`).join("; "),
      inner,
      small,
      ruler,
    ),
    space(4),
  ];
  return SHOWN_IN_KEY.has(question.kind)
    ? { pieces: [joined(asked), joined(solved)] }
    : { pieces: [joined([...asked, ...solved])] };
}
