/** Makes a worksheet: questions by chance, each clear within what its answer allows. */
import { Fault } from "../../fault.ts";
import type { LegSettings } from "../../legs/leg-settings.ts";
import type { Ground } from "../../terrain/ground.ts";
import { checkLonLat } from "../../units/position.ts";
import { chanceOf } from "../course-random.ts";
import { askAimOff, askHandrail } from "./aids.ts";
import { askClimb, askLandform, askProfile } from "./contours.ts";
import {
  DRILL_KINDS,
  type DrillKind,
  type DrillWish,
  MOST_QUESTIONS,
  type Question,
  type Worksheet,
} from "./drill.ts";
import { type Asker, DrillGround } from "./drill-ground.ts";
import { DRILL_LEVELS } from "./level.ts";
import { askBearing, askDistance, askReference } from "./measuring.ts";
import { askBack, askNorths } from "./norths.ts";

const ASKERS: Readonly<Record<DrillKind, Asker>> = {
  bearing: askBearing,
  norths: askNorths,
  back: askBack,
  reference: askReference,
  distance: askDistance,
  climb: askClimb,
  landform: askLandform,
  profile: askProfile,
  aimOff: askAimOff,
  handrail: askHandrail,
};

/** Throws for one question, before its kind is given up on this ground. */
const THROWS = 150;

const LOOKS_AT_LEGS: ReadonlySet<DrillKind> = new Set<DrillKind>(["aimOff", "handrail"]);

/** Why a kind of question could not be asked. */
const WHY: Readonly<Record<DrillKind, string>> = {
  bearing: "no two places far enough apart fit on the sheet and the map",
  norths: "the angle between the norths is less than half a degree, or no magnetic model covers the day",
  back: "there was none",
  reference: "no place fits on the sheet and the map",
  distance: "no two places far enough apart fit on the sheet and the map",
  climb: "no line crosses its contours clearly enough to be counted one way only",
  landform: "no landform stands out and alone",
  profile: "the ground is too flat, or its heights are not known",
  aimOff: "no leg to a line was found on which one would aim off",
  handrail: "no leg was found that has one line to follow and no other",
};

/**
 * A worksheet; the same wish on the same map and day gives the same one. Kinds come in turn.
 * @throws Fault "bad-argument" for a wish that cannot be; "no-course" when the ground gives no question at all; "cancelled"
 */
export async function makeWorksheet(
  wish: DrillWish,
  ground: Ground,
  settings: LegSettings,
  signal?: AbortSignal,
): Promise<Worksheet> {
  check(wish);
  const lent = new DrillGround(ground, wish, settings, chanceOf(wish.seed), signal);
  const questions: Question[] = [];
  const notes: string[] = [];
  const left = [...new Set(wish.kinds)];
  for (let turn = 0; left.length > 0 && questions.length < wish.questions; turn++) {
    const kind = left[turn % left.length] as DrillKind;
    const asked = await ask(kind, questions, lent);
    if (asked) questions.push(asked);
    else {
      const some = questions.some((question) => question.kind === kind);
      notes.push(
        `${some ? "No more questions" : "No question"} of the kind “${DRILL_NAMES[kind]}”: ${WHY[kind]}${LOOKS_AT_LEGS.has(kind) && lent.isSearched ? " among those looked at" : ""}.`,
      );
      left.splice(turn % left.length, 1);
      turn--;
    }
  }
  if (questions.length === 0)
    throw new Fault(
      "no-course",
      "This ground gave no question.",
      notes.join(" "),
      "Choose another place or other kinds.",
    );
  return { wish, questions, notes };
}

/** What each kind is called. */
export const DRILL_NAMES: Readonly<Record<DrillKind, string>> = {
  bearing: "measure a bearing",
  norths: "from one north to another",
  back: "back bearings",
  reference: "read a grid reference",
  distance: "measure a distance",
  climb: "count climb from contours",
  landform: "name the landform",
  profile: "sketch the profile",
  aimOff: "aim off",
  handrail: "choose what to follow",
};

async function ask(
  kind: DrillKind,
  before: readonly Question[],
  ground: DrillGround,
): Promise<Question | null> {
  const n = before.length + 1;
  for (let i = 0; i < THROWS; i++) {
    const found = await ASKERS[kind](ground, n);
    if (!found) continue;
    const question = { n, kind, ...found };
    if (!before.some((other) => isSame(other, question))) return question;
  }
  return null;
}

/** The same question twice teaches nothing. */
const isSame = (a: Question, b: Question): boolean =>
  a.kind === b.kind &&
  a.answer.text === b.answer.text &&
  a.marks.every(({ lonLat }, i) => lonLat.join() === b.marks[i]?.lonLat.join());

function check({ centre, radiusM, scale, kinds, questions, level, seed }: DrillWish): void {
  checkLonLat(centre, "the middle of the sheet");
  const bad = (what: string): Fault => new Fault("bad-argument", what, null, "Correct it.");
  if (!(radiusM >= 100 && radiusM <= 20_000))
    throw bad(`A sheet reaches 100 m to 20 000 m from its middle, not ${radiusM} m.`);
  if (!(scale >= 1000 && scale <= 250_000))
    throw bad(`Drills are set at 1:1000 to 1:250 000, not 1:${scale}.`);
  if (kinds.length === 0) throw bad("No kind of question was chosen.");
  const stranger = kinds.find((kind) => !DRILL_KINDS.includes(kind));
  if (stranger) throw bad(`There is no kind of question called “${stranger}”.`);
  if (level !== undefined && !DRILL_LEVELS.includes(level))
    throw bad(`A worksheet is easy, middle or hard, not “${level}”.`);
  if (!Number.isInteger(questions) || questions < 1 || questions > MOST_QUESTIONS)
    throw bad(`A worksheet has 1 to ${MOST_QUESTIONS} questions, not ${questions}.`);
  if (!Number.isSafeInteger(seed)) throw bad("A seed is a whole number.");
}
