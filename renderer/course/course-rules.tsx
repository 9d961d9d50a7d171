/** Every rule of a course with whether it is kept; of the walk, while its points are dragged. */
import type { Verdict } from "../../core/course/verdicts.ts";
import { Fault } from "../../core/fault.ts";
import { courseWords as words } from "../words/course-words.ts";
import { walkChecked } from "./course-state.ts";
import { coursePrint } from "./open-sheets.ts";

export function Verdicts({ verdicts }: { readonly verdicts: readonly Verdict[] }) {
  return (
    <ul class="course-verdicts">
      {verdicts.map(({ rule, words: asked, broken }) => (
        <li key={rule} class={broken.length > 0 ? "course-broken" : ""} data-test={`rule-${rule}`}>
          <span class="course-sign" aria-hidden="true">
            {broken.length > 0 ? words.signs.broken : words.signs.kept}
          </span>{" "}
          {words.verdict(asked, broken.length === 0)}
          {broken.length > 0 && (
            <ul>
              {broken.map((one) => (
                <li key={one.words} class="sum-fault">
                  {one.words}
                </li>
              ))}
            </ul>
          )}
        </li>
      ))}
    </ul>
  );
}

export function WalkRules() {
  const now = walkChecked.value;
  if (!now) return null;
  return (
    <div class="fix-result" role="status" data-test="course-rules">
      <h3>{words.checked}</h3>
      {now instanceof Fault ? (
        <p class="sum-fault">
          {now.what} {now.remedy}
        </p>
      ) : (
        <>
          <p>{now.broken.length === 0 ? words.kept : words.brokenCount(now.broken.length)}</p>
          <Verdicts verdicts={now.verdicts} />
          <div class="fix-line">
            <button
              type="button"
              class="button edged small"
              data-test="course-walk-sheets"
              onClick={() => coursePrint("walk")}
            >
              {words.printWalk}
            </button>
          </div>
        </>
      )}
    </div>
  );
}
