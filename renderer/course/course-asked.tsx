/** What is asked of courses, in sentences with blanks, and the buttons that set them. */
import { COURSE_KINDS, COURSE_LEVELS } from "../../core/course/course.ts";
import { Fault } from "../../core/fault.ts";
import { PlaceField } from "../fix/place-field.tsx";
import { Choice, Entry } from "../settings/entry.tsx";
import { readNumber } from "../settings/read-entry.ts";
import { walk } from "../walk-state/walk-document.ts";
import { courseWords as words } from "../words/course-words.ts";
import {
  chooseCourse,
  chooseLevel,
  COURSE_STARTS,
  courseChoices,
  MOST_CLIMB_M,
  MOST_TOTAL_M,
} from "./course-choices.ts";
import { LimitEntries } from "./course-limits.tsx";
import { cancelCourse, courses, makeCourses } from "./course-state.ts";

/** @throws Fault "bad-argument" for what is no whole number within the bounds */
function whole(text: string, least: number, most: number): number {
  const value = readNumber(text, String(least));
  if (Number.isInteger(value) && value >= least && value <= most) return value;
  throw new Fault("bad-argument", words.wholeFrom(least, most, text.trim()));
}

/** The field of the start while it waits for a click on the map. */
export const PICKED = "course-place";

export function CourseAsked() {
  return (
    <>
      <ShapeSentence />
      {courseChoices.value.start === "place" && (
        <PlaceField
          id={PICKED}
          label={words.start}
          value={courseChoices.value.place}
          change={(place) => chooseCourse({ place })}
        />
      )}
      <RulesSentence />
      <TotalsSentence />
      <SetSentence />
      <Buttons />
    </>
  );
}

function ShapeSentence() {
  const { kind, points, start } = courseChoices.value;
  const starts = COURSE_STARTS.filter((one) => one !== "walk" || walk.value.points.length > 0);
  return (
    <p class="sum">
      <Choice
        label={words.kind}
        value={kind}
        options={COURSE_KINDS.map((one) => [one, words.kinds[one]] as const)}
        pick={(one) => chooseCourse({ kind: one })}
        test="course-kind"
      />{" "}
      {words.with}{" "}
      <Entry
        label={words.points}
        value={String(points)}
        take={(text) => chooseCourse({ points: whole(text, 1, 30) })}
        test="course-points"
      />{" "}
      {words.pointsFrom}{" "}
      <Choice
        label={words.start}
        value={start}
        options={starts.map((one) => [one, words.starts[one]] as const)}
        pick={(one) => chooseCourse({ start: one })}
        test="course-start"
      />
    </p>
  );
}

function RulesSentence() {
  const { level, legM, on, backstops, oddsAtLeast } = courseChoices.value;
  return (
    <p class="sum">
      <Choice
        label={words.level}
        value={level}
        options={COURSE_LEVELS.map((one) => [one, words.levels[one]] as const)}
        pick={chooseLevel}
        test="course-level"
      />
      {words.legs}{" "}
      <Entry
        label={words.least}
        value={String(legM[0])}
        take={(text) => chooseCourse({ legM: [whole(text, 30, 5000), legM[1]] })}
        test="course-least"
      />{" "}
      {words.to}{" "}
      <Entry
        label={words.most}
        value={String(legM[1])}
        take={(text) => chooseCourse({ legM: [legM[0], whole(text, 30, 5000)] })}
        test="course-most"
      />{" "}
      {words.legsEnd}{" "}
      <Choice
        label={words.on}
        value={on}
        options={(["found", "bare"] as const).map((one) => [one, words.ons[one]] as const)}
        pick={(one) => chooseCourse({ on: one })}
        test="course-on"
      />
      ,{" "}
      <Choice
        label={words.backstops}
        value={backstops ? "every" : "any"}
        options={(["every", "any"] as const).map((one) => [one, words.backstop[one]] as const)}
        pick={(one) => chooseCourse({ backstops: one === "every" })}
        test="course-backstops"
      />
      , {words.odds}{" "}
      <Entry
        label={words.oddsLabel}
        value={oddsAtLeast === null ? "" : String(Math.round(oddsAtLeast * 100))}
        placeholder={words.open}
        take={(text) =>
          chooseCourse({
            oddsAtLeast: text.trim() === "" ? null : whole(text.replace(/%\s*$/, ""), 0, 99) / 100,
          })
        }
        test="course-odds"
      />{" "}
      {words.oddsEnd}
    </p>
  );
}

function TotalsSentence() {
  const { totalM, climbM } = courseChoices.value;
  return (
    <p class="sum">
      {words.total}{" "}
      <LimitEntries
        of={totalM}
        most={MOST_TOTAL_M}
        labels={words.totalLabels}
        put={(limits) => chooseCourse({ totalM: limits })}
        test="course-total"
      />{" "}
      {words.climb}{" "}
      <LimitEntries
        of={climbM}
        most={MOST_CLIMB_M}
        labels={words.climbLabels}
        put={(limits) => chooseCourse({ climbM: limits })}
        test="course-climb"
      />{" "}
      {words.climbEnd}
    </p>
  );
}

/** A number one can read out to a class. */
const SEEDS = 9999;

function SetSentence() {
  const { count, seed } = courseChoices.value;
  return (
    <p class="sum">
      {words.for}{" "}
      <Entry
        label={words.groups}
        value={String(count)}
        take={(text) => chooseCourse({ count: whole(text, 1, 8) })}
        test="course-count"
      />{" "}
      {words.groupsSet}{" "}
      <Entry
        label={words.seed}
        value={String(seed)}
        take={(text) => chooseCourse({ seed: whole(text, 1, SEEDS) })}
        test="course-seed"
      />
    </p>
  );
}

function Buttons() {
  const making = courses.value.kind === "making";
  const { seed } = courseChoices.value;
  return (
    <div class="fix-line">
      <button
        type="button"
        class="button strong"
        disabled={making}
        data-test="course-make"
        onClick={makeCourses}
      >
        {words.make}
      </button>
      {making ? (
        <button type="button" class="button edged" data-test="course-cancel" onClick={cancelCourse}>
          {words.cancel}
        </button>
      ) : (
        <button
          type="button"
          class="button edged"
          onClick={() => {
            chooseCourse({ seed: (seed % SEEDS) + 1 });
            makeCourses();
          }}
        >
          {words.another}
        </button>
      )}
    </div>
  );
}
