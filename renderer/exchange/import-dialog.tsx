/** Bringing in a walk: which file, what of it, how thin; seen before it is taken. */
import { useState } from "preact/hooks";
import { openMap } from "../map-case/map-case.ts";
import { bboxesMeet } from "../../core/units/position.ts";
import { Frame } from "../dialogs/frame.tsx";
import { Radio } from "../settings/entry.tsx";
import { walk } from "../walk-state/walk-document.ts";
import { exchangeWords } from "../words/exchange-words.ts";
import { words } from "../words/words.ts";
import { Candidates } from "./candidates.tsx";
import "./exchange.css";
import { clearSource, given, look, placeAtEnd, refusal, source } from "./import-state.ts";
import { LinePicture } from "./line-picture.tsx";
import { ReadingAs } from "./reading-as.tsx";
import { TableColumns } from "./table-columns.tsx";
import { takeForeign, takeForeignText, takeIn } from "./take-foreign.ts";
import { Thinning } from "./thinning.tsx";

const { in: say } = exchangeWords;

export function ImportDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  const from = source.value;
  return (
    <Frame title={say.title} wide onAway={() => answer(null)}>
      {from === null ? <Ways away={() => answer(null)} /> : <Preview name={from.name} answer={answer} />}
    </Frame>
  );
}

function Ways({ away }: { readonly away: () => void }) {
  const [text, setText] = useState("");
  return (
    <>
      <div class="import-ways" data-test="import-ways">
        <p>{say.lead}</p>
        <label class="upload">
          <span>{say.choose}</span>
          <input
            type="file"
            accept=".gpx,.kml,.kmz,.geojson,.json,.csv,.tsv,.txt"
            onChange={(event) => {
              const file = event.currentTarget.files?.[0];
              if (file) void takeForeign(file);
            }}
          />
        </label>
        <p class="soft">{say.dropHint}</p>
        <label class="stacked">
          <span>{say.paste}</span>
          <textarea
            class="field"
            rows={6}
            spellcheck={false}
            data-test="import-text"
            value={text}
            onInput={(event) => setText(event.currentTarget.value)}
          />
        </label>
      </div>
      <div class="dialog-buttons">
        <button type="button" class="button" onClick={away}>
          {words.dialogs.cancel}
        </button>
        <button
          type="button"
          class="button strong"
          data-test="import-read"
          disabled={text.trim() === ""}
          onClick={() => takeForeignText(text)}
        >
          {say.read}
        </button>
      </div>
    </>
  );
}

interface PreviewProps {
  readonly name: string;
  readonly answer: (done: true | null) => void;
}

function Preview({ name, answer }: PreviewProps) {
  const found = look.value;
  const walkOfIt = given.value?.walk ?? null;
  const ready = found?.fault === null && walkOfIt !== null;
  const take = async (): Promise<void> => {
    const now = given.peek()?.walk;
    if (now && (await takeIn(now, name, placeAtEnd.peek()))) answer(true);
  };
  return (
    <>
      <div class="import-source">
        <p data-test="import-source">{found?.format ? say.from(name, say.formats[found.format]) : name}</p>
        <button type="button" class="button edged" data-test="import-another" onClick={clearSource}>
          {say.another}
        </button>
      </div>
      {found === null ? (
        <p role="status">{say.reading(name)}</p>
      ) : (
        <div class="import">
          <div class="import-choices">
            {refusal.value && <Refused />}
            {found.candidates.length > 0 && <Candidates found={found.candidates} />}
            {found.candidates.length > 0 && <Thinning />}
            {found.table && <TableColumns table={found.table} />}
            <ReadingAs table={found.table} />
          </div>
          <div class="import-result">
            <Result />
          </div>
        </div>
      )}
      <div class="dialog-buttons import-foot">
        <fieldset class="import-to">
          <legend>{say.to}</legend>
          <Radio
            name="import-to"
            chosen={!placeAtEnd.value}
            pick={() => (placeAtEnd.value = false)}
            test="import-new"
          >
            {say.toNew}
          </Radio>
          <Radio
            name="import-to"
            chosen={placeAtEnd.value}
            pick={() => (placeAtEnd.value = true)}
            refusal={walk.value.points.length === 0 ? say.emptyWalk : null}
            test="import-end"
          >
            {say.toEnd(walk.value.title)}
          </Radio>
        </fieldset>
        <span class="spread" />
        <button type="button" class="button" onClick={() => answer(null)}>
          {words.dialogs.cancel}
        </button>
        <button
          type="button"
          class="button strong"
          data-test="import-take"
          disabled={!ready}
          onClick={() => void take()}
        >
          {say.take}
        </button>
      </div>
    </>
  );
}

function Refused() {
  const fault = refusal.value;
  if (!fault) return null;
  return (
    <p class="map-fault" role="alert" data-test="import-fault">
      {[fault.what, fault.where && `(${fault.where})`, fault.remedy].filter(Boolean).join(" ")}
    </p>
  );
}

/** What it would give: the picture, and what does not come along. */
function Result() {
  const now = given.value;
  const bounds = openMap.value?.info.bounds;
  if (!now || look.value?.fault) return null;
  const off =
    bounds && now.walk?.points.every(({ lonLat: [lon, lat] }) => !bboxesMeet([lon, lat, lon, lat], bounds));
  return (
    <>
      <div class="import-picture">
        {now.walk && <LinePicture walk={now.walk} line={now.line} />}
        {off && <p class="map-fault">{say.offMap}</p>}
      </div>
      <div class="import-told">
        <h3>{say.report}</h3>
        <ul class="exchange-report" data-test="import-report">
          {now.report.map((told) => (
            <li key={told}>{told}</li>
          ))}
          {now.report.length === 0 && <li>{say.nothing}</li>}
        </ul>
      </div>
    </>
  );
}
