/** A practice course on paper: the learner's sheet, the setter's with where all stands, and the scoring sheet; for each course of a set. */
import { type Course, type CoursePoint } from "../../course/course.ts";
import { closingError, written } from "../../course/closing-error.ts";
import { Fault } from "../../fault.ts";
import { formatPosition } from "../../geodesy/format-position.ts";
import { CAUTIONS } from "../../legs/cautions.ts";
import { kindWord } from "../../legs/line-kinds.ts";
import type { Ground } from "../../terrain/ground.ts";
import {
  formatBearing,
  formatHeight,
  formatLength,
  formatQuantity,
  formatShare,
} from "../../units/format.ts";
import { mapFacts } from "../furniture/sheet-facts.ts";
import type { Page, PageSet } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { Block } from "../tables/paginate.ts";
import { type PaperLook, textFrame } from "../tables/paper-frame.ts";
import { paragraph, rememberingRuler, space } from "../tables/text-block.ts";
import { courseMap, pointName } from "./course-map.ts";
import { plainTable } from "./plain-table.ts";
import { type ScoredLeg, scoreBlocks } from "./score-blocks.ts";
import {
  type CoursePart,
  drawnPiece,
  headBlock,
  PART_NAMES,
  partPages,
  setOf,
  settingOf,
  type SheetSetting,
  textBlock,
} from "./sheet-blocks.ts";

export interface NamedCourse {
  readonly name: string;
  readonly course: Course;
  /** Rules it breaks since it was changed by hand, sentences. */
  readonly broken: readonly string[];
}

export interface CourseSheetWish extends PaperLook {
  readonly parts: readonly CoursePart[];
  /** "legs": bearings and lengths are told, and the map shows the start alone; "map": points are shown, bearings are for the learner to find. */
  readonly give: "legs" | "map";
  /** Denominator; null for the largest usual one at which the course fits. */
  readonly scale: number | null;
  /** Day the norths are of, YYYY-MM-DD. */
  readonly date: string;
  /** Spacing of the compass's marks, degrees. */
  readonly graduationDeg: number;
}

/** A setter carries points onto the ground with an instrument: to the metre. */
const STEP_M = 1;

/**
 * @throws Fault "bad-argument" when nothing is chosen; "out-of-range" when a course does not fit the paper; "cancelled"
 */
export async function coursePages(
  courses: readonly NamedCourse[],
  wish: CourseSheetWish,
  ground: Ground,
  lent: TextRuler,
  signal?: AbortSignal,
): Promise<PageSet> {
  if (wish.parts.length === 0 || courses.length === 0)
    throw new Fault("bad-argument", "There is nothing chosen to print.", null, "Choose a sheet.");
  const ruler = rememberingRuler(lent);
  const { info } = ground.map;
  const setting = settingOf(wish, textFrame(wish, info.invented, ruler), info.invented, ruler);
  const pages: Page[] = [];
  for (const part of wish.parts)
    for (const named of courses) {
      if (signal?.aborted) throw new Fault("cancelled", "Drawing the pages was cancelled.");
      const title = `${named.name}, ${info.title}, ${wish.date}`;
      const blocks = [
        headBlock(
          `${PART_NAMES[part]}: ${named.name}`,
          `${info.title}, ${wish.date}`,
          part !== "setter",
          setting,
        ),
        ...(await BLOCKS[part](named, wish, ground, setting, signal)),
      ];
      pages.push(...partPages(part, title, blocks, setting));
    }
  return setOf(`Practice course: ${info.title}, ${wish.date}`, pages, [
    "Walk the course yourself before learners do: the map does not show everything.",
  ]);
}

type Blocks = (
  named: NamedCourse,
  wish: CourseSheetWish,
  ground: Ground,
  setting: SheetSetting,
  signal: AbortSignal | undefined,
) => Promise<Block[]>;

const BLOCKS: Readonly<Record<CoursePart, Blocks>> = {
  learner: learnerBlocks,
  setter: setterBlocks,
  async scoring({ course }, { graduationDeg }, _ground, { frame, sizes, ruler }) {
    return scoreBlocks(scoredLegs(course, graduationDeg), frame, sizes, ruler);
  },
};

export const scoredLegs = ({ legs }: Course, graduationDeg: number): ScoredLeg[] =>
  legs.map(({ from, to, figures }) => ({
    ends: `${pointName(from)} → ${pointName(to)}`,
    bearingDeg:
      figures.bearingMagneticDeg === null
        ? null
        : written({ bearingDeg: figures.bearingMagneticDeg, lengthM: 0 }, graduationDeg, STEP_M).bearingDeg,
    lengthM: Math.round(figures.distanceM),
  }));

async function mapBlock(
  points: readonly CoursePoint[],
  legs: Course["legs"],
  wish: CourseSheetWish,
  ground: Ground,
  { frame, ruler, sizes }: SheetSetting,
  signal: AbortSignal | undefined,
): Promise<Block> {
  const room = { widthMm: frame.width, heightMm: (frame.bottomMm - frame.topMm) * 0.62 };
  const map = await courseMap(
    points,
    legs,
    { scale: wish.scale, room, large: wish.large ?? false },
    ground,
    ruler,
    signal,
  );
  return {
    pieces: [
      drawnPiece(map.items, frame.x, map.heightMm),
      ...paragraph(map.caption, frame, { pt: sizes.small }, ruler),
      space(3),
    ],
  };
}

const TASKS: Readonly<Record<Course["wish"]["kind"], string>> = {
  round: "Walk from the start to each point in order, and back to the start.",
  line: "Walk from the start to each point in order. The course ends at the last.",
  star: "Walk from the start to each point and straight back to the start before the next.",
  scatter: "Find every point, in any order. Each is given from the start.",
};

