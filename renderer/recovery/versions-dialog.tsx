/** Versions kept of saved walks: of the open one, and of others, whose files may be gone. */
import { useEffect, useMemo, useState } from "preact/hooks";
import { formatWalk, parseWalk } from "../../core/walk/walk-file.ts";
import { KEPT_VERSIONS, type KeptVersion, type KeptWalk } from "../../electron/contract.ts";
import { say, sayFault } from "../app/notices.ts";
import { changeSettings, settings } from "../app/settings.ts";
import { mayLeaveWalk } from "../app/walk-files.ts";
import { Frame } from "../dialogs/frame.tsx";
import { host } from "../host/host.ts";
import { pickLeg } from "../walk-state/selection.ts";
import { today } from "../walk-state/today.ts";
import { edit, openDocument, walk, walkFile } from "../walk-state/walk-document.ts";
import { savingWords } from "../words/saving-words.ts";
import { LookAt, walkIn, whenText } from "./look-at.tsx";

export function VersionsDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  const [walks, setWalks] = useState<readonly KeptWalk[]>([]);
  // As a file has it: what writing rounds off is no difference.
  const table = useMemo(() => walkIn(formatWalk(walk.value)), [walk.value]);
  const [open, setOpen] = useState<string | null>(null);
  const [shown, setShown] = useState<string | null>(null);
  const [versions, setVersions] = useState<readonly KeptVersion[]>([]);
  useEffect(() => {
    host.keptWalks(walkFile.peek()?.handle ?? null).then((kept) => {
      const isKept = kept.walks.some(({ key }) => key === kept.open);
      setWalks(kept.walks);
      setOpen(kept.open);
      setShown(isKept ? kept.open : (kept.walks[0]?.key ?? null));
    }, sayFault);
  }, []);
  useEffect(() => {
    if (shown === null) return;
    let still = true;
    host.keptVersions(shown).then((list) => still && setVersions(list), sayFault);
    return () => void (still = false);
  }, [shown]);
  const bringBack = async ({ at, text }: KeptVersion): Promise<void> => {
    const when = whenText(at);
    try {
      const { walk: read } = parseWalk(text, when, today());
      if (shown === open) edit(savingWords.broughtBack(when), () => read);
      else {
        if (!(await mayLeaveWalk())) return;
        openDocument(read, null, false);
        pickLeg(0);
      }
      say(savingWords.isBack(when));
      answer(true);
    } catch (thrown) {
      sayFault(thrown);
    }
  };
  return (
    <Frame title={savingWords.versionsTitle} wide onAway={() => answer(null)}>
      <p>{savingWords.versionsLead}</p>
      {walks.length === 0 ? (
        <p class="soft">{savingWords.none}</p>
      ) : (
        <label class="stacked">
          <span>{savingWords.walk}</span>
          <select
            class="field"
            value={shown ?? ""}
            onChange={(event) => setShown(event.currentTarget.value)}
            data-test="kept-walk"
          >
            {walks.map(({ key, name, folder, there }) => (
              <option key={key} value={key}>
                {there ? savingWords.inFolder(name, folder) : savingWords.gone(name)}
              </option>
            ))}
          </select>
        </label>
      )}
      <ul class="kept-list" data-test="versions">
        {versions.map((version) => (
          <LookAt key={version.number} head={whenText(version.at)} text={version.text} against={table}>
            <button type="button" class="button edged" onClick={() => void bringBack(version)}>
              {savingWords.bringBack}
            </button>
          </LookAt>
        ))}
      </ul>
      <div class="dialog-buttons">
        <label>
          {savingWords.most}{" "}
          <select
            class="field"
            value={settings.value.keptVersions}
            onChange={(event) => changeSettings({ keptVersions: Number(event.currentTarget.value) })}
          >
            {KEPT_VERSIONS.map((most) => (
              <option key={most} value={most}>
                {most}
              </option>
            ))}
          </select>
        </label>
        <span class="soft">{versions.length > 0 && savingWords.differsFromTable}</span>
        <span class="spread" />
        <button type="button" class="button strong" onClick={() => answer(true)}>
          {savingWords.close}
        </button>
      </div>
    </Frame>
  );
}
