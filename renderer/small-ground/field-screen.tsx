/** The screen for small ground: left the sheets exactly as they print, right what is set, with its picture. No map is needed. */
import { useEffect } from "preact/hooks";
import { FIELD_CAUTIONS } from "../../core/course/cautions.ts";
import type { FieldCourse } from "../../core/course/small-ground.ts";
import { Fault } from "../../core/fault.ts";
import { COURSE_PARTS } from "../../core/sheet/course/sheet-blocks.ts";
import { formatQuantity } from "../../core/units/format.ts";
import { ask } from "../dialogs/dialogs.ts";
import { Frame } from "../dialogs/frame.tsx";
import { Paper } from "../print/choices.tsx";
import { PageView } from "../print/page-view.tsx";
import { PagesFoot } from "../print/saving.tsx";
import { Tick } from "../print/tick.tsx";
import { fieldWords } from "../words/field-words.ts";
import { FieldChoices } from "./field-choices.tsx";
import { FieldPicture } from "./field-picture.tsx";
import { chooseField, fieldChoices, fieldPages, fieldSet } from "./field-state.ts";
import { scored } from "./score-state.ts";
import "../print/print.css";
import "../sums/sums.css";
import "./small-ground.css";

export function FieldScreen({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(fieldPages.follow, []);
  const course = fieldSet.value;
  return (
    <Frame title={fieldWords.title} wide onAway={() => answer(null)}>
      <div class="print-screen field-screen" data-test="field-screen">
        <PageView of={fieldPages} />
        <div class="print-choices">
          <p class="soft">{fieldWords.lead}</p>
          <FieldChoices />
          {course instanceof Fault ? (
            <p class="sum-fault" role="alert" data-test="field-fault">
              {fieldWords.fails} {course.what} {course.remedy ?? ""}
            </p>
          ) : (
            <Made course={course} />
          )}
          <Sheets />
          <Paper />
          <section class="print-part">
            <p class="soft">{FIELD_CAUTIONS.join(" ")}</p>
          </section>
        </div>
      </div>
      <PagesFoot
        of={fieldPages}
        name={fieldWords.fileName(fieldChoices.value.seed)}
        close={fieldWords.close}
        away={() => answer(null)}
      />
    </Frame>
  );
}

function Made({ course }: { readonly course: FieldCourse }) {
  const { closing } = course;
  return (
    <section class="print-part">
      <FieldPicture course={course} />
      <p class="soft">{fieldWords.pictureText}</p>
      {closing && (
        <p role="status" data-test="field-closing">
          {closing.distanceM < 0.001
            ? fieldWords.closes
            : fieldWords.closesBy(formatQuantity(closing.distanceM, "m", 1))}
        </p>
      )}
      <p>
        <button
          type="button"
          class="button small edged"
          data-test="field-score"
          onClick={() => {
            scored.value = "field";
            void ask("scoring", null);
          }}
        >
          {fieldWords.scoreThese}
        </button>
      </p>
    </section>
  );
}

function Sheets() {
  const { parts } = fieldChoices.value;
  return (
    <fieldset class="print-part">
      <legend>{fieldWords.sheets}</legend>
      {COURSE_PARTS.map((part) => (
        <Tick
          key={part}
          on={parts.includes(part)}
          turn={(on) =>
            chooseField({ parts: COURSE_PARTS.filter((one) => (one === part ? on : parts.includes(one))) })
          }
          test={`field-${part}`}
        >
          {fieldWords.parts[part]}
        </Tick>
      ))}
    </fieldset>
  );
}
