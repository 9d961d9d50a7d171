/**
 * The card left with someone at home: who goes where, when they are due at which place, how they would get out, and what to do
 * when they are overdue. What such a card holds is common practice, no source.
 */
import { Fault } from "../../fault.ts";
import { formatPosition, type PositionNotation } from "../../geodesy/format-position.ts";
import { escapeWordsIn } from "../../legs/aid-words.ts";
import { CAUTIONS, INVENTED } from "../../legs/cautions.ts";
import type { LegFigures } from "../../legs/figures.ts";
import { compassOf, northAsked, unitOf } from "../../legs/how/how-about.ts";
import { bearingToSet } from "../../legs/norths/bearing-to-set.ts";
import type { LegTable } from "../../legs/table/leg-table.ts";
import {
  declinationStatement,
  hoursStatements,
  mapStatement,
  northStatement,
} from "../../legs/table/table-statements.ts";
import { clockOf } from "../../legs/times/zoned-clock.ts";
import { ABSENT, formatDuration, formatLength, formatNumber } from "../../units/format.ts";
import type { PageSet } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { type Block, paginate } from "./paginate.ts";
import {
  asPages,
  mindInk,
  missingNotes,
  type PaperLook,
  sizesOf,
  type TextFrame,
  textFrame,
} from "./paper-frame.ts";
import {
  hanging,
  linesOf,
  type Look,
  paragraph,
  type Piece,
  rememberingRuler,
  rowPieces,
  rule,
  space,
  widestMm,
  writingLine,
} from "./text-block.ts";

/** What only the person knows. Whatever is not given is a line to write on. */
export interface CardParty {
  readonly names?: readonly string[];
  readonly phone?: string;
  readonly vehicle?: string;
  readonly kit?: string;
  /** Who holds the card, and whom they are to call. */
  readonly contact?: string;
}

export interface CardWish extends PaperLook {
  /** How places are written; default MGRS. */
  readonly notation?: PositionNotation;
  readonly party?: CardParty;
}

/** In plain words for who has never read a map. Common practice, no source; no number is given because each country has its own. */
const OVERDUE: readonly string[] = [
  "Wait until the time above, then try their phones, and ask at the vehicle’s place or where they were to sleep.",
  "If you cannot reach them, call the person written above. Do not go out to look for them alone.",
  "If they are still missing, or you fear that they are hurt, call the emergency number of the country they walk in and ask for the police or for mountain rescue. Do not put it off because it may be a false alarm.",
  "Say: who and how many they are, their ages and any illness; where and when they set out; the places and times on this card with their grid references; the ways out; their vehicle; what they wear and carry; when you last heard from them.",
  "Stay where you can be called back, and keep this card at hand. If they turn up, tell everyone you called at once.",
];

/**
 * @throws Fault "bad-argument" for a walk without legs
 */
export function routeCardPages(table: LegTable, wish: CardWish, ruler: TextRuler): PageSet {
  if (table.figures.legs.length === 0)
    throw new Fault("bad-argument", "There is no route yet for a card: a walk needs two points.", null, null);
  const measure = rememberingRuler(ruler);
  const invented = table.map?.invented === true;
  const frame = textFrame(wish, invented, measure);
  const blocks = [
    ...whoBlocks(table, wish, frame, measure),
    ...placeBlocks(table, wish, frame, measure),
    ...wayOutBlocks(table, wish, frame, measure),
    ...overdueBlocks(table, wish, frame, measure),
  ];
  const typed = Object.values(wish.party ?? {}).flat() as string[];
  return asPages(
    paginate(blocks, frame),
    frame,
    wish,
    {
      name: "Route card",
      title: `${table.title}, ${table.date}`,
      invented,
      notes: [
        ...(table.figures.start === null
          ? ["No time of setting out is chosen: the card has lines to write the times on."]
          : []),
        ...(table.advice ? [] : ["Ways out were not worked out for this card."]),
        ...missingNotes([table.title, ...table.points.map(({ label }) => label), ...typed], ruler),
      ],
    },
    measure,
  );
}

type Part = (table: LegTable, wish: CardWish, frame: TextFrame, ruler: TextRuler) => Block[];

/** A name with its text, or with a line to write on. */
function entry(
  heading: string,
  text: string | null | undefined,
  frame: TextFrame,
  wish: CardWish,
  ruler: TextRuler,
): Piece[] {
  const { body, factor } = sizesOf(wish);
  const hang = Math.min(frame.width * 0.45, 38 * factor);
  return text?.trim()
    ? [...hanging(heading, text, frame, hang, { pt: body }, ruler), space(0.6 * factor)]
    : writingLine(heading, frame, hang, { pt: body });
}

const heading = (text: string, frame: TextFrame, wish: CardWish, ruler: TextRuler): Piece[] => [
  space(2.5),
  ...paragraph(text, frame, { pt: sizesOf(wish).body + 1, face: "textBold" }, ruler),
  rule(frame, 0.3, 0.3, 1.2),
];

