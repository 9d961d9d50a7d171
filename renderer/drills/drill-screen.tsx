/** The practice screen: left the question, right what is asked; below it the sheet and its key for paper. */
import { useEffect, useState } from "preact/hooks";
import { DRILL_CAUTIONS } from "../../core/course/cautions.ts";
import { Fault } from "../../core/fault.ts";
import { hostInfo } from "../app/host-info.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { Frame } from "../dialogs/frame.tsx";
import { host } from "../host/host.ts";
import { drillWords } from "../words/drill-words.ts";
import { DrillChoices } from "./drill-choices.tsx";
import { drillWish, followDrill, questions } from "./drill-state.ts";
import { Practice } from "./practice.tsx";
import { drawWorksheet } from "./worksheet-pages.ts";
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
  const [said, setSaid] = useState<string | null>(null);
  const [fault, setFault] = useState<Fault | null>(null);
  const [busy, setBusy] = useState(false);
  const wish = drillWish.value;
  const off = busy || !wish || questions.value.kind !== "ready";

  const run = async (
    part: "learner" | "key",
    use: (key: string) => Promise<string | null>,
  ): Promise<void> => {
    if (!wish) return;
    setBusy(true);
    setFault(null);
    setSaid(print.working);
    try {
      const { key } = await drawWorksheet(wish, [part]);
      setSaid(await use(key));
    } catch (thrown) {
      setSaid(null);
      const met = Fault.from(thrown);
      if (met.code !== "cancelled") setFault(met);
    } finally {
      setBusy(false);
    }
  };
  const save = (part: "learner" | "key"): Promise<void> =>
    run(part, async (key) => {
      const { sheetName, keyName } = print;
      const name = fileNameFrom((part === "key" ? keyName : sheetName)(wish?.seed ?? 1), ".pdf");
      const title = part === "key" ? print.keyTitle : print.sheetTitle;
      const handle = await saveSomewhere(title, name, (choice) => host.saveSheets(key, "pdf", name, choice));
      return handle && print.done(handle.name);
    });
  return (
    <div class="dialog-buttons print-foot">
      <p role="status" data-test="drill-print-said">
        {said ?? ""}
      </p>
      {fault && (
        <p class="choice-fault" role="alert">
          {fault.message}
        </p>
      )}
      <span class="spread" />
      <button type="button" class="button" data-test="drill-close" onClick={() => answer(null)}>
        {drillWords.close}
      </button>
      <button
        type="button"
        class="button edged"
        disabled={off}
        data-test="drill-key"
        onClick={() => void save("key")}
      >
        {print.key}
      </button>
      {hostInfo.value?.host === "electron" && (
        <button
          type="button"
          class="button edged"
          disabled={off}
          data-test="drill-printer"
          onClick={() =>
            void run("learner", async (key) => {
              await host.printSheets(key);
              return print.printed;
            })
          }
        >
          {print.toPrinter}
        </button>
      )}
      <button
        type="button"
        class="button strong"
        disabled={off}
        data-test="drill-sheet"
        onClick={() => void save("learner")}
      >
        {print.sheet}
      </button>
    </div>
  );
}
