import { useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { formatHeight, formatShare } from "../../core/units/format.ts";
import { hostInfo } from "../app/host-info.ts";
import { lengthUnit } from "../app/settings.ts";
import { Frame } from "../dialogs/frame.tsx";
import { TakingIn } from "../map-case/maps-dialog.tsx";
import { mapWords } from "../words/map-words.ts";
import { words } from "../words/words.ts";
import { Choices } from "./choices.tsx";
import { clearDataFiles, survey } from "./data-files.ts";
import { DataList } from "./data-list.tsx";
import "./make-map.css";
import { makeMap, type Making, making, stopMaking } from "./making.ts";
import { clearFields, featuresApart, fields, orderOf } from "./order.ts";

const { making: say } = mapWords;

/** From a person's files to a map of the case. */
export function MakeMapDialog({ answer }: { readonly answer: (done: true | null) => void }) {
  const [failed, setFailed] = useState<Fault | null>(null);
  const now = making.value;
  const start = async (): Promise<void> => {
    const order = orderOf(fields.peek());
    if (typeof order === "string") return;
    setFailed(null);
    const made = await makeMap(order);
    if (made instanceof Fault) return setFailed(made);
    if (made === null) return;
    clearDataFiles();
    clearFields();
    answer(true);
  };
  return (
    <Frame title={say.title} wide onAway={() => answer(null)}>
      {now ? (
        <Progress now={now} away={() => answer(null)} />
      ) : (
        <Form start={start} failed={failed} away={() => answer(null)} />
      )}
    </Frame>
  );
}

interface FormProps {
  readonly start: () => Promise<void>;
  readonly failed: Fault | null;
  readonly away: () => void;
}

function Form({ start, failed, away }: FormProps) {
  const order = orderOf(fields.value);
  const missing = typeof order === "string" ? order : null;
  const info = hostInfo.value;
  return (
    <>
      <div class="making">
        {failed && (
          <p class="map-fault" role="alert" data-test="making-failed">
            {[say.failed, failed.what, failed.where && `(${failed.where})`, failed.remedy]
              .filter(Boolean)
              .join(" ")}
          </p>
        )}
        <DataList as="elevation" />
        <Survey />
        <DataList as="features" />
        {featuresApart() && <p class="map-fault">{say.apart}</p>}
        <Choices />
        <p class="soft">{info?.dialogs === "page" ? say.folder(info.folderName) : say.folderPlain}</p>
      </div>
      <TakingIn />
      <div class="dialog-buttons">
        <p class="soft" id="make-map-missing" role="status" data-test="make-missing">
          {missing}
        </p>
        <span class="spread" />
        <button type="button" class="button" onClick={away}>
          {words.dialogs.close}
        </button>
        <button
          type="button"
          class="button strong"
          data-test="start-making"
          disabled={missing !== null}
          aria-describedby="make-map-missing"
          onClick={() => void start()}
        >
          {say.start}
        </button>
      </div>
    </>
  );
}

function Survey() {
  const found = survey.value;
  if (found === null) return null;
  if (found instanceof Fault)
    return <p class="map-fault">{[found.what, found.remedy].filter(Boolean).join(" ")}</p>;
  if (!found.heights) return <p class="soft">{say.heightsLater}</p>;
  const { lowestM, highestM, voidShare } = found.heights;
  const height = (metres: number): string => formatHeight(metres, lengthUnit.value);
  return (
    <p data-test="survey">
      {say.heights(height(lowestM), height(highestM))}
      {voidShare > 0 && ` ${say.voids(formatShare(voidShare, voidShare < 0.01 ? 2 : 0))}`}
    </p>
  );
}

function Progress({ now, away }: { readonly now: Making; readonly away: () => void }) {
  const { stage, done, leftS } = now.state;
  return (
    <>
      <h3>{say.running(now.title)}</h3>
      <p role="status" data-test="making-stage">
        {now.stopping ? say.stopping : say.stage(stage, formatShare(done))}
      </p>
      <progress class="waiting-bar" value={done} max={1} aria-label={say.running(now.title)} />
      <p class="soft" data-test="making-left">
        {leftS === null ? say.leftUnknown : say.left(leftS)}
      </p>
      <div class="dialog-buttons">
        <button type="button" class="button" onClick={away}>
          {say.meanwhile}
        </button>
        <button
          type="button"
          class="button strong"
          data-test="stop-making"
          disabled={now.stopping}
          onClick={() => void stopMaking()}
        >
          {say.stop}
        </button>
      </div>
    </>
  );
}
