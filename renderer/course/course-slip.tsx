/** The slip for practice courses, and the course over the map. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { createPortal } from "preact/compat";
import { COURSE_KINDS, COURSE_LEVELS, type Course, LEVEL_RULES } from "../../core/course/course.ts";
import { Fault } from "../../core/fault.ts";
import { CAUTIONS } from "../../core/legs/cautions.ts";
import { COURSE_PARTS } from "../../core/sheet/course/sheet-blocks.ts";
import { formatBearing, formatHeight, formatLength, formatShare } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { pathOf, pixelsOf } from "../fix/drawing.ts";
import { mapMoves, mapView } from "../map/view-state.ts";
import { Choice, Entry } from "../settings/entry.tsx";
import { readNumber } from "../settings/read-entry.ts";
import { walk } from "../walk-state/walk-document.ts";
import { courseWords as words } from "../words/course-words.ts";
import "../fix/fix.css";
import "../sums/sums.css";
import { saveCourseSheet } from "./course-sheets.ts";
import {
  anotherPlace,
  cancelCourse,
  chooseCourse,
  courseChoices,
  courseOpen,
  courses,
  courseSaid,
  makeCourses,
  shownCourse,
  takeCourse,
  walkChecked,
} from "./course-state.ts";

const pointName = (n: number): string => (n === 0 ? words.startName : String(n));

/** @throws Fault "bad-argument" for what is no whole number within the bounds */
function whole(text: string, least: number, most: number): number {
  const value = readNumber(text, String(least));
  if (Number.isInteger(value) && value >= least && value <= most) return value;
  throw new Fault("bad-argument", `A whole number from ${least} to ${most} is needed, not ${text.trim()}.`);
}

export function CourseSlip() {
  if (!courseOpen.value) return null;
  const [map, now] = [mapView.value, courses.value];
  const course = now.kind === "ready" ? now.all[shownCourse.value] : undefined;
  const close = (): void => {
    cancelCourse();
    courseOpen.value = false;
  };
  return (
    <section
      class="paper corner-slip fix-slip"
      aria-label={words.title}
      data-test="course-slip"
      onKeyDown={(event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        close();
      }}
    >
      <div class="place-head">
        <h2>{words.title}</h2>
        <button
          type="button"
          class="button place-close"
          aria-label={words.close}
          title={`${words.close} (Esc)`}
          onClick={close}
        >
          ×
        </button>
      </div>
      <p class="soft">{words.lead}</p>
      <Asked />
      <div role="status" data-test="course-said">
        {now.kind === "making" && <p>{words.making}</p>}
        {now.kind === "failed" && (
          <p class="sum-fault">
            {now.fault.what} {now.fault.remedy}
          </p>
        )}
        {courseSaid.value && <p class="soft">{courseSaid.value}</p>}
      </div>
      {now.kind === "ready" && course && <Made all={now.all} course={course} />}
      <WalkRules />
      <p class="soft">{CAUTIONS.join(" ")}</p>
      {map &&
        course &&
        createPortal(
          <div class="on-map">
            <Drawing map={map} course={course} />
          </div>,
          map.getCanvasContainer(),
        )}
    </section>
  );
}

function Asked() {
  const { kind, level, points, legM, count, seed, start } = courseChoices.value;
  const making = courses.value.kind === "making";
  const starts = (walk.value.points.length > 0 ? (["view", "walk"] as const) : (["view"] as const)).map(
    (one) => [one, words.starts[one]] as const,
  );
  return (
    <>
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
          options={starts}
          pick={(one) => chooseCourse({ start: one })}
          test="course-start"
        />
        ,{" "}
        <Choice
          label={words.level}
          value={level}
          options={COURSE_LEVELS.map((one) => [one, words.levels[one]] as const)}
          pick={(one) => chooseCourse({ level: one, legM: LEVEL_RULES[one].legM })}
          test="course-level"
        />
        , {words.legs}{" "}
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
          take={(text) => chooseCourse({ seed: whole(text, 1, 9999) })}
          test="course-seed"
        />
      </p>
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
          <button type="button" class="button edged" onClick={cancelCourse}>
            {words.cancel}
          </button>
        ) : (
          <button
            type="button"
            class="button edged"
            onClick={() => {
              chooseCourse({ seed: (seed % 9999) + 1 });
              makeCourses();
            }}
          >
            {words.another}
          </button>
        )}
      </div>
    </>
  );
}

