/**
 * Scale bars in kilometres, in miles and in the walker's paces, each of exact length, and the line that shows whether a print
 * has kept its size.
 */
import { formatNumber } from "../../units/format.ts";
import { METRES } from "../../units/length.ts";
import { feetPerInch, formatScale, inchesPerMile, millimetresPerKm } from "../../units/scale.ts";
import type { WalkPace } from "../../walk/walk.ts";
import { lineShape, type PageItem, type PaperPoint, points, type Rect, rectShape } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { BLACK, cutText, setColumn, textAt } from "./set-text.ts";
import { CHECK_MM } from "./sheet-room.ts";

export interface ScaleBar {
  /** Length of one division, metres on the ground. */
  readonly divisionM: number;
  readonly divisions: number;
  /** Parts of the first division. */
  readonly parts: number;
  /** At each end of a division, from 0 on. */
  readonly figures: readonly string[];
  /** Unit, and what else must be known of it. */
  readonly words: string;
}

/** A division is no shorter than this on paper, so that its figure has room, millimetres. */
const LEAST_MM = { small: 10, usual: 14 } as const;

const FRACTIONS: Readonly<Record<number, string>> = {
  0.125: "⅛",
  0.25: "¼",
  0.375: "⅜",
  0.5: "½",
  0.625: "⅝",
  0.75: "¾",
  0.875: "⅞",
};
const withFraction = (value: number): string => {
  const [whole, rest] = [Math.floor(value), value % 1];
  return rest === 0 ? formatNumber(whole) : `${whole === 0 ? "" : whole}${FRACTIONS[rest] ?? ""}`;
};

/** 1, 2 and 5 times every power of ten from `least` on, with the parts they are divided into. */
function* oneTwoFive(least: number): Generator<readonly [value: number, parts: number]> {
  for (let ten = least; ten <= least * 1e9; ten *= 10)
    yield* [[ten, 5] as const, [2 * ten, 4] as const, [5 * ten, 5] as const];
}

interface Room {
  readonly scale: number;
  readonly small: boolean;
  /** Longest a bar with these words beside it may be. */
  readonly roomMm: (words: string) => number;
}

function barOf(
  { scale, small, roomMm }: Room,
  steps: Iterable<readonly [value: number, parts: number]>,
  unitM: number,
  figure: (value: number) => string,
  wordsOf: (lastValue: number) => string,
): ScaleBar | null {
  const least = small ? LEAST_MM.small : LEAST_MM.usual;
  for (const [value, parts] of steps) {
    const mm = (value * unitM * 1000) / scale;
    if (mm < least) continue;
    // Words hardly change with the length: those of a long bar are the longer ones.
    const divisions = Math.min(6, Math.floor(roomMm(wordsOf(6 * value)) / mm + 1e-9));
    if (divisions < 1) return null;
    const figures = Array.from({ length: divisions + 1 }, (_, i) => figure(i * value));
    return { divisionM: value * unitM, divisions, parts, figures, words: wordsOf(divisions * value) };
  }
  return null;
}

/** Metres where a division is shorter than a kilometre, kilometres else. */
export function metricBar(room: Room): ScaleBar | null {
  const km = LEAST_MM.usual * 1e-3 * room.scale > 500;
  return km
    ? barOf(room, oneTwoFive(1), 1000, formatNumberOf, () => "km")
    : barOf(room, oneTwoFive(10), 1, formatNumberOf, () => "m");
}
const formatNumberOf = (value: number): string => formatNumber(value);

/** Miles where one fits, with its first part divided evenly in yards; yards else. */
export function imperialBar(room: Room): ScaleBar | null {
  const miles = METRES.mi * 1000 <= room.roomMm("miles") * room.scale;
  if (!miles) return barOf(room, oneTwoFive(10), METRES.yd, formatNumberOf, () => "yd");
  const steps: readonly (readonly [number, number])[] = [[0.125, 2], [0.25, 4], [0.5, 4], ...oneTwoFive(1)];
  return barOf(room, steps, METRES.mi, withFraction, (last) => (last <= 1 ? "mile" : "miles"));
}

/** The walker's own count; the words say whether a pace is two steps or one. */
export function paceBar(
  room: Room,
  { per100m, steps }: Pick<WalkPace, "per100m" | "steps">,
): ScaleBar | null {
  const count = formatNumber(per100m, Number.isInteger(per100m) ? 0 : 1);
  const words = `${steps === 2 ? "double" : "single"} paces, ${count} in 100 m`;
  return barOf(room, oneTwoFive(1), 100 / per100m, formatNumberOf, () => words);
}

/** "4 cm on the map is 1 km; 1 inch is 2083 ft", for scales of whole miles to the inch "1 inch is 1 mile". */
export function ratioWords(scale: number): string {
  const mm = millimetresPerKm(scale);
  const km =
    mm >= 10
      ? `${trimmed(mm / 10, 2)} cm on the map is 1 km`
      : `1 cm on the map is ${trimmed(10 / mm, 2)} km`;
  const inches = inchesPerMile(scale);
  const miles = Math.round(1 / inches);
  const whole = miles >= 1 && Math.abs(1 / inches - miles) < 1e-9;
  const inch = whole
    ? `1 inch is ${formatNumber(miles)} mile${miles === 1 ? "" : "s"}`
    : `1 inch is ${trimmed(feetPerInch(scale), feetPerInch(scale) < 100 ? 1 : 0)} ft`;
  return `${km}; ${inch}`;
}

