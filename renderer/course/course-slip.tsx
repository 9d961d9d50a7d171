/** The slip for practice courses: what is asked for, what was set and drawn over the map, and the rules of the walk. */
import { createPortal } from "preact/compat";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import type { Course } from "../../core/course/course.ts";
import { CAUTIONS } from "../../core/legs/cautions.ts";
import { picking } from "../fix/fix-state.ts";
import { mapView } from "../map/view-state.ts";
import { courseWords as words } from "../words/course-words.ts";
import "../fix/fix.css";
import "../sums/sums.css";
import "./course.css";
import { CourseAsked, PICKED } from "./course-asked.tsx";
import { CourseDrawing } from "./course-drawing.tsx";
import { CourseMade } from "./course-made.tsx";
import { WalkRules } from "./course-rules.tsx";
import { closeCourse, courseOpen, courses, courseSaid, shownCourse } from "./course-state.ts";

export const CourseSlip = () => (courseOpen.value ? <Slip /> : null);

function Slip() {
  const leave = useRef<HTMLButtonElement>(null);
  // Escape, and the keyboard, are the slip's from the moment it is there.
  useLayoutEffect(() => leave.current?.focus(), []);
  const said = useRef<HTMLDivElement>(null);
  const now = courses.value;
  // The sentences above may fill the slip: what came of them is brought into it.
  useEffect(() => {
    if (now.kind !== "none")
      said.current?.scrollIntoView({ block: now.kind === "ready" ? "start" : "nearest" });
  }, [now.kind]);
  const course = now.kind === "ready" ? now.all[shownCourse.value] : undefined;
  return (
    <section
      class="paper corner-slip fix-slip"
      aria-label={words.title}
      data-test="course-slip"
      onKeyDown={(event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        closeCourse();
      }}
    >
      <div class="place-head">
        <h2>{words.title}</h2>
        <button
          ref={leave}
          type="button"
          class="button place-close"
          aria-label={words.close}
          title={`${words.close} (Esc)`}
          onClick={closeCourse}
        >
          ×
        </button>
      </div>
      <p class="soft">{words.lead}</p>
      <CourseAsked />
      <div ref={said} role="status" data-test="course-said">
        {picking.value?.id === PICKED && <p>{picking.value.words}</p>}
        {now.kind === "making" && <p>{words.making(now.found, now.wanted, now.tried)}</p>}
        {now.kind === "failed" && (
          <p class="sum-fault">
            {now.fault.what} {now.fault.where ? `${words.looked(now.fault.where)} ` : ""}
            {now.fault.remedy}
          </p>
        )}
        {courseSaid.value && <p class="soft">{courseSaid.value}</p>}
      </div>
      {now.kind === "ready" && course && <CourseMade all={now.all} course={course} />}
      <WalkRules />
      <p class="soft">{CAUTIONS.join(" ")}</p>
      <OnMap course={course} />
    </section>
  );
}

function OnMap({ course }: { readonly course: Course | undefined }) {
  const map = mapView.value;
  if (!map || !course) return null;
  return createPortal(
    <div class="on-map">
      <CourseDrawing map={map} course={course} />
    </div>,
    map.getCanvasContainer(),
  );
}
