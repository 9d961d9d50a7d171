/** The print screen: left the pages exactly as they print, right what is chosen, in plain words. */
import { useEffect } from "preact/hooks";
import { CAUTIONS } from "../../core/legs/cautions.ts";
import { Frame } from "../dialogs/frame.tsx";
import { openMap, shownSheet } from "../map-case/map-case.ts";
import { walk } from "../walk-state/walk-document.ts";
import { printWords } from "../words/print-words.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { Choices } from "./choices.tsx";
import { PageView } from "./page-view.tsx";
import { hasLeg, placing } from "./print-state.ts";
import { PagesFoot } from "./saving.tsx";
import { walkPages } from "./walk-pages.ts";
import "./print.css";

export function PrintScreen({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(walkPages.follow, []);
  // On the map sheets are moved without this screen over it.
  const away = placing.value;
  useEffect(() => {
    if (away) answer(null);
  }, [away, answer]);
  return (
    <Frame title={printWords.title} wide onAway={() => answer(null)}>
      <div class="print-screen" data-test="print-screen">
        <PageView of={walkPages} hint={lacking()} />
        <div class="print-choices">
          <Choices />
          <Notes />
        </div>
      </div>
      <PagesFoot of={walkPages} name={walk.value.title} close={printWords.close} away={() => answer(null)} />
    </Frame>
  );
}

/** What the pages lack, as they are now. */
function lacking(): string | null {
  const map = openMap.value;
  const sheetHint = map ? sheetWords.paperGround(map.info.title) : sheetWords.paperBare;
  const mapHint = shownSheet.value ? sheetHint : map ? null : printWords.pages.noMap;
  return hasLeg.value ? mapHint : printWords.pages.noWalk;
}

/** What a person should know before printing. */
function Notes() {
  const now = walkPages.pages.value;
  const notes = now.kind === "ready" ? now.set.notes : [];
  return (
    <section class="print-part" aria-label={printWords.notes} data-test="print-notes">
      <h3>{printWords.notes}</h3>
      {[...notes, printWords.save.trueSize].map((note) => (
        <p key={note}>{note}</p>
      ))}
      <p class="soft">{CAUTIONS.join(" ")}</p>
    </section>
  );
}