const whoBlocks: Part = (table, wish, frame, ruler) => {
  const { title, body, small } = sizesOf(wish);
  const { figures, date, settings } = table;
  const { names = [], phone, vehicle, kit } = wish.party ?? {};
  const clock = (iso: string | null): string | null => clockOf(iso, date);
  const say = (text: string, look: Look): Piece[] => (text === "" ? [] : paragraph(text, frame, look, ruler));
  const given = names.map((name) => name.trim()).filter((name) => name !== "");
  const end = figures.legs.at(-1)?.arrival ?? null;
  const [first, last] = [table.points[0], table.points.at(-1)];
  const line = (name: string, text?: string | null): Piece[] => entry(name, text, frame, wish, ruler);
  return [
    {
      loose: true,
      pieces: [
        ...say(`Route card: ${table.title}`, { pt: title, face: "textBold" }),
        ...say(date, { pt: body, face: "textBold" }),
        ...(table.map?.invented ? say(INVENTED, { pt: body, face: "textBold" }) : []),
        ...say("Leave this with someone who will act on it, and tell them when you are back.", { pt: small }),
      ],
    },
    {
      pieces: [
        ...heading("Who", frame, wish, ruler),
        ...line("Names", given.join(", ")),
        ...(given.length === 0 ? line("") : []),
        ...line("How many", given.length > 0 ? formatNumber(given.length) : null),
        ...line("Ages, illnesses"),
        ...line("Phones carried", phone),
        ...line("Vehicle, and where", vehicle),
        ...line("Kit", kit),
        ...line("Weather forecast"),
      ],
    },
    {
      pieces: [
        ...heading("When", frame, wish, ruler),
        ...line("Start", [clock(figures.start) ?? "____", "at", first?.label].join(" ")),
        ...line("Finish", [clock(end) ?? "____", "at", last?.label].join(" ")),
        ...line("Back by", settings.backBy ?? null),
        ...line("Turn back by", clock(figures.turnBackBy)),
        ...hoursStatements(table).flatMap((text) => say(text, { pt: small })),
      ],
    },
  ];
};

/** "A  32V NM 12345 67890  09:00", and how the leg from there goes. */
const placeBlocks: Part = (table, wish, frame, ruler) => {
  const { body, small, factor } = sizesOf(wish);
  const { legs, start } = table.figures;
  const unit = unitOf(table);
  const hang = 17 * factor;
  const head = paragraph("Places and times", frame, { pt: body + 1, face: "textBold" }, ruler);
  const legWords = (leg: LegFigures, to: string): string => {
    const set = bearingToSet(leg, compassOf(table), northAsked(table));
    const bearing = set.deg === null ? "no bearing" : `${set.text} ${set.north}`;
    const time = leg.timeS === null ? "" : `, ${formatDuration(leg.timeS)}`;
    return `to ${to}: ${bearing}, ${formatLength(leg.distanceM, unit)}${time}`;
  };
  const inner = { x: frame.x + hang, width: frame.width - hang };
  const look: Look = { pt: body };
  /** Time, name and place on one line where there is room, else the place below. */
  const placeLine = (time: string, label: string, place: string): Piece[] => {
    const one = linesOf(label, Infinity, look, ruler);
    const isOne =
      one.length === 1 && widestMm(one, look, ruler) + widestMm([place], look, ruler) + 4 <= inner.width;
    if (!isOne)
      return [...hanging(time, label, frame, hang, look, ruler), ...paragraph(place, inner, look, ruler)];
    return rowPieces(
      [
        { x: frame.x, width: hang, ...look, face: "textBold", lines: [time] },
        { ...inner, ...look, lines: one },
        { ...inner, ...look, align: "right", lines: [place] },
      ],
      ruler,
    );
  };
  return [
    { pieces: [space(2.5), ...head, rule(frame, 0.3, 0.3, 1.2)] },
    ...table.points.map(({ label, lonLat }, i): Block => {
      const leg = legs[i];
      const at = i === 0 ? start : (legs[i - 1]?.arrival ?? null);
      const time = clockOf(at, table.date) ?? "____";
      const escape = leg && table.advice?.legs[leg.n - 1]?.escape;
      const place = formatPosition(lonLat, wish.notation ?? "mgrs");
      return {
        pieces: [
          ...placeLine(time, label, place),
          ...(leg ? paragraph(legWords(leg, leg.to), inner, { pt: small }, ruler) : []),
          ...(escape
            ? paragraph(
                `Way out: ${escapeWordsIn(escape, compassOf(table), unit)}`,
                inner,
                { pt: small, ink: mindInk(wish) },
                ruler,
              )
            : []),
          rule(frame),
        ],
      };
    }),
  ];
};

const wayOutBlocks: Part = (table, wish, frame, ruler) => {
  const { small } = sizesOf(wish);
  const { totals } = table.figures;
  const unit = unitOf(table);
  const say = (text: string): Piece[] => (text === "" ? [] : paragraph(text, frame, { pt: small }, ruler));
  const { advice } = table;
  const out = !advice
    ? []
    : advice.escape
      ? say(`From anywhere on the walk: ${escapeWordsIn(advice.escape, compassOf(table), unit)}.`)
      : say("No one bearing leads out from everywhere on the walk.");
  const sum = [
    formatLength(totals.distanceM, unit),
    ...(totals.timeS === null ? [] : [formatDuration(totals.timeS)]),
  ].join(", ");
  return [
    {
      pieces: [
        ...say(`In all ${sum === "" ? ABSENT : sum}.`),
        ...out,
        ...say([declinationStatement(table), northStatement(table)].join(" ").trim()),
        ...say(mapStatement(table)),
      ],
    },
  ];
};

const overdueBlocks: Part = (_table, wish, frame, ruler) => {
  const { body, small, factor } = sizesOf(wish);
  return [
    {
      pieces: [
        ...heading("When they are overdue", frame, wish, ruler),
        ...entry("Act if not heard by", null, frame, wish, ruler),
        ...entry("Call first", wish.party?.contact, frame, wish, ruler),
        ...OVERDUE.flatMap((text, i) => hanging(`${i + 1}`, text, frame, 6 * factor, { pt: body }, ruler)),
      ],
    },
    {
      pieces: [space(2.5), ...CAUTIONS.flatMap((text) => paragraph(text, frame, { pt: small }, ruler))],
      loose: true,
    },
  ];
};
