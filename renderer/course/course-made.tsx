/** The courses that were set: one of them leg by leg, its rules, and what can be done with it. */
import type { Course } from "../../core/course/course.ts";
import { verdictsOf } from "../../core/course/verdicts.ts";
import { formatBearing, formatHeight, formatLength, formatShare } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { courseWords as words } from "../words/course-words.ts";
import { Verdicts } from "./course-rules.tsx";
import { saveCourses } from "./course-save.ts";
import { anotherPlace, shownCourse, takeCourse } from "./course-state.ts";
import { coursePrint } from "./open-sheets.ts";

const pointName = (n: number): string => (n === 0 ? words.startName : String(n));

interface Props {
  readonly all: readonly Course[];
  readonly course: Course;
}

export function CourseMade({ all, course }: Props) {
  const at = shownCourse.value;
  const unit = lengthUnit.value;
  const { distanceM, climbM, difficulty, wish } = course;
  return (
    <div class="fix-result" data-test="course-made">
      {all.length > 1 && <Which count={all.length} />}
      <p>
        <b>{words.name(at)}</b>: {formatLength(distanceM, unit)}, ↑ {formatHeight(climbM, unit)},{" "}
        {words.tires(formatLength(difficulty.effortM, unit))}
        {difficulty.missedShare !== null && `, ${words.misses(formatShare(difficulty.missedShare))}`}.{" "}
        {words.kept}
      </p>
      <Legs course={course} />
      <details>
        <summary>{words.rules}</summary>
        <Verdicts verdicts={verdictsOf(wish, [])} />
      </details>
      <div class="fix-line">
        <button
          type="button"
          class="button strong"
          data-test="course-take"
          onClick={() => takeCourse(course, words.name(at))}
        >
          {words.take}
        </button>
        <button
          type="button"
          class="button edged"
          data-test="course-save"
          onClick={() => void saveCourses(all)}
        >
          {words.save(all.length)}
        </button>
        <button
          type="button"
          class="button edged"
          data-test="course-sheets"
          onClick={() => coursePrint("courses")}
        >
          {words.print}
        </button>
      </div>
    </div>
  );
}

const Which = ({ count }: { readonly count: number }) => (
  <div class="fix-line">
    {Array.from({ length: count }, (_, i) => (
      <button
        key={i}
        type="button"
        class="button edged small"
        aria-pressed={i === shownCourse.value}
        onClick={() => (shownCourse.value = i)}
      >
        {words.name(i)}
      </button>
    ))}
  </div>
);

function Legs({ course: { legs, points } }: { readonly course: Course }) {
  const unit = lengthUnit.value;
  return (
    <ol class="fix-rows">
      {legs.map(({ from, to, figures, odds }, i) => {
        // On the way home the point it comes from is what can be moved; of a star each has a leg out.
        const moved = to || (legs[i - 1]?.from === 0 ? 0 : from);
        return (
          <li key={i} data-test="course-leg">
            <b>{words.leg(pointName(from), pointName(to))}</b> {formatBearing(figures.bearingMagneticDeg)}{" "}
            {words.magnetic}, {formatLength(figures.distanceM, unit)}
            {odds ? `, ${words.finds(formatShare(odds.find))}` : ""}; {points[to]?.words}{" "}
            {moved > 0 && (
              <button
                type="button"
                class="button edged small"
                aria-label={words.anew(pointName(from), pointName(to), moved)}
                title={words.anew(pointName(from), pointName(to), moved)}
                onClick={() => anotherPlace(moved)}
              >
                {words.anewShort}
              </button>
            )}
          </li>
        );
      })}
    </ol>
  );
}