const trimmed = (value: number, decimals: number): string =>
  formatNumber(value, decimals)
    .replace(/(\.\d*?)0+$/, "$1")
    .replace(/\.$/, "");

/** Height of one bar with its figures, millimetres. */
const BAR_MM = 1.4;

export interface ScaleBlock {
  readonly scale: number;
  readonly small: boolean;
  readonly lengths: "metric" | "imperial";
  readonly pace: Pick<WalkPace, "per100m" | "steps">;
}

/** Ratio, bars and check line in their place. On small paper one bar of lengths and that of paces. */
export function scaleBlock(
  { scale, small, lengths, pace }: ScaleBlock,
  at: Rect,
  ruler: TextRuler,
): PageItem[] {
  const figurePt = small ? 8 : 9;
  const wordsPt = 8;
  // Half a figure stands out at the left of a bar.
  const x = at.x + 2;
  const roomMm = (words: string): number => at.width - 4 - ruler.widthMm(words, "text", points(wordsPt)) - 2;
  const room: Room = { scale, small, roomMm };
  const inOrder = lengths === "metric" ? [metricBar, imperialBar] : [imperialBar, metricBar];
  const bars = [...(small ? inOrder.slice(0, 1) : inOrder).map((bar) => bar(room)), paceBar(room, pace)];
  const ratio = formatScale(scale);
  const ratioWidth = ruler.widthMm(ratio, "textBold", points(11));
  const headCap = ruler.capHeightMm("textBold", points(11));
  const items: PageItem[] = [
    textAt(ratio, [at.x, at.y + headCap], { face: "textBold", pt: 11 }),
    textAt(
      cutText(
        small ? (ratioWords(scale).split(";")[lengths === "metric" ? 0 : 1] as string) : ratioWords(scale),
        at.width - ratioWidth - 3,
        "text",
        points(wordsPt),
        ruler,
      ),
      [at.x + ratioWidth + 3, at.y + headCap],
      { pt: wordsPt },
    ),
  ];
  const cap = ruler.capHeightMm("text", points(figurePt));
  const checkMm = small ? CHECK_MM.small : CHECK_MM.usual;
  // Beside the short bar the words take two lines.
  const checkHeight = small ? 9.4 : 5.8;
  const first = at.y + headCap + 2;
  const pitch = Math.min(8, (at.y + at.height - checkHeight - first) / bars.length);
  bars.forEach((bar, i) => {
    if (bar) items.push(...drawBar(bar, scale, [x, first + i * pitch + cap + 0.9], figurePt, wordsPt, ruler));
  });
  items.push(
    ...checkLine(checkMm, { ...at, x, y: at.y + at.height - checkHeight, height: checkHeight }, ruler),
  );
  return items;
}

/** Filled and open divisions in turn, the first in its parts. */
function drawBar(
  bar: ScaleBar,
  scale: number,
  [x, y]: PaperPoint,
  figurePt: number,
  wordsPt: number,
  ruler: TextRuler,
): PageItem[] {
  const mm = (bar.divisionM * 1000) / scale;
  const items: PageItem[] = [];
  const box = (from: number, width: number, filled: boolean): void => {
    items.push({
      kind: "shape",
      shape: rectShape({ x: x + from, y, width, height: BAR_MM }),
      ...(filled && { fill: BLACK }),
      stroke: { ink: BLACK, widthMm: 0.12, join: "miter" },
    });
  };
  for (let i = 0; i < bar.parts; i++) box((i * mm) / bar.parts, mm / bar.parts, i % 2 === 0);
  for (let i = 1; i < bar.divisions; i++) box(i * mm, mm, i % 2 === 0);
  bar.figures.forEach((figure, i) =>
    items.push(textAt(figure, [x + i * mm, y - 0.8], { pt: figurePt, anchor: "middle" })),
  );
  const cap = ruler.capHeightMm("text", points(wordsPt));
  items.push(textAt(bar.words, [x + bar.divisions * mm + 2.5, y + (BAR_MM + cap) / 2], { pt: wordsPt }));
  return [{ kind: "group", name: "scale bar", items }];
}

/** A line of exactly so many millimetres between two ticks, with what it is for. */
export function checkLine(lengthMm: number, at: Rect, ruler: TextRuler): PageItem[] {
  const y = at.y + 1;
  const words = `This bar is ${lengthMm} mm; if not, the print is not true to scale.`;
  const stroke = { ink: BLACK, widthMm: 0.2 } as const;
  const tick = (x: number): PageItem => ({
    kind: "shape",
    shape: lineShape([x, y - 0.9], [x, y + 0.9]),
    stroke,
  });
  return [
    {
      kind: "group",
      name: "check line",
      items: [
        { kind: "shape", shape: lineShape([at.x, y], [at.x + lengthMm, y]), stroke },
        tick(at.x),
        tick(at.x + lengthMm),
      ],
    },
    ...setColumn(
      [{ text: words }],
      { ...at, y: y + 1.4, width: at.width - 4, height: at.height - 2.4 },
      ruler,
      {
        pt: 8,
        leastPt: 7,
      },
    ).items,
  ];
}
