/** Pocket cards: the legs, one after another with a big bearing, on sheets that fold into small books. */
import { Fault } from "../../fault.ts";
import { escapeWordsIn } from "../../legs/aid-words.ts";
import { CAUTIONS, INVENTED } from "../../legs/cautions.ts";
import type { LegFigures } from "../../legs/figures.ts";
import { compassOf, northAsked, unitOf } from "../../legs/how/how-about.ts";
import { backstopWords, handrailWords } from "../../legs/leg-words.ts";
import { hazardWords } from "../../legs/aid-words.ts";
import { bearingToSet } from "../../legs/norths/bearing-to-set.ts";
import type { LegTable } from "../../legs/table/leg-table.ts";
import {
  declinationStatement,
  hoursStatements,
  mapStatement,
  northStatement,
} from "../../legs/table/table-statements.ts";
import { formatHeight, formatLength, formatNumber } from "../../units/format.ts";
import { cutText, textAt } from "../furniture/set-text.ts";
import { group, type Page, type PageItem, type PageSet, points } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { flatSheet, foldMarks, onSheet, panelsOf } from "./folded-sheet.ts";
import { type Block, paginate } from "./paginate.ts";
import { mindInk, missingNotes, type PaperLook, sizesOf } from "./paper-frame.ts";
import {
  hanging,
  type Look,
  paragraph,
  type Piece,
  rememberingRuler,
  rowPieces,
  rule,
  type Span,
  space,
} from "./text-block.ts";

/** Around the text of a panel: what a printer leaves blank, and room for a fold that is not quite true. */
const MARGIN_MM = 6;
const EDGE_MM = 5;
/** Least width of a panel's text, millimetres at 10 pt: a big bearing with a distance beside it. */
const LEAST_TEXT_MM = 38;
/** Cover and back; between them six panels for legs. */
const LEG_PANELS = 6;

/**
 * @returns one page for each book; the sheet always lies on its long side
 * @throws Fault "bad-argument" for a walk without legs, and for paper whose panels are too small for the type
 */
export function pocketCardPages(table: LegTable, wish: PaperLook, ruler: TextRuler): PageSet {
  if (table.figures.legs.length === 0)
    throw new Fault(
      "bad-argument",
      "There are no legs yet for pocket cards: a walk needs two points.",
      null,
      null,
    );
  const measure = rememberingRuler(ruler);
  const { factor, small } = sizesOf(wish);
  const sheet = flatSheet(wish.paper);
  const panels = panelsOf(wish.paper);
  const { width, height } = { width: sheet.widthMm / 4, height: sheet.heightMm / 2 };
  const span: Span = { x: MARGIN_MM, width: width - 2 * MARGIN_MM };
  if (span.width < LEAST_TEXT_MM * factor)
    throw new Fault(
      "bad-argument",
      `Folded, this paper has panels of ${formatNumber(width)} × ${formatNumber(height)} mm, too small for the type.`,
      null,
      wish.large ? "Take larger paper, or smaller type." : "Take larger paper.",
    );
  const footMm = points(small) * 1.25;
  const room = { topMm: MARGIN_MM, bottomMm: height - MARGIN_MM - footMm };
  const legPages = paginate(
    table.figures.legs.map((leg) => legBlock(leg, table, wish, span, measure)),
    room,
  );
  const books = Math.ceil(legPages.length / LEG_PANELS);
  const ends = {
    front: coverPieces(table, wish, span, measure),
    back: backPieces(table, wish, span, measure),
  };
  const fixed = (pieces: readonly Piece[], what: string): PageItem[] => {
    const [first, ...more] = paginate([{ pieces, loose: true }], room);
    if (more.length === 0) return first as PageItem[];
    // The title may be of any length, cautions must be whole.
    throw new Fault(
      "bad-argument",
      `${what} does not fit on a panel of this paper.`,
      null,
      "Take larger paper or smaller type.",
    );
  };
  const pages = Array.from({ length: books }, (_, book): Page => {
    const number = books === 1 ? "" : ` ${book + 1} of ${books}`;
    const contents = [
      fixed(ends.front(number), "What must stand on the cover"),
      ...Array.from({ length: LEG_PANELS }, (_unused, i) => legPages[book * LEG_PANELS + i] ?? []),
      fixed(ends.back, "What must stand on the back"),
    ];
    const { folds, cut } = foldMarks(wish.paper, EDGE_MM);
    return {
      ...sheet,
      title: `Pocket card${number}`,
      items: [
        group("folds", [...folds, cut]),
        ...panels.map((panel) => {
          const items = contents[panel.page - 1] as PageItem[];
          const foot = textAt(`${panel.page}`, [width / 2, height - MARGIN_MM], {
            pt: small,
            anchor: "middle",
          });
          return group(`panel ${panel.page}`, onSheet([...items, foot], panel));
        }),
      ],
    };
  });
  return {
    title: `Pocket card: ${table.title}, ${table.date}`,
    pages,
    notes: [
      "Print on one side. Fold along all dashes, cut along the full line, then fold the long way and push the ends together into a book.",
      ...missingNotes([table.title, ...table.points.map(({ label }) => label)], ruler),
    ],
  };
}

