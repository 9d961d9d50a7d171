/** The print screen: left the pages exactly as they print, right what is chosen, in plain words. */
import { useEffect, useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { CAUTIONS } from "../../core/legs/cautions.ts";
import type { PageFileKind } from "../../electron/contract.ts";
import { hostInfo } from "../app/host-info.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { Frame } from "../dialogs/frame.tsx";
import { host } from "../host/host.ts";
import { walk } from "../walk-state/walk-document.ts";
import { printWords } from "../words/print-words.ts";
import { Choices } from "./choices.tsx";
import { followWish, pages } from "./make-pages.ts";
import { PageView } from "./page-view.tsx";
import { placing } from "./print-state.ts";
import "./print.css";

const { save } = printWords;

export function PrintScreen({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(followWish, []);
  // On the map sheets are moved without this screen over it.
  const away = placing.value;
  useEffect(() => {
    if (away) answer(null);
  }, [away, answer]);
  return (
    <Frame title={printWords.title} wide onAway={() => answer(null)}>
      <div class="print-screen" data-test="print-screen">
        <PageView />
        <div class="print-choices">
          <Choices />
          <Notes />
        </div>
      </div>
      <Foot answer={answer} />
    </Frame>
  );
}

/** What a person should know before printing. */
function Notes() {
  const now = pages.value;
  const notes = now.kind === "ready" ? now.set.notes : [];
  return (
    <section class="print-part" aria-label={printWords.notes} data-test="print-notes">
      <h3>{printWords.notes}</h3>
      {[...notes, save.trueSize].map((note) => (
        <p key={note}>{note}</p>
      ))}
      <p class="soft">{CAUTIONS.join(" ")}</p>
    </section>
  );
}

function Foot({ answer }: { readonly answer: (done: true | null) => void }) {
  const [said, setSaid] = useState<string | null>(null);
  const [fault, setFault] = useState<Fault | null>(null);
  const [busy, setBusy] = useState(false);
  const now = pages.value;
  const ready = now.kind === "ready" && now.set.pages.length > 0 ? now : null;

  const run = async (work: (key: string) => Promise<string | null>): Promise<void> => {
    if (!ready || busy) return;
    setBusy(true);
    setFault(null);
    setSaid(save.working);
    try {
      setSaid(await work(ready.key));
    } catch (thrown) {
      setSaid(null);
      const met = Fault.from(thrown);
      if (met.code !== "cancelled") setFault(met);
    } finally {
      setBusy(false);
    }
  };
  const toFile = (kind: PageFileKind): Promise<void> =>
    run(async (key) => {
      const name = fileNameFrom(walk.value.title, `.${kind}`);
      const title = kind === "pdf" ? save.pdfTitle : save.svgTitle;
      const handle = await saveSomewhere(title, name, (choice) => host.saveSheets(key, kind, name, choice));
      return handle && save.done(handle.name);
    });
  const toPrinter = (): Promise<void> =>
    run(async (key) => {
      await host.printSheets(key);
      return save.printed;
    });
  const off = !ready || busy;
  return (
    <div class="dialog-buttons print-foot">
      <p role="status" data-test="print-said">
        {said ?? ""}
      </p>
      {fault && (
        <p class="choice-fault" role="alert" data-test="print-fault">
          {fault.message}
        </p>
      )}
      <span class="spread" />
      <button type="button" class="button" data-test="print-close" onClick={() => answer(null)}>
        {printWords.close}
      </button>
      <button
        type="button"
        class="button edged"
        disabled={off}
        data-test="save-svg"
        onClick={() => void toFile("svg")}
      >
        {save.svg}
      </button>
      {hostInfo.value?.host === "electron" && (
        <button
          type="button"
          class="button edged"
          disabled={off}
          data-test="to-printer"
          onClick={() => void toPrinter()}
        >
          {save.print}
        </button>
      )}
      <button
        type="button"
        class="button strong"
        disabled={off}
        data-test="save-pdf"
        onClick={() => void toFile("pdf")}
      >
        {save.pdf}
      </button>
    </div>
  );
}
