/**
 * Scoring on paper: for each leg a row to write in what was measured, and a table that turns metres aside into degrees and metres
 * beyond or short into percent, so that nobody needs to reckon in the field.
 */
import { scoreOf } from "../../course/scoring.ts";
import { formatBearing, formatNumber, formatQuantity } from "../../units/format.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { Block } from "../tables/paginate.ts";
import { paragraph, space, type Span } from "../tables/text-block.ts";
import type { Sizes } from "../tables/paper-frame.ts";
import { plainTable } from "./plain-table.ts";

export interface ScoredLeg {
  /** "1 → 2". */
  readonly ends: string;
  /** As the learner was told it, magnetic. */
  readonly bearingDeg: number | null;
  readonly lengthM: number;
}

/** Misses the reading table has columns for: on small ground a few metres, on a hill tens. */
const MISSES_M = { near: [1, 2, 3, 5, 8, 12], far: [5, 10, 20, 30, 50, 100] } as const;
/** Legs up to this length are read from the nearer misses, metres. */
const NEAR_M = 120;

const degrees = (value: number): string => `${formatNumber(value, 1)}°`;

/** Blocks for the whole of a scoring sheet below its head. */
export function scoreBlocks(legs: readonly ScoredLeg[], span: Span, sizes: Sizes, ruler: TextRuler): Block[] {
  const body = { pt: sizes.body };
  const words = (text: string): Block => ({ pieces: [...paragraph(text, span, body, ruler), space(1.5)] });
  const misses = legs.some(({ lengthM }) => lengthM > NEAR_M) ? MISSES_M.far : MISSES_M.near;
  const written = plainTable(
    [
      { heading: "Leg", share: 1.3 },
      { heading: "Bearing, length", share: 2 },
      { heading: "Beyond + short −", share: 1.3 },
      { heading: "Right + left −", share: 1.3 },
      { heading: "Degrees off", share: 1.2 },
      { heading: "Percent off", share: 1.2 },
    ],
    legs.map(({ ends, bearingDeg, lengthM }) => [
      ends,
      `${formatBearing(bearingDeg, { threeFigures: true })}, ${formatQuantity(lengthM, "m")}`,
      null,
      null,
      null,
      null,
    ]),
    span,
    sizes.body,
    ruler,
  );
  const turned = plainTable(
    [
      { heading: "Leg", share: 1.6 },
      ...misses.map((m) => ({ heading: `${m}\u00a0m`, share: 1, align: "right" as const })),
    ],
    legs.flatMap((leg) => {
      const at = (miss: { beyondM: number; asideM: number }) =>
        scoreOf({ bearingDeg: leg.bearingDeg ?? 0, lengthM: leg.lengthM }, miss);
      return [
        [`${leg.ends} aside`, ...misses.map((m) => degrees(at({ beyondM: 0, asideM: m }).bearingErrorDeg))],
        [
          `${leg.ends} beyond`,
          ...misses.map(
            (m) => `${formatNumber(at({ beyondM: m, asideM: 0 }).distanceErrorPercent, 1)}\u00a0%`,
          ),
        ],
      ];
    }),
    span,
    sizes.small,
    ruler,
  );
  return [
    words(
      "From the point, measure along the leg and square to it to where the learner stopped. Write metres; the table below gives degrees and percent. Short reads like beyond, left like right.",
    ),
    ...written,
    { pieces: [space(4), ...paragraph("To read from", span, { ...body, face: "textBold" }, ruler)] },
    words("Degrees by metres aside, with the count right; percent of the leg by metres beyond or short."),
    ...turned,
    {
      pieces: [
        space(3),
        ...paragraph(
          "One leg is one throw: judge a learner by several, on several bearings.",
          span,
          body,
          ruler,
        ),
      ],
    },
  ];
}