function legBlock(leg: LegFigures, table: LegTable, wish: PaperLook, span: Span, ruler: TextRuler): Block {
  const { body, small, factor } = sizesOf(wish);
  const unit = unitOf(table);
  const set = bearingToSet(leg, compassOf(table), northAsked(table));
  const big: Look = { pt: 20 * factor, face: "textBold" };
  const right: Look = { pt: body + 1, face: "textBold", align: "right" };
  const rise = [
    ...(leg.climbM ? [`${formatHeight(leg.climbM, unit)} up`] : []),
    ...(leg.descentM ? [`${formatHeight(leg.descentM, unit)} down`] : []),
  ].join(", ");
  const aided = (heading: string, text: string, ink = false): Piece[] =>
    text === ""
      ? []
      : hanging(heading, text, span, 13 * factor, { pt: small }, ruler, ink ? mindInk(wish) : undefined);
  const rail = leg.handrails[0];
  const paces = leg.paces === null ? "" : `${formatNumber(leg.paces)} paces`;
  const north = set.deg === null ? "no bearing" : set.north;
  const [bearingMm, besideMm] = [
    ruler.widthMm(set.text, "textBold", points(big.pt)),
    ruler.widthMm(formatLength(leg.distanceM, unit), "textBold", points(right.pt)),
  ];
  const beside = bearingMm + besideMm + 2 <= span.width;
  return {
    again: paragraphOf(`Leg ${formatNumber(leg.n)}, continued`),
    pieces: [
      ...paragraph(
        `${formatNumber(leg.n)}  ${leg.from} → ${leg.to}`,
        span,
        { pt: body, face: "textBold" },
        ruler,
      ),
      ...(beside
        ? rowPieces(
            [
              { ...span, ...big, lines: [set.text] },
              { ...span, ...right, lines: [formatLength(leg.distanceM, unit)] },
            ],
            ruler,
          )
        : [
            ...rowPieces([{ ...span, ...big, lines: [set.text] }], ruler),
            ...rowPieces(
              [{ ...span, ...right, align: "left" as const, lines: [formatLength(leg.distanceM, unit)] }],
              ruler,
            ),
          ]),
      ...paragraph(
        [set.aimedOff ? `${north}, aiming off ${set.aimedOff.side}` : north, paces, rise]
          .filter((part) => part !== "")
          .join("; "),
        span,
        { pt: small },
        ruler,
      ),
      ...aided("Follow", rail ? handrailWords(rail, unit, leg.distanceM) : ""),
      ...aided("Stop", leg.backstop ? backstopWords(leg.backstop, unit) : ""),
      ...aided("Mind", leg.hazards.map((hazard) => hazardWords(hazard, unit)).join("; "), true),
      rule(span, 0.15, 1, 1.2),
    ],
  };

  function paragraphOf(text: string): Piece {
    return rowPieces([{ ...span, pt: small, face: "textBold", lines: [text] }], ruler)[0] as Piece;
  }
}

/** Title, day, sums and norths, and what must be known of map and place. */
function coverPieces(
  table: LegTable,
  wish: PaperLook,
  span: Span,
  ruler: TextRuler,
): (number: string) => Piece[] {
  const { body, small } = sizesOf(wish);
  const { totals, legs } = table.figures;
  const unit = unitOf(table);
  // A cover has room for a name of a few lines.
  const title = cutText(table.title, span.width * 2.5, "textBold", points(body + 3), ruler);
  const say = (text: string, look: Look = { pt: small }): Piece[] =>
    text === "" ? [] : [...paragraph(text, span, look, ruler), space(0.8)];
  return (number) => [
    ...say(title, { pt: body + 3, face: "textBold" }),
    ...say(`${table.date}${number === "" ? "" : `, card${number}`}`, { pt: body }),
    ...(table.map?.invented ? say(INVENTED, { pt: small, face: "textBold" }) : []),
    ...say(
      `${legs.length === 1 ? "One leg" : `${formatNumber(legs.length)} legs`}, ${formatLength(totals.distanceM, unit)}`,
    ),
    ...say(northStatement(table)),
    ...say(declinationStatement(table)),
    ...(wish.large ? [] : say(cutText(mapStatement(table), span.width * 3, "text", points(small), ruler))),
  ];
}

/** Hours, the way out, and the cautions, none left out. */
function backPieces(table: LegTable, wish: PaperLook, span: Span, ruler: TextRuler): Piece[] {
  const { small } = sizesOf(wish);
  const say = (text: string): Piece[] => paragraph(text, span, { pt: small }, ruler);
  const escape = table.advice?.escape;
  return [
    ...hoursStatements(table).flatMap((text) => [...say(text), space(0.8)]),
    ...(escape
      ? [
          ...say(`Way out from anywhere: ${escapeWordsIn(escape, compassOf(table), unitOf(table))}.`),
          space(0.8),
        ]
      : []),
    ...CAUTIONS.flatMap(say),
  ];
}
