/** Writing for other programs: what, as what, what goes along; the text is seen before it goes to a file or the clipboard. */
import { useEffect } from "preact/hooks";
import { EXCHANGE_FORMATS } from "../../core/exchange/write-exchange.ts";
import { Fault } from "../../core/fault.ts";
import { say as notice, sayFault } from "../app/notices.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { Frame } from "../dialogs/frame.tsx";
import { host } from "../host/host.ts";
import { adviceForTable } from "../print/export-csv.ts";
import { Radio } from "../settings/entry.tsx";
import { walk } from "../walk-state/walk-document.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import { words } from "../words/words.ts";
import { copyText } from "./clipboard.ts";
import { entries } from "./choice.tsx";
import {
  format,
  keepWritten,
  subject,
  tableFormat,
  type TableFormat,
  writeAgain,
  type Written,
  written,
} from "./export-state.ts";
import { ExportParts } from "./export-parts.tsx";
import "./exchange.css";

const { out: say } = exchangeWords;
/** Lines of it that are shown. */
const SHOWN = 200;

export function ExportDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  useEffect(keepWritten, []);
  const now = written.value;
  const ready = now !== null && !(now instanceof Fault) ? now : null;
  const ending = subject.value === "walk" ? format.value : tableFormat.value;
  const packed = subject.value === "walk" && ending === "kmz";
  const copy = (): void => {
    if (!ready) return;
    const taken = copyText({ text: ready.text, ...(ready.html === null ? {} : { html: ready.html }) });
    notice(taken ? say.copied(subject.peek() === "walk" ? say.walk : say.table) : say.notCopied);
  };
  const save = async (): Promise<void> => {
    if (!ready) return;
    const name = fileNameFrom(walk.peek().title, `.${ending}`);
    try {
      const handle = await saveSomewhere(say.fileTitle, name, (choice) =>
        host.exportText(ending, ready.text, name, choice),
      );
      if (handle) notice(words.notices.exported(handle.name));
    } catch (thrown) {
      sayFault(thrown);
    }
  };
  return (
    <Frame title={say.title} wide onAway={() => answer(null)}>
      <div class="export" data-test="export">
        <div class="export-choices">
          <Subject />
          {subject.value === "walk" && <ExportParts />}
        </div>
        <div class="export-result">
          <Shown now={now} />
        </div>
      </div>
      <div class="dialog-buttons">
        <p class="soft">{packed && say.packed}</p>
        <span class="spread" />
        <button type="button" class="button" onClick={() => answer(null)}>
          {say.close}
        </button>
        <button
          type="button"
          class="button edged"
          data-test="export-copy"
          disabled={!ready || packed}
          onClick={copy}
        >
          {say.copy}
        </button>
        <button
          type="button"
          class="button strong"
          data-test="export-file"
          disabled={!ready}
          onClick={() => void save()}
        >
          {say.file}
        </button>
      </div>
    </Frame>
  );
}

function Subject() {
  return (
    <>
      <fieldset class="exchange-part">
        <legend>{say.what}</legend>
        <div class="candidates">
          <Radio
            name="export-what"
            chosen={subject.value === "walk"}
            pick={() => (subject.value = "walk")}
            test="export-walk"
          >
            {say.walk}
          </Radio>
          <Radio
            name="export-what"
            chosen={subject.value === "table"}
            pick={() => (subject.value = "table")}
            refusal={walk.value.points.length < 2 ? say.needsLeg : null}
            test="export-table"
          >
            {say.table}
          </Radio>
        </div>
      </fieldset>
      <fieldset class="exchange-part">
        <legend>{say.format}</legend>
        <div class="candidates">
          {subject.value === "walk"
            ? EXCHANGE_FORMATS.map((one) => (
                <Radio
                  key={one}
                  name="export-as"
                  chosen={format.value === one}
                  pick={() => (format.value = one)}
                  test={`as-${one}`}
                >
                  {say.formats[one]}
                </Radio>
              ))
            : entries(say.tableFormats).map(([one, text]) => (
                <Radio
                  key={one}
                  name="export-as"
                  chosen={tableFormat.value === one}
                  pick={() => (tableFormat.value = one as TableFormat)}
                  test={`as-${one}`}
                >
                  {text}
                </Radio>
              ))}
        </div>
      </fieldset>
    </>
  );
}

function Shown({ now }: { readonly now: Written | Fault | null }) {
  if (now === null)
    return (
      <p role="status" data-test="export-working">
        {say.working}
      </p>
    );
  if (now instanceof Fault)
    return (
      <p class="map-fault" role="alert" data-test="export-fault">
        {[now.what, now.remedy].filter(Boolean).join(" ")}
      </p>
    );
  const lines = now.text.split("\n");
  return (
    <>
      <h3>{say.shown(lines.length - (lines.at(-1) === "" ? 1 : 0))}</h3>
      <pre class="written" tabIndex={0} data-test="written">
        {lines.length > SHOWN ? [...lines.slice(0, SHOWN), say.more].join("\n") : now.text}
      </pre>
      {now.checked && (
        <p class="soft" data-test="export-checked">
          {say.checked}
        </p>
      )}
      {now.withoutOdds && (
        <p>
          {say.noOdds}{" "}
          <button
            type="button"
            class="button edged"
            data-test="export-odds"
            onClick={() =>
              void adviceForTable()
                .then((advice) => advice !== "cancelled" && advice && writeAgain(advice))
                .catch(sayFault)
            }
          >
            {say.waitOdds}
          </button>
        </p>
      )}
      {now.report.length > 0 && (
        <>
          <h3>{say.report}</h3>
          <ul class="exchange-report" data-test="export-report">
            {now.report.map((told) => (
              <li key={told}>{told}</li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}
