/** Work that was not saved when the program ended: taken up, thrown away, or left for later. */
import { useState } from "preact/hooks";
import { parseWalk } from "../../core/walk/walk-file.ts";
import type { FoundDraft } from "../../electron/contract.ts";
import { sayFault } from "../app/notices.ts";
import { mayLeaveWalk } from "../app/walk-files.ts";
import { ask } from "../dialogs/dialogs.ts";
import { Frame } from "../dialogs/frame.tsx";
import { host } from "../host/host.ts";
import { pickLeg } from "../walk-state/selection.ts";
import { today } from "../walk-state/today.ts";
import { openDocument } from "../walk-state/walk-document.ts";
import { savingWords } from "../words/saving-words.ts";
import { keepNow } from "./keep-drafts.ts";
import { LookAt, walkIn, whenText } from "./look-at.tsx";

interface Props {
  readonly drafts: readonly FoundDraft[];
  readonly answer: (done: true | null) => void;
}

/** Puts it on the table; it is the old window's until it is kept as this one's. @returns whether it is there */
async function takeUp({ id, title }: FoundDraft): Promise<boolean> {
  const { text, file, readOnly } = await host.takeDraft(id);
  const { walk, newer, foreign } = parseWalk(text, title, today());
  if (!(await mayLeaveWalk())) return false;
  openDocument(walk, file && { handle: file, locked: readOnly || newer || foreign }, false);
  pickLeg(0);
  await keepNow();
  await host.dropDraft(id);
  return true;
}

async function throwAway({ id, title }: FoundDraft): Promise<boolean> {
  const answer = await ask("question", {
    title: savingWords.reallyTitle(title),
    text: savingWords.reallyText,
    buttons: [{ id: "away", label: savingWords.really }],
  });
  if (answer !== "away") return false;
  await host.dropDraft(id);
  return true;
}

export function RecoveryDialog({ drafts, answer }: Props) {
  const [left, setLeft] = useState(drafts);
  const run = async (draft: FoundDraft, what: (draft: FoundDraft) => Promise<boolean>): Promise<void> => {
    try {
      if (!(await what(draft))) return;
    } catch (thrown) {
      sayFault(thrown);
      return;
    }
    const rest = left.filter(({ id }) => id !== draft.id);
    setLeft(rest);
    if (rest.length === 0) answer(true);
  };
  return (
    <Frame title={savingWords.foundTitle} wide onAway={() => answer(null)}>
      <p>{savingWords.foundLead}</p>
      <ul class="kept-list" data-test="recovery">
        {left.map((draft) => (
          <LookAt
            key={draft.id}
            head={[
              draft.title,
              draft.fileName === null ? savingWords.neverSaved : savingWords.ofFile(draft.fileName),
              savingWords.when(whenText(draft.at)),
            ].join(" · ")}
            text={draft.text}
            against={walkIn(draft.saved)}
          >
            <button type="button" class="button edged" onClick={() => void run(draft, throwAway)}>
              {savingWords.throwAway}
            </button>
            <button type="button" class="button strong" onClick={() => void run(draft, takeUp)}>
              {savingWords.takeUp}
            </button>
          </LookAt>
        ))}
      </ul>
      <div class="dialog-buttons">
        <span class="soft">{savingWords.differsFromFile}</span>
        <span class="spread" />
        <button type="button" class="button" onClick={() => answer(null)}>
          {savingWords.later}
        </button>
      </div>
    </Frame>
  );
}
