/** Questions answered with a protractor, a ruler and the sheet's grid. */
import { formatMgrs, spaceMgrs } from "../../geodesy/mgrs.ts";
import { toUtm } from "../../geodesy/utm.ts";
import { formatBearing, formatNumber, formatQuantity } from "../../units/format.ts";
import { formatScale } from "../../units/scale.ts";
import { figureAnswer, wordAnswer } from "./drill.ts";
import { type Asker, marksOf, onGrid } from "./drill-ground.ts";

const MOST_MM = 90;

export const askBearing: Asker = async (ground, n) => {
  const pair = ground.pair(ground.level.lineMm, MOST_MM);
  if (!pair) return null;
  const [a, b] = marksOf(n, ...pair).map(({ label }) => label);
  const { bearing, eastM, northM } = onGrid(...pair);
  const within = ground.level.bearingWithinDeg;
  const shown = formatBearing(bearing, { threeFigures: true });
  return {
    ask: `Measure the grid bearing from ${a} to ${b}.`,
    marks: marksOf(n, ...pair),
    joined: false,
    answer: figureAnswer(`${shown} grid`, bearing, within, `Right within ${within}°.`),
    working: [
      `Lay the edge of the compass from ${a} to ${b}, its arrow pointing to ${b}, turn the housing until its lines run with the grid lines, north to the top, and read the bearing.`,
      `By coordinates: ${b} lies ${away(eastM, "east", "west")} and ${away(northM, "north", "south")} of ${a}, which is ${shown}.`,
    ],
  };
};

const away = (metres: number, plus: string, minus: string): string =>
  `${formatNumber(Math.abs(metres))} m ${metres < 0 ? minus : plus}`;

export const askDistance: Asker = async (ground, n) => {
  const pair = ground.pair(ground.level.lineMm, MOST_MM);
  if (!pair) return null;
  const { scale } = ground.wish;
  const { eastM, northM, a: from } = onGrid(...pair);
  // As the sheet is drawn: the grid divided by its point scale, so that a ruler gives metres on the ground.
  const metres = Math.hypot(eastM, northM) / from.scale;
  const mm = (metres * 1000) / scale;
  const { rulerMm } = ground.level;
  const within = (rulerMm * scale) / 1000;
  const [a, b] = marksOf(n, ...pair).map(({ label }) => label);
  return {
    ask: `How far is it from ${a} to ${b}, in metres? The scale is ${formatScale(scale)}.`,
    marks: marksOf(n, ...pair),
    joined: false,
    answer: figureAnswer(
      formatQuantity(metres, "m"),
      metres,
      within,
      `Right within ${formatNumber(within, within % 1 === 0 ? 0 : 1)} m, which is ${rulerMm} mm on the sheet.`,
    ),
    working: [
      `The ruler shows ${formatQuantity(mm, "mm", 1)}.`,
      `1 mm is ${formatNumber(scale / 1000, scale % 1000 === 0 ? 0 : 1)} m at ${formatScale(scale)}, so it is ${formatNumber(mm, 1)} × ${formatNumber(scale / 1000, scale % 1000 === 0 ? 0 : 1)} m = ${formatNumber(metres)} m.`,
    ],
  };
};

/** Of a hundred metres, how near an edge a place may lie: nearer, an honest reading could give the square beside. */
const CLEAR_M = 25;
const SQUARE_M = 100;

export const askReference: Asker = async (ground, n) => {
  const at = ground.place();
  if (!at) return null;
  const { eastingM, northingM } = toUtm(at);
  const clear = [eastingM, northingM].every((metres) => {
    const rest = metres % SQUARE_M;
    return rest > CLEAR_M && rest < SQUARE_M - CLEAR_M;
  });
  if (!clear) return null;
  const reference = formatMgrs(at, SQUARE_M);
  const spaced = spaceMgrs(reference);
  const [east, north] = [reference.slice(-6, -3), reference.slice(-3)];
  const [mark] = marksOf(n, at);
  return {
    ask: `Read the six-figure grid reference of ${mark?.label}.`,
    marks: marksOf(n, at),
    joined: false,
    answer: wordAnswer(
      `${east} ${north} (in full ${spaced})`,
      "Right when neither number is off by more than one.",
    ),
    working: [
      `The grid line to the west of it ends in ${east.slice(0, 2)}, and it lies ${east.slice(2)} tenths of a square beyond: ${east}.`,
      `The grid line to the south of it ends in ${north.slice(0, 2)}, and it lies ${north.slice(2)} tenths of a square beyond: ${north}.`,
      "Along first, then up: the eastings come before the northings. The tenths are not rounded up: the reference names the square the place lies in.",
    ],
  };
};
