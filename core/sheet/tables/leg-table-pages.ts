/** The leg table as pages: a row for each leg, its sentences under it, totals, and all that must stand beside the figures. */
import { Fault } from "../../fault.ts";
import { CAUTIONS, INVENTED } from "../../legs/cautions.ts";
import type { LegTable } from "../../legs/table/leg-table.ts";
import {
  declinationStatement,
  hoursStatements,
  mapStatement,
  methodStatements,
  northStatement,
} from "../../legs/table/table-statements.ts";
import { formatPosition, type PositionNotation } from "../../geodesy/format-position.ts";
import type { PageSet } from "../page/page.ts";
import type { PaperSize } from "../page/paper-size.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { hiddenWith, toleranceStatement, usualHidden } from "./handout.ts";
import { type Tolerance, USUAL_TOLERANCE } from "./tolerance.ts";
import { legRowsOf } from "./leg-rows.ts";
import { type Block, paginate } from "./paginate.ts";
import { asPages, missingNotes, type PaperLook, sizesOf, textFrame } from "./paper-frame.ts";
import {
  hanging,
  joined,
  type Look,
  paragraph,
  type Piece,
  rememberingRuler,
  space,
  writingLine,
} from "./text-block.ts";
import { printColumns } from "./table-columns.ts";

export interface TableWish extends PaperLook {
  /** Ids of `LEG_COLUMNS` in order; null or absent for the usual. Number and ends of a leg always stand in front. */
  readonly columns?: readonly string[] | null;
  /** Ids of `BLANKS`: empty boxes after the figures. */
  readonly blanks?: readonly string[];
  /** A table for learners: "questions" leaves the hidden columns for them to fill, "answers" has them, and what a marker accepts. */
  readonly handout?: "questions" | "answers";
  /** Columns of a handout that are filled by the learner; default bearing, distance, paces and climb. */
  readonly hidden?: readonly string[] | null;
  readonly tolerance?: Tolerance;
  /** How a handout tells where the points are; default MGRS. */
  readonly notation?: PositionNotation;
}

const NAMES = { questions: "Legs to work out", answers: "Answers" } as const;

/**
 * @returns at least one page; its notes say when columns had to go under the rows
 * @throws Fault "bad-argument" for a walk without legs and for a column that is none
 */
export function legTablePages(table: LegTable, wish: TableWish, ruler: TextRuler): PageSet {
  if (table.figures.legs.length === 0)
    throw new Fault("bad-argument", "There are no legs yet to print: a walk needs two points.", null, null);
  const measure = rememberingRuler(ruler);
  const invented = table.map?.invented === true;
  const frame = textFrame(wish, invented, measure);
  const hidden = wish.handout ? (wish.hidden ?? usualHidden(table)) : [];
  if (wish.handout && hidden.length === 0)
    throw new Fault(
      "bad-argument",
      "Nothing on the handout is left to be worked out.",
      null,
      "Choose at least one figure for the learner to fill in.",
    );
  // A handout asks for what is hidden, and shows the rest that was chosen.
  const usual = wish.handout && !wish.columns ? hidden : (wish.columns ?? null);
  const columns = printColumns(table, usual, wish.blanks ?? []);
  const rows = legRowsOf(
    table,
    columns,
    { frame, look: wish, hidden: hiddenWith(hidden), tolerance: wish.tolerance ?? USUAL_TOLERANCE },
    measure,
  );
  const contents = paginate(
    [...headBlocks(table, wish, frame, measure), ...rows.blocks(), ...endBlocks(table, wish, frame, measure)],
    frame,
  );
  const name = wish.handout ? NAMES[wish.handout] : "Leg table";
  return asPages(
    contents,
    frame,
    wish,
    {
      name,
      title: `${table.title}, ${table.date}`,
      invented,
      notes: [
        ...(rows.belowCount > 0 ? [belowNote(table, wish, rows.belowCount, ruler, columns)] : []),
        ...missingNotes([table.title, table.notes ?? "", ...table.points.map(({ label }) => label)], ruler),
      ],
    },
    measure,
  );

  function belowNote(
    of: LegTable,
    { paper, ...look }: TableWish,
    below: number,
    by: TextRuler,
    shown: ReturnType<typeof printColumns>,
  ): string {
    const many = below === 1 ? "One column stands" : `${below} columns stand`;
    const first = `${many} under each leg’s row: the paper is too narrow for all of them side by side.`;
    if (paper.widthMm >= paper.heightMm) return first;
    const turned: PaperSize = { widthMm: paper.heightMm, heightMm: paper.widthMm };
    const wide = { ...look, paper: turned };
    const there = legRowsOf(
      of,
      shown,
      { frame: textFrame(wide, invented, by), look: wide, hidden: new Set(), tolerance: USUAL_TOLERANCE },
      rememberingRuler(by),
    ).belowCount;
    return there === 0
      ? `${first} Landscape has room for all of them.`
      : `${first} Larger or turned paper has more room.`;
  }
}