async function learnerBlocks(
  { course }: NamedCourse,
  wish: CourseSheetWish,
  ground: Ground,
  setting: SheetSetting,
  signal: AbortSignal | undefined,
): Promise<Block[]> {
  const { points, legs } = course;
  const told = wish.give === "legs";
  // A piece as large as the course, so that the start alone does not say where it goes.
  const map = await mapBlock(told ? points.slice(0, 1) : points, [], wish, ground, setting, signal);
  const task = told
    ? "Walk each leg by compass and paces; write what stands where you stop. Bearings are magnetic: dial them as they stand."
    : "Measure each bearing and length on the map, bring the bearing to magnetic north, and walk by compass and paces.";
  const table = plainTable(
    [
      { heading: "Leg", share: 1.3 },
      { heading: "Bearing, magnetic", share: 1.4 },
      { heading: "Length", share: 1.2 },
      { heading: "Paces", share: 1.1 },
      { heading: "What stands there", share: 3.4 },
    ],
    scoredLegs(course, wish.graduationDeg).map(({ ends, bearingDeg, lengthM }, i) => [
      ends,
      told ? formatBearing(bearingDeg, { threeFigures: true, graduationDeg: wish.graduationDeg }) : null,
      told ? formatQuantity(lengthM, "m") : null,
      null,
      legs[i]?.to === 0 ? "the start" : null,
    ]),
    setting.frame,
    setting.sizes.body,
    setting.ruler,
  );
  return [textBlock([TASKS[course.wish.kind], task], setting), map, ...table, ...footBlocks(ground, setting)];
}

async function setterBlocks(
  { course, broken }: NamedCourse,
  wish: CourseSheetWish,
  ground: Ground,
  setting: SheetSetting,
  signal: AbortSignal | undefined,
): Promise<Block[]> {
  const { frame, sizes, ruler } = setting;
  const { points, legs, distanceM, climbM, difficulty } = course;
  const { graduationDeg } = wish;
  const bearing = (degrees: number | null): string =>
    formatBearing(degrees, { threeFigures: true, graduationDeg });
  const stakes = plainTable(
    [
      { heading: "Point", share: 1 },
      { heading: "Position", share: 2.6 },
      { heading: "Degrees", share: 2.6 },
      { heading: "Stands on", share: 4 },
    ],
    points.map(({ lonLat, words }, n) => [
      pointName(n),
      formatPosition(lonLat, "mgrs"),
      formatPosition(lonLat, "dd"),
      words,
    ]),
    frame,
    sizes.small,
    ruler,
  );
  const answers = plainTable(
    [
      { heading: "Leg", share: 1.4 },
      { heading: "Magnetic", share: 1.1 },
      { heading: "Grid", share: 0.9 },
      { heading: "Length", share: 1.1 },
      { heading: "Climb", share: 0.9 },
      { heading: "Find it", share: 1 },
      { heading: "Stops you behind", share: 3 },
    ],
    legs.map(({ from, to, figures: f, odds }) => [
      `${pointName(from)} → ${pointName(to)}`,
      bearing(f.bearingMagneticDeg),
      bearing(f.bearingGridDeg),
      formatLength(f.distanceM),
      formatHeight(f.climbM),
      odds ? formatShare(odds.find) : "–",
      behind(f.backstop),
    ]),
    frame,
    sizes.small,
    ruler,
  );
  const closed = course.wish.kind === "round" ? closingWords(course, graduationDeg) : [];
  return [
    textBlock(
      [
        `${legs.length} legs, ${formatLength(distanceM)}, ${climbM === null ? "climb not known" : `${formatHeight(climbM)} of climb`}; tires like ${formatLength(difficulty.effortM)} on the flat. Seed ${course.wish.seed}.`,
        ...(broken.length > 0 ? broken : ["Every rule that was asked for is kept."]),
        ...closed,
      ],
      setting,
    ),
    await mapBlock(points, legs, wish, ground, setting, signal),
    ...stakes,
    { pieces: [space(4)] },
    ...answers,
    ...footBlocks(ground, setting),
  ];
}

/** What stops one who goes too far. */
function behind(stop: Course["legs"][number]["figures"]["backstop"]): string {
  if (!stop) return "nothing";
  const name = stop.name ?? kindWord(stop.kind);
  return stop.beyondM < 1 ? `${name}, at the point` : `${name} after ${formatLength(stop.beyondM)}`;
}

/** By how much the legs as written miss the start: bearings are rounded to the compass's marks, lengths to metres. */
function closingWords({ legs }: Course, graduationDeg: number): string[] {
  const all = legs.flatMap(({ figures: { bearingGridDeg, distanceM } }) =>
    bearingGridDeg === null
      ? []
      : [written({ bearingDeg: bearingGridDeg, lengthM: distanceM }, graduationDeg, STEP_M)],
  );
  if (all.length < legs.length) return [];
  const { distanceM, bearingDeg } = closingError(all);
  return [
    `Walked exactly as written, the last leg ends ${formatQuantity(distanceM, "m", 1)} from the start, at ${formatBearing(bearingDeg, { threeFigures: true })} of it: bearings and lengths are rounded. Take that off a learner’s error.`,
  ];
}

const footBlocks = ({ map: { info } }: Ground, setting: SheetSetting): Block[] => [
  { pieces: [space(3)] },
  textBlock(
    [
      ...mapFacts(info, "The piece is true to scale at its centre.", false).map(({ text }) => text),
      ...CAUTIONS,
    ],
    setting,
    setting.sizes.small,
  ),
];
