/** The practice screen: left the question, right what is asked; below it the sheet and its key for paper. */
import { useEffect } from "preact/hooks";
import { DRILL_CAUTIONS } from "../../core/course/cautions.ts";
import { Frame } from "../dialogs/frame.tsx";
import {
  hasPrinter,
  pagesToFile,
  pagesToPrinter,
  PagesButton,
  SavingFoot,
  useSaving,
} from "../print/saving.tsx";
import { drillWords } from "../words/drill-words.ts";
import { DrillChoices } from "./drill-choices.tsx";
import { drillWish, followDrill, orderOf, questions } from "./drill-state.ts";
import { Practice } from "./practice.tsx";
import "../print/print.css";
import "../sums/sums.css";
import "./drills.css";

const { print } = drillWords;

export function DrillScreen({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(followDrill, []);
  const now = questions.value;
  return (
    <Frame title={drillWords.title} wide onAway={() => answer(null)}>
      <p class="soft">{drillWords.lead}</p>
      <div class="print-screen drill-screen" data-test="drill-screen">
        <div class="drill-side">
          {now.kind === "making" && <p role="status">{drillWords.making}</p>}
          {now.kind === "failed" && (
            <p class="sum-fault" role="alert" data-test="drill-fault">
              {drillWords.failed} {now.fault.what} {now.fault.where ?? ""} {now.fault.remedy ?? ""}
            </p>
          )}
          {now.kind === "ready" && <Practice sheet={now.sheet} />}
        </div>
        <div class="print-choices">
          <DrillChoices />
          <Notes />
        </div>
      </div>
      <Foot answer={answer} />
    </Frame>
  );
}

function Notes() {
  const now = questions.value;
  const notes = now.kind === "ready" ? now.sheet.notes : [];
  return (
    <>
      {notes.length > 0 && (
        <section class="print-part" data-test="drill-notes">
          <h3>{drillWords.notes}</h3>
          {notes.map((note) => (
            <p key={note}>{note}</p>
          ))}
        </section>
      )}
      <section class="print-part">
        <p class="soft">{drillWords.measure}</p>
        <p class="soft">{DRILL_CAUTIONS.join(" ")}</p>
      </section>
    </>
  );
}

function Foot({ answer }: { readonly answer: (done: true | null) => void }) {
  const saving = useSaving();
  const wish = drillWish.value;
  const off = saving.busy || !wish || questions.value.kind !== "ready";

  const run = (part: "learner" | "key", use: (key: string) => Promise<string | null>): void => {
    if (wish) void saving.run(async ({ draw }) => use((await draw(orderOf(wish, [part]))).key));
  };
  const save = (part: "learner" | "key"): void => {
    const { sheetName, keyName } = print;
    const name = (part === "key" ? keyName : sheetName)(wish?.seed ?? 1);
    const title = part === "key" ? print.keyTitle : print.sheetTitle;
    run(part, async (key) => {
      const said = await pagesToFile(key, "pdf", name, title);
      return said && `${said} ${print.atSize}`;
    });
  };
  return (
    <SavingFoot saving={saving} test="drill-print">
      <button type="button" class="button" data-test="drill-close" onClick={() => answer(null)}>
        {drillWords.close}
      </button>
      <PagesButton off={off} test="drill-key" run={() => save("key")}>
        {print.key}
      </PagesButton>
      {hasPrinter() && (
        <PagesButton off={off} test="drill-printer" run={() => run("learner", pagesToPrinter)}>
          {print.toPrinter}
        </PagesButton>
      )}
      <PagesButton strong off={off} test="drill-sheet" run={() => save("learner")}>
        {print.sheet}
      </PagesButton>
    </SavingFoot>
  );
}
