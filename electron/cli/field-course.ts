/** `field-course`: bearing and pace on a playing field, without a map. `score`: what a learner's error says. */
import { FIELD_CAUTIONS } from "../../core/course/cautions.ts";
import { type Miss, scoreOf } from "../../core/course/scoring.ts";
import { closingWords, fieldTask, sightText, tapeText } from "../../core/course/field-words.ts";
import { type FieldCourse, fieldCourse, type FieldWish } from "../../core/course/small-ground.ts";
import { stakePlaces } from "../../core/course/stake-places.ts";
import { Fault } from "../../core/fault.ts";
import { normalise360 } from "../../core/units/angle.ts";
import { formatBearing, formatNumber, formatQuantity } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import { fieldPages } from "../../core/sheet/course/field-pages.ts";
import { type CoursePrintOptions, pdfOf, printCourse } from "./course-print.ts";
import { numberOf } from "./fix-read.ts";
import { deliver } from "./product.ts";
import { rangeOf } from "./read-range.ts";
import { row } from "./rows.ts";

export interface FieldOptions extends CoursePrintOptions {
  readonly length: string;
  readonly width: string;
  readonly along: string;
  readonly legs: string;
  readonly leg: string;
  readonly step: string;
  readonly shape: FieldWish["shape"];
  readonly paces?: string;
  readonly steps?: true;
  readonly seed?: string;
  readonly learner?: true;
  readonly format?: "text" | "json";
  readonly out?: string;
}

const three = (degrees: number, graduationDeg = 1): string =>
  formatBearing(degrees, { threeFigures: true, graduationDeg });

export async function fieldCourseCommand(options: FieldOptions): Promise<void> {
  const course = fieldCourse({
    lengthM: parseLength(options.length),
    widthM: parseLength(options.width),
    alongDeg: parseBearing(options.along),
    legs: numberOf(options.legs, 0, "--legs"),
    legM: rangeOf(options.leg),
    bearingStepDeg: numberOf(options.step, 0, "--step"),
    shape: options.shape,
    paces:
      options.paces === undefined
        ? null
        : { per100m: numberOf(options.paces, 0, "--paces"), steps: options.steps ? 1 : 2 },
    seed: numberOf(options.seed, 1, "--seed"),
  });
  const pdf = pdfOf(options.out);
  if (pdf !== null)
    return await printCourse(pdf, options, async (look, ruler) => fieldPages(course, look, ruler));
  const learner = options.learner === true;
  if (options.format === "json") {
    const told = learner
      ? { north: "magnetic", legs: course.legs }
      : { north: "magnetic", ...course, places: stakePlaces(course), cautions: FIELD_CAUTIONS };
    return await deliver(`${JSON.stringify(told, null, 2)}\n`, options.out);
  }
  const rows = learner ? learnerRows(course) : setterRows(course);
  await deliver(rows.map((line) => `${line}\n`).join(""), options.out);
}

const legRows = ({ legs }: FieldCourse): string[] =>
  legs.map(({ from, to, bearingDeg, lengthM, paces }) =>
    row(
      `Leg ${from} → ${to}`,
      `${three(bearingDeg)} magnetic, ${formatQuantity(lengthM, "m")}${paces === null ? "" : `, ${paces} paces`}`,
    ),
  );

const learnerRows = (course: FieldCourse): string[] => [row("Task", fieldTask(course)), ...legRows(course)];

