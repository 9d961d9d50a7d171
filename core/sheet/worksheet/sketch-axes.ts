/**
 * Axes for the ground as seen from the side: as long as the line is on the map, so that the marks on a strip of paper can be
 * carried straight down, with a level for each contour. Empty for the learner, with the ground drawn in for the key.
 */
import type { Sketch } from "../../course/drills/drill.ts";
import { formatHeight, formatLength, formatNumber } from "../../units/format.ts";
import { BLACK, textAt } from "../furniture/set-text.ts";
import { INKS } from "../page/inks.ts";
import { group, lineShape, type PageItem, points } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";

export interface Axes {
  /** Drawn with the upper left corner at the origin. */
  readonly items: readonly PageItem[];
  readonly heightMm: number;
  readonly caption: string;
}

/** Levels stand so far apart on paper, closer where there are many. */
const LEVEL_MM = { usual: 4, least: 2 } as const;
const MOST_MM = 70;

/**
 * @param scale denominator of the map's scale
 * @param intervalM between levels, metres
 * @param ends labels of the two marks
 * @param pt size of the figures, points
 */
export function sketchAxes(
  { distanceM, elevationM }: Sketch,
  scale: number,
  intervalM: number,
  ends: readonly [string, string],
  withGround: boolean,
  pt: number,
  ruler: TextRuler,
): Axes {
  const lengthM = distanceM.at(-1) ?? 0;
  const lengthMm = (lengthM * 1000) / scale;
  const [low, high] = [Math.min(...elevationM), Math.max(...elevationM)];
  // A level more below and above: ends of the range say nothing of where the ground lies between them.
  const first = Math.floor(low / intervalM) - 1;
  const count = Math.ceil(high / intervalM) + 1 - first;
  const every = Math.max(1, Math.ceil((count * LEVEL_MM.least) / MOST_MM));
  const levels = Math.ceil(count / every);
  const apart = Math.min(LEVEL_MM.usual, MOST_MM / levels);
  const cap = ruler.capHeightMm("text", points(pt));
  const left = withGround ? ruler.widthMm(formatHeight(high + 2 * intervalM), "text", points(pt)) + 2 : 2;
  const top = cap;
  const bottom = top + levels * apart;
  const yOf = (metres: number): number => bottom - ((metres / intervalM - first) / every) * apart;
  const level = (k: number): number => bottom - k * apart;
  const items: PageItem[] = [];
  for (let k = 0; k <= levels; k++) {
    items.push({
      kind: "shape",
      shape: lineShape([left, level(k)], [left + lengthMm, level(k)]),
      stroke: { ink: k === 0 ? BLACK : INKS.hairline, widthMm: k === 0 ? 0.25 : 0.12 },
    });
    // As many figures as have room beside one another.
    const step = Math.ceil((cap + 0.8) / apart);
    if (withGround && k % step === 0)
      items.push(
        textAt(formatHeight((first + k * every) * intervalM), [left - 1.2, level(k) + cap / 2], {
          pt,
          anchor: "end",
        }),
      );
  }
  for (const [x, label] of [
    [left, ends[0]],
    [left + lengthMm, ends[1]],
  ] as const)
    items.push(
      { kind: "shape", shape: lineShape([x, top], [x, bottom]), stroke: { ink: BLACK, widthMm: 0.25 } },
      textAt(label, [x, bottom + cap + 1.2], { pt, face: "textBold", anchor: "middle" }),
    );
  if (withGround)
    items.push(
      group("ground", [
        {
          kind: "shape",
          shape: lineShape(
            ...distanceM.map((d, i) => [left + (d * 1000) / scale, yOf(elevationM[i] ?? NaN)] as const),
          ),
          stroke: { ink: BLACK, widthMm: 0.5, join: "round" },
        },
      ]),
    );
  return {
    items: [group("sketch", items)],
    heightMm: bottom + cap + 3,
    caption: `${formatLength(lengthM)} along, levels every ${formatNumber(intervalM * every)}\u00a0m`,
  };
}