interface Frame {
  readonly x: number;
  readonly width: number;
}

/** Title, day, map, declination, hours; for a handout where the points are and what is asked. */
function headBlocks(table: LegTable, wish: TableWish, frame: Frame, ruler: TextRuler): Block[] {
  const sizes = sizesOf(wish);
  const small: Look = { pt: sizes.small };
  const say = (text: string, look: Look = small): Piece[] =>
    text === "" ? [] : paragraph(text, frame, look, ruler);
  const answers = wish.handout === "answers";
  const bold: Look = { pt: sizes.body, face: "textBold" };
  const title = wish.handout ? `${table.title}: ${NAMES[wish.handout].toLowerCase()}` : table.title;
  const pieces = [
    ...say(title, { pt: sizes.title, face: "textBold" }),
    ...say(table.date, bold),
    space(1),
    ...(table.map?.invented ? [...say(INVENTED, bold), space(1)] : []),
    ...say(mapStatement(table)),
    ...say([declinationStatement(table), northStatement(table)].join(" ").trim()),
    ...(wish.handout === "questions" ? [] : hoursStatements(table).flatMap((text) => say(text))),
    ...(wish.handout === "questions" ? writingLine("Name", frame, 14 * sizes.factor, bold) : []),
  ];
  const handout: Block[] = wish.handout
    ? [
        {
          loose: true,
          pieces: [
            space(2),
            ...say("Points", bold),
            ...pointLines(table, wish, frame, ruler),
            space(2),
            ...say(
              answers
                ? toleranceStatement(table, wish.tolerance ?? USUAL_TOLERANCE)
                : `Work out what is left empty, with map, compass and ruler. ${toleranceStatement(table, wish.tolerance ?? USUAL_TOLERANCE)}`,
            ),
          ],
        },
      ]
    : [];
  return [{ pieces, loose: true }, ...handout, { pieces: [space(3)], loose: true }];
}

const pointLines = (table: LegTable, wish: TableWish, frame: Frame, ruler: TextRuler): Piece[] => {
  const { small, factor } = sizesOf(wish);
  return table.points.flatMap(({ label, lonLat }) =>
    hanging(label, formatPosition(lonLat, wish.notation ?? "mgrs"), frame, 30 * factor, { pt: small }, ruler),
  );
};

/** Notes of the program and of the walker, how the figures were made, and the cautions, none left out. */
function endBlocks(table: LegTable, wish: TableWish, frame: Frame, ruler: TextRuler): Block[] {
  const { small, body } = sizesOf(wish);
  const say = (text: string, face: "text" | "textBold" = "text"): Piece[] =>
    paragraph(text, frame, { pt: small, face }, ruler);
  const block = (pieces: Piece[]): Block[] =>
    pieces.length === 0 ? [] : [{ pieces: [space(2), ...pieces], loose: true }];
  return [
    ...(wish.handout === "questions" ? [] : block(table.figures.notes.flatMap((note) => say(note)))),
    ...(table.notes
      ? block([...paragraph("Notes", frame, { pt: body, face: "textBold" }, ruler), ...say(table.notes)])
      : []),
    ...(wish.handout === "questions" ? [] : block(say(methodStatements(table).join(" ")))),
    ...block([
      joined([...say("Mind", "textBold"), ...say(CAUTIONS[0] as string)]),
      ...CAUTIONS.slice(1).flatMap((caution) => say(caution)),
    ]),
  ];
}