function Made({ all, course }: { readonly all: readonly Course[]; readonly course: Course }) {
  const at = shownCourse.value;
  const unit = lengthUnit.value;
  return (
    <div class="fix-result" data-test="course-made">
      {all.length > 1 && (
        <div class="fix-line">
          {all.map((_, i) => (
            <button
              key={i}
              type="button"
              class="button edged small"
              aria-pressed={i === at}
              onClick={() => (shownCourse.value = i)}
            >
              {words.name(i)}
            </button>
          ))}
        </div>
      )}
      <p>
        <b>{words.name(at)}</b>: {formatLength(course.distanceM, unit)}, ↑ {formatHeight(course.climbM, unit)}
        . {words.kept}
      </p>
      <ol class="fix-rows">
        {course.legs.map(({ from, to, figures, odds }, i) => (
          <li key={i} data-test="course-leg">
            <b>{words.leg(pointName(from), pointName(to))}</b> {formatBearing(figures.bearingMagneticDeg)}{" "}
            (M), {formatLength(figures.distanceM, unit)}
            {odds ? `, ${words.finds(formatShare(odds.find))}` : ""}; {course.points[to]?.words}{" "}
            {to > 0 && (
              <button
                type="button"
                class="button edged small"
                aria-label={words.anew(to)}
                onClick={() => anotherPlace(to)}
              >
                {words.anewShort}
              </button>
            )}
          </li>
        ))}
      </ol>
      <button
        type="button"
        class="button strong"
        data-test="course-take"
        onClick={() => takeCourse(course, words.name(at))}
      >
        {words.take}
      </button>
      <div class="fix-line">
        <span>{words.paper}</span>
        {COURSE_PARTS.map((part) => (
          <button
            key={part}
            type="button"
            class="button edged small"
            data-test={`course-${part}`}
            onClick={() => void saveCourseSheet(all, part)}
          >
            {words.parts[part]}
          </button>
        ))}
      </div>
    </div>
  );
}

/** The rules of the walk, while its points are dragged. */
function WalkRules() {
  const now = walkChecked.value;
  if (!now) return null;
  const said = now instanceof Fault ? [now.what] : now.broken.map((one) => one.words);
  return (
    <div class="fix-result" role="status" data-test="course-rules">
      <h3>{words.checked}</h3>
      {said.length === 0 ? (
        <p>{words.kept}</p>
      ) : (
        said.map((text) => (
          <p key={text} class="sum-fault">
            {text}
          </p>
        ))
      )}
    </div>
  );
}

function Drawing({ map, course: { points, legs } }: { readonly map: MapLibreMap; readonly course: Course }) {
  // Read so that the drawing moves with the map.
  void mapMoves.value;
  const paths = legs.map(({ from, to }) =>
    pathOf(
      map,
      [points[from], points[to]].flatMap((point) => (point ? [point.lonLat] : [])),
    ),
  );
  return (
    <svg class="fan" role="img" aria-label={words.drawn(legs.length)} data-test="course-drawing">
      {["fan-casing", "fan-line"].map((layer) =>
        paths.map((d, i) => <path key={`${layer}${i}`} class={layer} d={d} />),
      )}
      {points.map(({ lonLat }, n) => {
        const { x, y } = pixelsOf(map)(lonLat);
        return (
          <g key={n} class="fix-spot">
            <circle cx={x} cy={y} r={11} />
            <text x={x} y={y} dy="0.35em" text-anchor="middle">
              {n === 0 ? "S" : n}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
