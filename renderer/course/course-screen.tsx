/** The print screen of courses: left the sheets exactly as they print, right what is printed and what learners are given. */
import { useEffect } from "preact/hooks";
import { CAUTIONS } from "../../core/legs/cautions.ts";
import { COURSE_PARTS } from "../../core/sheet/course/sheet-blocks.ts";
import { Frame } from "../dialogs/frame.tsx";
import { Paper } from "../print/choices.tsx";
import { PageView } from "../print/page-view.tsx";
import { PagesFoot } from "../print/saving.tsx";
import { Tick } from "../print/tick.tsx";
import { Radio } from "../settings/entry.tsx";
import { walk } from "../walk-state/walk-document.ts";
import { courseWords as words } from "../words/course-words.ts";
import { coursePages } from "./course-sheets.ts";
import { chooseSheets, sheetChoices } from "./open-sheets.ts";
import "../print/print.css";

const say = words.sheets;

export function CourseScreen({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(coursePages.follow, []);
  const { parts, give, of } = sheetChoices.value;
  const now = coursePages.pages.value;
  return (
    <Frame title={say.title} wide onAway={() => answer(null)}>
      <div class="print-screen" data-test="course-screen">
        <PageView of={coursePages} hint={parts.length === 0 ? say.none : null} />
        <div class="print-choices">
          <fieldset class="print-part">
            <legend>{say.heading}</legend>
            {COURSE_PARTS.map((part) => (
              <Tick
                key={part}
                on={parts.includes(part)}
                turn={(on) =>
                  chooseSheets({
                    parts: COURSE_PARTS.filter((one) => (one === part ? on : parts.includes(one))),
                  })
                }
                test={`course-${part}`}
              >
                {say.parts[part]}
              </Tick>
            ))}
          </fieldset>
          <fieldset class="print-part">
            <legend>{say.give}</legend>
            {(["legs", "map"] as const).map((one) => (
              <Radio
                key={one}
                name="course-give"
                chosen={give === one}
                pick={() => chooseSheets({ give: one })}
                test={`course-give-${one}`}
              >
                {say.gives[one]}
              </Radio>
            ))}
          </fieldset>
          <Paper />
          <section class="print-part">
            {(now.kind === "ready" ? now.set.notes : []).map((note) => (
              <p key={note}>{note}</p>
            ))}
            <p class="soft">{CAUTIONS.join(" ")}</p>
          </section>
        </div>
      </div>
      <PagesFoot
        of={coursePages}
        name={of === "walk" ? walk.value.title : words.title}
        close={say.close}
        away={() => answer(null)}
      />
    </Frame>
  );
}