function setterRows(course: FieldCourse): string[] {
  const { wish, stakes, closing } = course;
  const places = stakePlaces(course);
  return [
    row(
      "Ground",
      `${tapeText(wish.lengthM)} by ${tapeText(wish.widthM)}, its longer side along ${three(wish.alongDeg)} magnetic`,
    ),
    row(
      "Corner",
      `the one behind you on the left as you look along ${three(wish.alongDeg)}; across is to the right`,
    ),
    ...stakes.flatMap(({ label, fromFirst, ringM }, i) => {
      const place = places[i] as (typeof places)[number];
      const { bearingDeg, distanceM } = place.fromCorner;
      const name = `Stake ${label}`;
      const corner = `from the corner ${sightText(bearingDeg)}, ${tapeText(distanceM)}: ${tapeText(place.alongM)} along and ${tapeText(place.acrossM)} across`;
      const first = fromFirst
        ? [row(name, `from stake 1 ${sightText(fromFirst.bearingDeg)}, ${tapeText(fromFirst.distanceM)}`)]
        : [];
      return [...first, row(fromFirst ? "" : name, `${corner}; ring ${tapeText(ringM)}`)];
    }),
    ...legRows(course),
    ...(closing ? [row("Closing", closingWords(closing))] : []),
    row("Ring", "Whoever stops within a stake’s ring walked that leg well: 3° and 5 % of it, and 2 m."),
    ...FIELD_CAUTIONS.map((caution) => row("Caution", caution)),
  ];
}

export interface ScoreOptions {
  readonly bearing: string;
  readonly length: string;
  readonly beyond?: string;
  readonly short?: string;
  readonly right?: string;
  readonly left?: string;
  readonly miss?: string;
  readonly format?: "text" | "json";
}

export async function score(options: ScoreOptions): Promise<void> {
  const bearingDeg = parseBearing(options.bearing);
  const lengthM = parseLength(options.length);
  const found = scoreOf({ bearingDeg, lengthM }, missOf(options));
  if (options.format === "json")
    return await deliver(
      `${JSON.stringify({ leg: { bearingDeg, lengthM }, ...found }, null, 2)}\n`,
      undefined,
    );
  const { beyondM, asideM, bearingErrorDeg, distanceErrorPercent, missM, missPercent } = found;
  const sided = (value: number, plus: string, minus: string, text: (size: number) => string): string =>
    `${text(Math.abs(value))} ${value < 0 ? minus : plus}`;
  const rows = [
    row("Leg", `${three(bearingDeg)}, ${tapeText(lengthM)}`),
    row(
      "Miss",
      `${tapeText(missM)} (${formatNumber(missPercent, 1)} % of the leg): ${sided(beyondM, "beyond", "short", tapeText)}, ${sided(asideM, "right", "left", tapeText)}`,
    ),
    row(
      "Bearing",
      `walked ${three(normalise360(bearingDeg + bearingErrorDeg), 0.1)}: ${sided(bearingErrorDeg, "to the right", "to the left", (size) => `${formatNumber(size, 1)}°`)}`,
    ),
    row(
      "Distance",
      sided(distanceErrorPercent, "too far", "too short", (size) => `${formatNumber(size, 1)} %`),
    ),
    row("Caution", "One leg is one throw: judge a learner by several, on several bearings."),
  ];
  await deliver(rows.map((line) => `${line}\n`).join(""), undefined);
}

/** @throws Fault "bad-argument" when the error is not told in exactly one way */
function missOf({ beyond, short, right, left, miss }: ScoreOptions): Miss {
  const bad = (what: string): Fault =>
    new Fault("bad-argument", what, null, 'Write --beyond 3m --right 2m, or --miss "200 2.5m".');
  if (miss !== undefined) {
    if ([beyond, short, right, left].some((one) => one !== undefined))
      throw bad("The error is told in two ways.");
    const [, bearing = "", far = ""] = /^(.+?)\s+([\d.,]+\s*\D+)$/.exec(miss.trim()) ?? [];
    if (bearing === "") throw bad(`“${miss}” is not a bearing and a distance.`);
    return { bearingDeg: parseBearing(bearing), distanceM: parseLength(far) };
  }
  if (beyond !== undefined && short !== undefined) throw bad("Both beyond and short of the point.");
  if (right !== undefined && left !== undefined) throw bad("Both right and left of the way.");
  if ([beyond, short, right, left].every((one) => one === undefined)) throw bad("No error is told.");
  const signed = (plus: string | undefined, minus: string | undefined): number =>
    plus !== undefined ? parseLength(plus) : minus !== undefined ? -parseLength(minus) : 0;
  return { beyondM: signed(beyond, short), asideM: signed(right, left) };
}
